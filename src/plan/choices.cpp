// SPDX-License-Identifier: Apache-2.0
#include "choices.h"

#include <fmt/format.h>

#include <utility>

#include "watch.h"

namespace loamway {

namespace {

FrontSums sums_of(const Setting& setting, const Route& route) {
    FrontSums sums{0, route.length_dm};
    for (const RoutePiece& p : route.pieces)
        sums.primary += std::uint64_t{p.length_dm()} * setting.graph().edge(p.arc).odds.hard;
    return sums;
}

std::optional<std::size_t> option_with(const Setting& setting, std::span<const WorkedWay> options,
                                       const FrontSums& sums) {
    for (std::size_t i = 0; i < options.size(); ++i)
        if (sums_of(setting, options[i].chosen.route) == sums)
            return i;
    return std::nullopt;
}

}  // namespace

Choices find_choices(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                     const PlanHeat& heat, const ChoicesQuestion& question) {
    const std::vector<std::uint32_t> weights = setting.hard_weights();
    FrontQuestion q;
    q.from = question.from;
    q.to = question.to;
    q.primary = weights;
    q.cap_dm = question.cap_dm;
    q.label_budget = setting.in().front_labels;
    const Front front = find_front(roads, q);
    Choices out;
    out.exact = front.exact();
    if (!out.exact)
        return out;
    for (const std::size_t point : thin_front(front.points(), most_choices)) {
        Choice c;
        c.k = static_cast<int>(out.points.size()) + 1;
        c.sums = front.points()[point];
        c.same_as = option_with(setting, question.options, c.sums);
        if (!c.same_as) {
            tell(setting.in(), "choices", 0.3 + 0.2 * c.k / static_cast<double>(most_choices + 1));
            RoutePlan plan;
            plan.id = fmt::format("front-{}", c.k);
            plan.route = front.route(point);
            plan.stops = plan_stops(setting, places, plan.route);
            c.own = work_out(setting, roads, places, heat, std::move(plan));
        }
        out.points.push_back(std::move(c));
    }
    return out;
}

}  // namespace loamway
