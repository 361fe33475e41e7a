// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_CHOICES_H
#define LOAMWAY_PLAN_CHOICES_H

// The choices between length and paved length under the detour cap: the front, thinned for people and each
// point worked out as the options are.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "loamway/search/front.h"
#include "worked_way.h"

namespace loamway {

constexpr std::size_t most_choices = 12;

struct Choice {
    int k = 0;                           // from 1: the least paved, up to the shortest
    FrontSums sums;                      // decimetres x probability_steps of paved road, decimetres
    std::optional<std::size_t> same_as;  // the option along a way of the same sums, by its number
    std::optional<WorkedWay> own;        // worked out here where there is no such option
};

struct Choices {
    bool exact = true;  // false: the search ran out of labels, and no point is given
    std::vector<Choice> points;
};

struct ChoicesQuestion {
    RoadPoint from, to;
    std::uint64_t cap_dm = no_cap;
    std::span<const WorkedWay> options;
};

[[nodiscard]] Choices find_choices(const Setting& setting, const VehicleRoads& roads,
                                   const StopPlaces& places, const PlanHeat& heat,
                                   const ChoicesQuestion& question);

}  // namespace loamway

#endif
