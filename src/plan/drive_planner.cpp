// SPDX-License-Identifier: Apache-2.0
#include "drive_planner.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "loamway/base/error.h"
#include "options.h"
#include "uncertainty.h"

namespace loamway {

namespace {

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

HeatNote note_of(const WorkedWay& w, bool choice, const UnitWords& words) {
    HeatNote n;
    n.choice = choice;
    n.option = w.chosen.id;
    n.slower = w.driven.manner.hard_cap.has_value();
    n.pause = w.driven.manner.pause.seconds() > 0;
    n.cooling = w.driven.manner.cooling.has_value();
    n.manner = manner_text(w.driven, words);
    n.plain_holds = w.plain_holds;
    n.holds = w.driven.holds;
    n.stops_ok = w.chosen.stops.answer_needed.empty();
    n.plain_cost = w.plain_cost;
    n.high_c = w.driven.acted_on_c;
    n.tried = w.tried;
    return n;
}

}  // namespace

DrivePlanner::DrivePlanner(const Setting& setting)
    : m_setting(setting),
      m_kept(setting.roads_for(setting.in().machine.vehicle(setting.state()))),
      m_roads(*m_kept),
      m_ends(find_ends(m_roads, setting.in())),
      m_heat(setting) {}

void DrivePlanner::describe_ends(MoveUnderstood& move) const {
    const RoadPoint& from = m_ends.from ? *m_ends.from : m_ends.nearest_from;
    const RoadPoint& to = m_ends.to ? *m_ends.to : m_ends.nearest_to;
    move.from_on_road = from.point;
    move.to_on_road = to.point;
    move.from_off_road_m = from.off_road.metres();
    move.to_off_road_m = to.off_road.metres();
}

const std::vector<std::uint32_t>& DrivePlanner::cost_weights() {
    if (m_cost_weights.empty())
        m_cost_weights = m_setting.cost_weights(m_roads);
    return m_cost_weights;
}

const StopPlaces& DrivePlanner::stop_places() {
    if (!m_places)
        m_places.emplace(m_setting, m_roads);
    return *m_places;
}

void DrivePlanner::work_out() {
    if (!m_ends.from) {
        m_no_way = island_text(m_roads, m_ends, m_setting.in());
        return;
    }
    ChosenRoutes chosen =
        choose_routes(m_setting, m_roads, stop_places(), cost_weights(), *m_ends.from, *m_ends.to);
    m_cap_dm = chosen.cap_dm;
    if (chosen.routes.empty())
        m_no_way =
            "no way for this machine within its limits, bans and one-way roads, without crossing private ground";
    for (RoutePlan& r : chosen.routes)
        m_ways.push_back(work_out_way(std::move(r)));
}

WorkedWay DrivePlanner::work_out_way(RoutePlan route) const {
    return loamway::work_out(m_setting, m_roads, *m_places, m_heat, std::move(route));
}

void DrivePlanner::work_out_choices() {
    const std::optional<int>& wanted = m_setting.in().front_point;
    if (m_ways.empty()) {
        if (wanted)
            throw Error(ErrorKind::not_found, fmt::format("there is no choice {}: {}", *wanted, m_no_way),
                        "leave out the choice to see the plan");
        m_choices.emplace();
        return;
    }
    m_choices =
        find_choices(m_setting, m_roads, *m_places, m_heat, {*m_ends.from, *m_ends.to, m_cap_dm, m_ways});
    if (wanted)
        check_wanted(*wanted);
    take_choices();
}

void DrivePlanner::check_wanted(int k) const {
    if (!m_choices->exact)
        throw Error(ErrorKind::limit,
                    fmt::format("there is no choice {}: the search for choices ran out of room", k),
                    "leave out the choice, or lower the detour cap");
    const auto count = static_cast<int>(m_choices->points.size());
    if (k < 1 || k > count)
        throw Error(ErrorKind::not_found, fmt::format("there is no choice {}: this move has {}", k, count),
                    count == 1 ? "choose 1" : fmt::format("choose one of 1 to {}", count));
}

void DrivePlanner::take_choices() {
    m_wanted = m_setting.in().front_point;
    double best = std::numeric_limits<double>::infinity();
    for (const WorkedWay& w : m_ways)
        if (w.can_be_done())
            best = std::min(best, w.cost());
    for (const Choice& c : m_choices->points)
        // A cent less, as costs are printed.
        if (c.own && c.own->can_be_done() && c.own->cost() < best - 0.005) {
            best = c.own->cost();
            m_better = c.k;
        }
}

bool DrivePlanner::is_taken(const Choice& c) const {
    return c.own && (c.k == m_wanted || c.k == m_better);
}

void DrivePlanner::add_option(const WorkedWay& way, Plan& plan) const {
    Option o = drive_option(m_setting, m_roads, *m_places, m_heat, way);
    flag_islands(m_roads, m_ends, m_setting.in(), {}, o);
    plan.options.push_back(std::move(o));
}

void DrivePlanner::add_to(Plan& plan) const {
    if (!m_no_way.empty())
        plan.options.push_back(impossible_option("least-cost", Mode::drive, m_no_way));
    const std::size_t first = plan.options.size();
    for (const WorkedWay& w : m_ways)
        add_option(w, plan);
    if (m_choices) {
        for (const Choice& c : m_choices->points) {
            if (c.same_as)
                plan.options[first + *c.same_as].also.push_back(fmt::format("front-{}", c.k));
            else if (is_taken(c))
                add_option(*c.own, plan);
        }
        plan.front_exact = m_choices->exact;
        if (m_choices->exact)
            plan.front = front_points();
    }
    if (!m_ways.empty())
        plan.heat_search = heat_search();
}

bool DrivePlanner::too_hot() const {
    bool hot = false;
    const auto look_at = [&](const WorkedWay& w) {
        hot = hot || (!w.driven.holds && w.why_not.size() == 1);
        return w.can_be_done();
    };
    for (const WorkedWay& w : m_ways)
        if (look_at(w))
            return false;
    if (m_choices)
        for (const Choice& c : m_choices->points)
            if (c.own && look_at(*c.own))
                return false;
    return hot;
}

std::vector<FrontPoint> DrivePlanner::front_points() const {
    std::vector<FrontPoint> out;
    for (const Choice& c : m_choices->points) {
        const WorkedWay& w = way_of(c);
        FrontPoint p;
        p.k = c.k;
        p.hard_m = std::round(static_cast<double>(c.sums.primary) / (10.0 * probability_steps));
        p.length_m = std::round(metres(c.sums.length_dm));
        p.stops_ok = w.chosen.stops.answer_needed.empty();
        p.stops = stops_on_the_way(w);
        p.duration_s = w.driven.path.total.seconds();
        p.bar_high_c =
            m_setting.in().heat.calibrated() ? m_heat.upper_edge_c(w.driven.path) : w.driven.acted_on_c;
        p.why_not = w.why_not;
        if (w.can_be_done())
            p.cost = w.cost();
        if (c.same_as || is_taken(c))
            p.option = w.chosen.id;
        out.push_back(std::move(p));
    }
    return out;
}

Value DrivePlanner::heat_search() const {
    Value::Array options, choices;
    for (const WorkedWay& w : m_ways)
        options.push_back(w.heat_record);
    if (m_choices)
        for (const Choice& c : m_choices->points)
            if (c.own)
                choices.push_back(c.own->heat_record);
    Value out;
    out.set("acts_on", "acted_on_c");
    out.set("calibrated", m_setting.in().heat.calibrated());
    out.set("options", std::move(options));
    out.set("front", m_choices ? Value(std::move(choices)) : Value());
    return out;
}

std::vector<const WorkedWay*> DrivePlanner::option_ways() const {
    std::vector<const WorkedWay*> ways;
    for (const WorkedWay& w : m_ways)
        ways.push_back(&w);
    if (m_choices)
        for (const Choice& c : m_choices->points)
            if (is_taken(c))
                ways.push_back(&*c.own);
    return ways;
}

std::vector<HeatNote> DrivePlanner::heat_notes() const {
    std::vector<HeatNote> notes;
    for (const WorkedWay* w : option_ways())
        notes.push_back(note_of(*w, notes.size() >= m_ways.size(), m_setting.words()));
    return notes;
}

// What the way costs as surfaces are taken now; nothing when it cannot be done.
std::optional<SupposedCost> DrivePlanner::price_again(const WorkedWay& way) const {
    const WorkedWay again = work_out_way(way.chosen);
    if (!again.can_be_done())
        return std::nullopt;
    const OptionFigures figures{{driven_figures(m_setting, again.driven)}, {}};
    return SupposedCost{again.cost(), cost_at_means(m_setting, figures)};
}

std::vector<PricedWay> DrivePlanner::priced_ways() const {
    std::vector<PricedWay> out;
    for (const WorkedWay* w : option_ways())
        out.push_back({w->chosen.id, std::make_shared<const Path>(w->driven.path),
                       [this, w] { return price_again(*w); }});
    return out;
}

}  // namespace loamway
