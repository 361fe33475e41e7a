// SPDX-License-Identifier: Apache-2.0
#include "mixed_planner.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "options.h"

namespace loamway {

namespace {

// Each takes a few milliseconds. The bound of what is left tells whether that was enough.
constexpr int most_worked_out = 16;

Instant comes_to_load(const Setting& setting, const Path& path, const std::vector<ChosenStop>& stops) {
    for (const PathStop& s : path.stops)
        if (stops[s.stop].kind == "handover")
            return setting.in().depart + s.arrives;
    return setting.in().depart;
}

}  // namespace

MixedPlanner::MixedPlanner(const Setting& setting, DrivePlanner& drive, Hauling& hauling)
    : m_setting(setting),
      m_drive(drive),
      m_hauling(hauling),
      m_ways(drive.roads()),
      m_weights(drive.cost_weights()),
      m_turns(setting.turns().cost_prices()),
      m_places(find_loading_places(setting, drive.roads(), hauling)),
      // A low-bed joins what no road for the machine does.
      m_from(joins_at_from(drive.ends())),
      m_to(joins_at_to(drive.ends())),
      m_haul(find_haul_ends(hauling.loaded(), drive.ends(), setting.in())) {}

MixedQuestion MixedPlanner::question(double cap) const {
    MixedQuestion q;
    q.from = m_from;
    q.to = m_to;
    q.haul_from = m_haul.from;
    q.haul_to = m_haul.to;
    q.places = m_places;
    q.cap = cap;
    return q;
}

std::optional<Route> MixedPlanner::drive(const RoadPoint& from, const RoadPoint& to) {
    return m_ways.find(from, to, m_weights, no_cap, m_turns);
}

const std::optional<Route>& MixedPlanner::driven_to(std::uint32_t place) {
    const auto [at, is_new] = m_to_place.try_emplace(place);
    if (is_new)
        at->second = drive(m_from, m_places[place].at);
    return at->second;
}

const std::optional<Route>& MixedPlanner::driven_from(std::uint32_t place) {
    const auto [at, is_new] = m_from_place.try_emplace(place);
    if (is_new)
        at->second = drive(m_places[place].at, m_to);
    return at->second;
}

// Loaded, hauled, unloaded, and made ready to drive on.
Duration MixedPlanner::time_at_hand_over(const HauledWay& hauled, bool drives_on) const {
    const Rates& r = m_hauling.rates();
    const Duration ready = drives_on ? r.prepare : Duration();
    return r.load_time + r.make_narrow_time + hauled.path.driving + r.unload_time + ready;
}

RoutePlan MixedPlanner::put_together(const std::optional<Route>& before, const std::optional<Route>& after,
                                     HandOver hand_over) const {
    RoutePlan plan;
    plan.id = "mixed";
    for (const auto* part : {&before, &after}) {
        if (!*part)
            continue;
        plan.route.pieces.insert(plan.route.pieces.end(), (*part)->pieces.begin(), (*part)->pieces.end());
        plan.route.length_dm += (*part)->length_dm;
        plan.route.primary += (*part)->primary;
    }
    hand_over.piece = before ? before->pieces.size() : 0;
    hand_over.at_dm = before ? before->length_dm : 0;
    plan.hand_over = std::move(hand_over);
    return plan;
}

std::optional<MixedWay> MixedPlanner::work_out_pair(const MixedPair& pair) {
    MixedWay w;
    std::optional<Route> before, after;
    if (pair.load) {
        before = driven_to(*pair.load);
        w.load = m_places[*pair.load];
    }
    if (pair.unload) {
        after = driven_from(*pair.unload);
        w.unload = m_places[*pair.unload];
    }
    if ((pair.load && !before) || (pair.unload && !after))
        return std::nullopt;
    std::string why;
    auto hauled =
        m_hauling.way(w.load ? w.load->at : *m_haul.from, w.unload ? w.unload->at : *m_haul.to, why);
    if (!hauled)
        return std::nullopt;
    w.hauled = std::move(*hauled);
    const PlanInputs& in = m_setting.in();
    HandOver h;
    h.load = w.load ? NamedPoint{w.load->name, w.load->point} : in.from;
    h.unload = w.unload ? NamedPoint{w.unload->name, w.unload->point} : in.to;
    h.takes = time_at_hand_over(w.hauled, after.has_value());
    h.hauled = m_hauling.figures_of(w.hauled.figures);
    const StopPlaces& places = m_drive.stop_places();
    const auto work = [&] {
        RoutePlan plan = put_together(before, after, h);
        plan.stops = plan_stops(m_setting, places, plan.route, &*plan.hand_over);
        w.driven = work_out(m_setting, m_drive.roads(), places, m_drive.heat(), std::move(plan));
    };
    work();
    w.waits = wait_for_low_bed(in, comes_to_load(m_setting, w.driven.driven.path, w.driven.driven.stops));
    if (w.waits.seconds() > 0) {
        h.takes += w.waits;
        h.hauled.waits += w.waits;
        work();
    }
    return w;
}

// Most pairs that are taken cost little more than the least that is possible: looking below that first keeps
// the search near the move. What is found so, and worked out in full below it, is the best all the same.
MixedMove MixedPlanner::find(double cap) {
    if (!m_hauling.why_not().empty()) {
        MixedMove move;
        move.places = m_places.size();
        move.why_not = fmt::format("{}", fmt::join(m_hauling.why_not(), "; "));
        return move;
    }
    MixedSearch search(m_setting, m_drive.roads(), m_weights, m_hauling);
    if (!(cap < std::numeric_limits<double>::infinity())) {
        const double least = search.least_possible(question(cap));
        for (const double times : {1.25, 2.0}) {
            MixedMove move = find_below(search, times * least, true);
            if (move.way && move.exact && move.way->driven.can_be_done() &&
                move.way->driven.cost() <= times * least)
                return move;
        }
    }
    return find_below(search, cap, false);
}

MixedMove MixedPlanner::find_below(MixedSearch& search, double cap, bool more_beyond) {
    MixedMove move;
    move.places = m_places.size();
    const MixedAnswer answer = search.find(question(cap));
    if (answer.pairs.empty() && cap == std::numeric_limits<double>::infinity()) {
        move.why_not = fmt::format(
            "{}; name one more (loading_places in the move, or a correction of kind loading)",
            m_places.empty()
                ? std::string("no loading place is known that both the machine and the low-bed can use")
                : fmt::format("none of the {} loading places known joins the move", m_places.size()));
        return move;
    }
    int done = 0;
    const double others = more_beyond ? std::min(answer.others, cap) : answer.others;
    double next = others;
    for (const MixedPair& pair : answer.pairs) {
        next = std::min(pair.cost, others);
        const bool can_be_done = move.way && move.way->driven.can_be_done();
        if ((can_be_done && pair.cost >= move.way->driven.cost()) || done == most_worked_out)
            break;
        next = others;
        std::optional<MixedWay> w = work_out_pair(pair);
        if (!w)
            continue;
        ++done;
        if (!move.way ||
            (w->driven.can_be_done() && (!can_be_done || w->driven.cost() < move.way->driven.cost())))
            move.way = std::move(w);
    }
    if (!move.way && cap == std::numeric_limits<double>::infinity())
        move.why_not = fmt::format(
            "no pair of the {} loading places known can be driven to and hauled between", m_places.size());
    const double worth =
        move.way && move.way->driven.can_be_done() ? std::min(cap, move.way->driven.cost()) : cap;
    move.exact = next >= worth || next == std::numeric_limits<double>::infinity();
    return move;
}

}  // namespace loamway
