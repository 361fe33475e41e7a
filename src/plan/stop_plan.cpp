// SPDX-License-Identifier: Apache-2.0
// Which places of a route are stopped at, and why: start rule, fords, interval, young belts, hand-over.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "stops.h"

namespace loamway {

namespace {

// Where young belts are looked at (common practice, no source) and how long that takes (assumption).
constexpr double check_below_hours = 100;
constexpr std::uint64_t check_from_dm = 30000;
constexpr std::uint64_t check_to_dm = 50000;
const Duration check_time = Duration::from_minutes(5);
// Powder makes a ramp slippery: none is put on so near to it (assumption).
constexpr std::uint64_t no_powder_before_ramp_dm = 10000;

std::uint64_t decimetres(Length l) {
    return static_cast<std::uint64_t>(std::llround(l.metres() * 10));
}

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

ChosenStop hand_over_stop(const HandOver& h) {
    ChosenStop stop;
    stop.kind = "handover";
    stop.name = h.load.name;
    stop.point = h.load.point;
    stop.route_dm = h.at_dm;
    stop.piece = h.piece;
    stop.wait = h.takes;
    return stop;
}

// Powder after unloading, where it is due.
ChosenStop unloading_stop(const HandOver& h) {
    ChosenStop stop;
    stop.kind = "relube";
    stop.name = h.unload.name;
    stop.point = h.unload.point;
    stop.route_dm = h.at_dm;
    stop.piece = h.piece;
    return stop;
}

void add_hand_over(const HandOver& h, StopPlan& plan) {
    const auto at = std::find_if(plan.stops.begin(), plan.stops.end(),
                                 [&](const ChosenStop& s) { return s.route_dm >= h.at_dm; });
    plan.stops.insert(at, hand_over_stop(h));
    if (h.driven_before() || !plan.start_lube)
        return;
    ChosenStop& start = plan.stops[1];
    start.name = h.unload.name;
    start.why += "; after unloading: no powder before the ramp";
}

// Positions behind which the belts are dry. A ford on the way itself lies before the end of its piece, so
// that a place at that end is behind it.
std::vector<std::uint64_t> fords_along(const Setting& setting, const StopOffers& offers, const Route& route,
                                       const HandOver* h = nullptr) {
    if (h != nullptr) {
        auto at = fords_along(setting, offers, part_of(route, 0, h->piece));
        for (const std::uint64_t ford :
             fords_along(setting, offers, part_of(route, h->piece, route.pieces.size())))
            at.push_back(h->at_dm + ford);
        return at;
    }
    const RoadGraph& graph = setting.graph();
    std::vector<std::uint64_t> at;
    std::uint64_t dm = 0;
    for (std::size_t i = 0; i < route.pieces.size(); ++i) {
        const RoutePiece& p = route.pieces[i];
        dm += p.length_dm();
        if (i + 1 == route.pieces.size())
            break;
        if (offers.ford_edge[graph.edge_of(p.arc).index()] && p.length_dm() > 0)
            at.push_back(dm - 1);
        if (offers.ford_node[graph.head(p.arc).index()])
            at.push_back(dm);
    }
    return at;
}

void add_start_stop(const Setting& setting, const Route& route, StopPlan& plan, std::string why) {
    ChosenStop start;
    start.kind = "start";
    start.name = "before leaving";
    start.point = setting.point_on(route.pieces.front().arc, route.pieces.front().from_dm);
    start.why = std::move(why);
    start.wait = setting.in().rates.stop_time(setting.in().machine.belts.count);
    plan.stops.push_back(std::move(start));
    plan.start_lube = true;
}

// Why the belts need powder before the machine moves at all; empty when they do not.
std::string start_reason(const PlanInputs& in) {
    const bool wet = in.conditions.ground == Ground::wet;
    if (in.belts.condition == BeltsNow::Condition::washed && !wet)
        return "the belts were washed";
    if (in.belts.condition == BeltsNow::Condition::not_run_in)
        return "the belts are not run in";
    if (in.belts.hours && *in.belts.hours < 100)
        return "belts with less than 100 h run dry soonest";
    if (in.conditions.ground == Ground::frozen)
        return "frozen ground puts nothing on the belts";
    if (in.belts.since_lube >= in.rates.relube_interval && !wet)
        return fmt::format("the last re-lube is {} back, at or beyond the interval of {}",
                           UnitWords(in.units).exact(in.belts.since_lube.metres()),
                           UnitWords(in.units).exact(in.rates.relube_interval.metres()));
    if (in.powder_first == PowderFirst::yes && !wet)
        return fmt::format("{} since the last re-lube: what is left of the interval is short for this way",
                           UnitWords(in.units).exact(in.belts.since_lube.metres()));
    return {};
}

// The start stop where one is due, and what the ground asks for.
StopPlan begin_plan(const Setting& setting, const Route& route) {
    StopPlan plan;
    const std::string reason = start_reason(setting.in());
    if (!reason.empty())
        add_start_stop(setting, route, plan, reason);
    if (setting.in().conditions.ground == Ground::wet)
        plan.cautions.emplace_back(
            "A wet road lubricates by itself and powder turns to paste: no re-lube stops while it rains; once the road has "
            "dried the belts count as dry, and the next fit place is a stop. That water cools the bars too is left out of "
            "the estimate, to be careful: without the pauses at stops it may say hotter than on a dry road");
    return plan;
}

// Young belts are looked at after the first kilometres: a place beside the road, no way into a side way for
// it. A re-lube stop in that stretch serves as well.
void add_check_stop(const Setting& setting, const StopPlaces& places, const std::vector<ChosenStop>& along,
                    std::uint64_t length_dm, StopPlan& plan) {
    const auto hours = setting.in().belts.hours;
    if (!hours || *hours >= check_below_hours || length_dm <= check_from_dm)
        return;
    const auto in_stretch = [](const ChosenStop& s) {
        return s.route_dm >= check_from_dm && s.route_dm <= check_to_dm;
    };
    const auto relube = std::find_if(plan.stops.begin(), plan.stops.end(), in_stretch);
    if (relube != plan.stops.end()) {
        relube->why += "; and a check: belts with less than 100 h run";
        return;
    }
    const ChosenStop* best = nullptr;
    for (const ChosenStop& s : along)
        if (in_stretch(s) && !s.spur && (best == nullptr || places.score(s) > places.score(*best)))
            best = &s;
    if (best == nullptr) {
        plan.cautions.push_back(fmt::format(
            "Belts with less than 100 h run want a look after {}; no fit place is known there: look for one",
            setting.words().imperial() ? "2 to 3 mi" : "3 to 5 km"));
        return;
    }
    ChosenStop check = *best;
    check.kind = "check";
    check.why = "belts with less than 100 h run: compare both sides";
    fill_stop(setting, check);
    check.wait = check_time;
    const auto at = std::find_if(plan.stops.begin(), plan.stops.end(),
                                 [&](const ChosenStop& s) { return s.route_dm > check.route_dm; });
    plan.stops.insert(at, std::move(check));
}

void add_stops(const Setting& setting, const std::vector<std::uint64_t>& fords,
               std::vector<ChosenStop> chosen, StopPlan& plan) {
    std::uint64_t last = 0;
    for (ChosenStop& stop : chosen) {
        const bool after_ford = std::any_of(fords.begin(), fords.end(),
                                            [&](std::uint64_t f) { return f < stop.route_dm && f >= last; });
        stop.why = after_ford ? std::string("a ford washes the belts: they count as dry until powdered")
                              : "at the latest every " + setting.words().exact(metres(setting.interval_dm()));
        fill_stop(setting, stop);
        last = stop.route_dm;
        plan.stops.push_back(std::move(stop));
    }
    if (!fords.empty() && fords.back() >= last)
        plan.cautions.emplace_back(
            "The route ends behind a ford without a place to stop: the belts arrive dry; powder them before the next road");
}

GeoPoint point_on_route(const Setting& setting, const Route& route, std::uint64_t dm) {
    for (const RoutePiece& p : route.pieces) {
        if (dm <= p.length_dm())
            return setting.point_on(p.arc, p.from_dm + static_cast<std::uint32_t>(dm));
        dm -= p.length_dm();
    }
    return setting.point_on(route.pieces.back().arc, route.pieces.back().to_dm);
}

// What to name, and the command that keeps the answer for every later plan.
std::string question_for_place(const Setting& setting, const Route& route, const MissingPlace& missing) {
    const UnitWords words = setting.words();
    const GeoPoint last = point_on_route(setting, route, missing.to_dm);
    return fmt::format(
        "No fit place to re-lube within {}: name a place between {} and {}{}. Answer it once and for "
        "all: loamway correct add --region F --kind stop --at {:.5f},{:.5f} (that is {}: put the place's own "
        "position there)",
        words.exact(metres(setting.interval_dm())), words.at(metres(missing.from_dm)),
        words.at(metres(missing.to_dm)), missing.more_than_one ? "; more are missing after it" : "",
        last.lat(), last.lon(), words.at(metres(missing.to_dm)));
}

}  // namespace

bool powders_before_start(const PlanInputs& in) {
    return !start_reason(in).empty();
}

std::uint64_t since_at_start_dm(const PlanInputs& in) {
    return powders_before_start(in) ? 0 : decimetres(in.belts.since_lube);
}

Route part_of(const Route& route, std::size_t from, std::size_t to) {
    Route part;
    for (std::size_t i = from; i < to; ++i) {
        part.pieces.push_back(route.pieces[i]);
        part.length_dm += route.pieces[i].length_dm();
    }
    return part;
}

std::vector<ChosenStop> places_along(const StopPlaces& places, const Route& route, const HandOver* h) {
    if (h == nullptr)
        return places.along(route);
    std::vector<ChosenStop> out = places.along(part_of(route, 0, h->piece));
    std::erase_if(out, [&](const ChosenStop& s) { return s.route_dm + no_powder_before_ramp_dm > h->at_dm; });
    if (h->piece == route.pieces.size())
        return out;
    out.push_back(unloading_stop(*h));
    for (ChosenStop& s : places.along(part_of(route, h->piece, route.pieces.size()))) {
        s.route_dm += h->at_dm;
        s.piece += h->piece;
        out.push_back(std::move(s));
    }
    return out;
}

StopPlan plan_stops(const Setting& setting, const StopPlaces& places, const Route& route,
                    const HandOver* hand_over) {
    const PlanInputs& in = setting.in();
    StopPlan plan = begin_plan(setting, route);
    const std::vector<ChosenStop> along = places_along(places, route, hand_over);
    std::vector<StopCandidate> candidates;
    for (const ChosenStop& s : along)
        candidates.push_back({s.route_dm, s.spur ? s.spur->length_dm() : 0, places.score(s)});
    const std::vector<std::uint64_t> fords = fords_along(setting, places.offers(), route, hand_over);
    StopQuestion q;
    q.length_dm = route.length_dm;
    q.since_dm = since_at_start_dm(in);
    q.interval_dm = setting.interval_dm();
    q.candidates = candidates;
    q.dry_after_dm = fords;
    const StopChoice choice = choose_stops(q);
    if (choice.missing)
        plan.answer_needed.push_back(question_for_place(setting, route, *choice.missing));
    std::vector<ChosenStop> chosen;
    for (const std::size_t i : choice.chosen)
        chosen.push_back(along[i]);
    if (!choice.missing) {
        add_stops(setting, fords, std::move(chosen), plan);
        add_check_stop(setting, places, along, route.length_dm, plan);
    }
    if (hand_over != nullptr)
        add_hand_over(*hand_over, plan);
    return plan;
}

StopPlan plan_found_stops(const Setting& setting, const StopPlaces& places, const RouteWithStops& found) {
    StopPlan plan = begin_plan(setting, found.route);
    std::vector<ChosenStop> chosen;
    std::size_t next = 0;
    const std::vector<ChosenStop> along = places.along(found.route);
    for (const ChosenStop& s : along)
        if (next < found.stops.size() && s.offer == found.stops[next].offer &&
            s.route_dm == found.stops[next].route_dm && s.piece == found.stops[next].piece) {
            chosen.push_back(s);
            chosen.back().turns = found.stops[next].turns;
            ++next;
        }
    if (next != found.stops.size())
        throw Error(ErrorKind::internal, "a stop that the search used is not on its route");
    add_stops(setting, fords_along(setting, places.offers(), found.route), std::move(chosen), plan);
    add_check_stop(setting, places, along, found.route.length_dm, plan);
    return plan;
}

}  // namespace loamway
