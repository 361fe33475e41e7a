// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_LEARN_SURFACES_H
#define LOAMWAY_SRC_BUILD_LEARN_SURFACES_H

// Puts what surface_lessons.h learned into the odds and reasons of the roads nobody tagged.

#include <unordered_map>

#include "surface_lessons.h"

namespace loamway {

struct LearnedSurface {
    SurfaceOdds odds;
    std::string reason;
};

/// Answers for the roads of one map; the lessons may come from another.
class SurfaceReader {
public:
    SurfaceReader(const SurfaceLessons& lessons, const SurfaceRoads& roads);

    /// Of an edge of a way that asks. Null when nobody here teaches it: then the tags alone count. Valid as
    /// long as the reader.
    [[nodiscard]] const LearnedSurface* edge(std::uint32_t edge);

private:
    /// What a way hears from the known way next to it; equal words are equal evidence.
    struct Heard {
        bool asked = false;
        bool says = false;
        SurfaceWitness kind = SurfaceWitness::continues;
        SurfaceClass surface = SurfaceClass::hard;
        std::uint8_t q_steps = 0;  // how likely the witness's surface was without it, in 1/50
    };
    const Heard& hear(std::uint32_t way);
    [[nodiscard]] std::optional<LearnedSurface> judge(std::uint32_t way, bool built_up,
                                                      const Heard& heard) const;

    const SurfaceLessons& m_lessons;
    const SurfaceRoads& m_roads;
    std::vector<Heard> m_heard;  // of each way
    std::unordered_map<std::uint64_t, std::optional<LearnedSurface>> m_judged;
};

/// Steps of 1/200 that add up; every surface of an assumed road keeps at least one.
[[nodiscard]] SurfaceOdds learned_odds(const SurfaceShares& p);

/// After describe_edges().
void learn_surfaces(Assembly& a);

}  // namespace loamway

#endif
