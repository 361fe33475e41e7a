// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_SURFACE_ACCURACY_H
#define LOAMWAY_TESTS_BUILD_SURFACE_ACCURACY_H

// How well surfaces are guessed where they are known: the surface tags of half the ways are hidden, the other
// half teaches, and the hidden ones are asked; or one extract teaches and another, all its tags hidden, is
// asked.

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <string>

#include "../../src/build/surface_lessons.h"
#include "loamway/profile/recipe.h"

namespace loamway::test {

/// Weighted by km.
struct SurfaceScore {
    struct Bin {
        double km = 0.0, expected = 0.0, hard = 0.0;
    };
    double km = 0.0;
    double right = 0.0;  // hard or not
    double right_class = 0.0;
    double log_loss = 0.0;       // natural, of the three classes
    double brier = 0.0;          // of hard
    std::array<Bin, 10> bins{};  // by P(hard)

    void add(const SurfaceOdds& odds, SurfaceClass truth, double km_of_edge);
    void add(const SurfaceScore& other);
    [[nodiscard]] double share_right() const { return right / km; }
    [[nodiscard]] double share_right_class() const { return right_class / km; }
    [[nodiscard]] double mean_log_loss() const { return log_loss / km; }
    [[nodiscard]] double mean_brier() const { return brier / km; }
    /// Km-weighted mean distance between what was expected and what was so, over the bins.
    [[nodiscard]] double miscalibration() const;
};

/// Km that were asked and km answered wrongly, hard or not.
struct WrongKm {
    double asked = 0.0, wrong = 0.0;
};

struct SurfaceScores {
    SurfaceScore plain, learned;             // the table of tags alone; with what the other roads teach
    std::map<std::string, WrongKm> by_sort;  // "grade4 tracks that are hard", of learned
    std::map<std::int64_t, WrongKm> by_way;
};

/// An extract as far as its surfaces are read.
class SurfaceMap {
public:
    explicit SurfaceMap(const std::string& path);
    [[nodiscard]] const Assembly& assembly() const { return *m_assembly; }
    [[nodiscard]] double known_km() const;

private:
    std::unique_ptr<const Recipe> m_recipe;  // the assembly refers to it
    std::unique_ptr<Assembly> m_assembly;
};

/// Each half in turn teaches the other, for seeds 1 to `seeds`; every known way is asked `seeds` times.
[[nodiscard]] SurfaceScores score_within(const SurfaceMap& map, int seeds);
[[nodiscard]] SurfaceScores score_across(const SurfaceMap& teacher, const SurfaceMap& asked);

}  // namespace loamway::test

#endif
