// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_SURFACE_LESSONS_H
#define LOAMWAY_SRC_BUILD_SURFACE_LESSONS_H

// What the roads with a surface tag teach about those without. Three steps, each a measured share or
// likelihood:
//
// 1. Likes. Roads of one class (and tracktype, kind of service road, inside or outside built-up areas,
// smoothness,
//    bridge) are counted by km of hard, gravel and earth, from the general to the particular. Each count
//    refines the one before: p = (weight * p_before + n * share) / (weight + n). The first "before" is what
//    read_surface says of the tags. A long way says no more than that it is one way, so the km give the
//    shares and n is the effective number of ways, (sum km)^2 / sum km^2; the weight is that of 5 ways
//    (assumption).
// 2. Hints. Whom a road is open to, and whether it has a name: P(hint | surface) / P(hint) within tracks,
// service
//    roads and others, shrunk towards 1 by the weight of 10 ways (assumption).
// 3. A witness. The known way that a road continues or meets copies its surface with a rate `a` that is
// measured
//    for each kind of witness on pairs of known ways: P(witness | surface) = a * [same] + (1 - a) * q, where
//    q is how likely the witness's own surface was by step 1 without it. So a gravel track after a gravel
//    track says little where all are gravel, and much where few are.

#include <array>
#include <string>
#include <unordered_map>
#include <vector>

#include "surface_roads.h"

namespace loamway {

/// Known km of one sort of road, in words and figures.
struct SurfaceCell {
    SurfaceShares km{};
    double squares = 0.0;  // sum over ways of km^2
    std::string words;     // "grade3 tracks"

    [[nodiscard]] double sum() const { return km[0] + km[1] + km[2]; }
};

/// The sorts of road that a list of tags belongs to, general first.
struct SurfaceLevel {
    std::string key;
    std::string words;
    enum class Hint { none, feel, bridge } hint = Hint::none;  // what is applied to p before the count
};
[[nodiscard]] std::vector<SurfaceLevel> surface_levels(const SurfaceTraits& traits, bool built_up);

class SurfaceLessons {
public:
    explicit SurfaceLessons(const SurfaceRoads& roads);

    [[nodiscard]] const SurfaceCell* cell(const std::string& key) const;
    /// Step 1. `without`: a known way of the same roads whose own part is left out.
    [[nodiscard]] SurfaceShares of_likes(const SurfaceRoads& roads, std::uint32_t way, bool built_up,
                                         bool without = false) const;
    /// The same for a whole way, by its km.
    [[nodiscard]] SurfaceShares of_way(const SurfaceRoads& roads, std::uint32_t way, bool without) const;
    /// Step 2: what to multiply the probabilities with.
    [[nodiscard]] SurfaceShares opening_factors(RoadFamily family, RoadOpening opening) const;
    [[nodiscard]] SurfaceShares name_factors(RoadFamily family, bool named) const;
    /// Step 3.
    [[nodiscard]] double copy_rate(RoadFamily family, SurfaceWitness kind) const;
    /// What to multiply with when such a witness has this surface; it was q likely without it.
    [[nodiscard]] SurfaceShares witness_factors(RoadFamily family, SurfaceWitness kind, SurfaceClass surface,
                                                double q) const;
    [[nodiscard]] double known_km() const { return m_known_km; }

private:
    static constexpr std::size_t opening_count = 4;
    struct HintCounts {
        std::array<SurfaceShares, opening_count> opening{};
        std::array<SurfaceShares, 2> named{};
    };
    void count_ways(const SurfaceRoads& roads);
    void measure_copying(const SurfaceRoads& roads);

    std::unordered_map<std::string, SurfaceCell> m_cells;
    std::array<HintCounts, road_family_count> m_hints{};
    std::array<std::array<double, surface_witness_count>, road_family_count> m_copy_rates{};
    double m_known_km = 0.0;
};

}  // namespace loamway

#endif
