// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_DRIVE_PLANNER_H
#define LOAMWAY_PLAN_DRIVE_PLANNER_H

// Everything driven of a plan, for one departure: the options of each aim, the choices between length and
// paved length, and which of these become options too.

#include <optional>
#include <string>
#include <vector>

#include "choices.h"
#include "confirm.h"
#include "heat_answer.h"
#include "move_ends.h"

namespace loamway {

class DrivePlanner {
public:
    /// Finds the ends on the roads. Keeps a reference to the setting.
    explicit DrivePlanner(const Setting& setting);

    void describe_ends(MoveUnderstood& move) const;
    [[nodiscard]] const VehicleRoads& roads() const { return m_roads; }
    [[nodiscard]] const MoveEnds& ends() const { return m_ends; }
    [[nodiscard]] const PlanHeat& heat() const { return m_heat; }
    /// Found when first asked for.
    [[nodiscard]] const StopPlaces& stop_places();
    /// Setting::cost_weights on these roads, worked out when first asked for, before anything is supposed.
    [[nodiscard]] const std::vector<std::uint32_t>& cost_weights();
    /// Routes, stops and manner of each aim.
    void work_out();
    [[nodiscard]] const std::vector<WorkedWay>& ways() const { return m_ways; }
    [[nodiscard]] OptionHeat heat_of(const WorkedWay& w) const { return m_heat.describe(w.driven.path); }
    /// Why nothing can be driven at all; empty when there are ways.
    [[nodiscard]] const std::string& no_way() const { return m_no_way; }
    /// After work_out: the front. Throws an Error when a choice is asked for that there is none of.
    void work_out_choices();
    /// After those: options, front and heat_search.
    void add_to(Plan& plan) const;
    [[nodiscard]] std::vector<HeatNote> heat_notes() const;
    /// The ways of the options, to be priced again in another light. Good for as long as this object is.
    [[nodiscard]] std::vector<PricedWay> priced_ways() const;
    /// Nothing driven can be done, and for some way heat is all that stands against it.
    [[nodiscard]] bool too_hot() const;

private:
    [[nodiscard]] const WorkedWay& way_of(const Choice& c) const {
        return c.own ? *c.own : m_ways[*c.same_as];
    }
    [[nodiscard]] WorkedWay work_out_way(RoutePlan route) const;
    void check_wanted(int k) const;
    void take_choices();
    [[nodiscard]] bool is_taken(const Choice& c) const;
    [[nodiscard]] std::vector<FrontPoint> front_points() const;
    [[nodiscard]] Value heat_search() const;
    [[nodiscard]] std::vector<const WorkedWay*> option_ways() const;
    [[nodiscard]] std::optional<SupposedCost> price_again(const WorkedWay& way) const;
    void add_option(const WorkedWay& way, Plan& plan) const;

    const Setting& m_setting;
    std::shared_ptr<const VehicleRoads> m_kept;
    const VehicleRoads& m_roads;
    MoveEnds m_ends;
    std::vector<std::uint32_t> m_cost_weights;
    std::optional<StopPlaces> m_places;
    PlanHeat m_heat;
    std::uint64_t m_cap_dm = no_cap;
    std::vector<WorkedWay> m_ways;
    std::string m_no_way;
    std::optional<Choices> m_choices;
    std::optional<int> m_wanted;  // the choice asked for
    std::optional<int> m_better;  // the choice that beats every option
};

}  // namespace loamway

#endif
