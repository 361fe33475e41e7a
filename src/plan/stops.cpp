// SPDX-License-Identifier: Apache-2.0
#include "stops.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/graph/snap.h"
#include "loamway/tags/structure.h"
#include "stop_hours.h"

namespace loamway {

namespace {

// A machine must stand this much deeper in a side way than it is long, so that its tail is off the road.
const Length clear_of_road = Length::from_metres(10);
// How far from a road a point the user names may lie to count as beside it.
const Length user_stop_reach = Length::from_metres(100);
constexpr std::int32_t user_stop_score = 6;
constexpr std::int32_t near_side_score = 2;
// Where young belts are looked at (common practice, no source) and how long that takes (assumption).
constexpr double check_below_hours = 100;
constexpr std::uint64_t check_from_dm = 30000;
constexpr std::uint64_t check_to_dm = 50000;
const Duration check_time = Duration::from_minutes(5);

std::string_view words_for(StopPlaceKind kind) {
    switch (kind) {
        case StopPlaceKind::rest_area:
            return "rest area";
        case StopPlaceKind::services:
            return "service area";
        case StopPlaceKind::parking:
            return "parking place";
        case StopPlaceKind::lay_by:
            return "lay-by";
        case StopPlaceKind::yard:
            return "yard";
        case StopPlaceKind::passing_place:
            return "passing place";
        case StopPlaceKind::side_way:
            return "mouth of a side way";
        case StopPlaceKind::named:
            return "place to stop from the corrections";
    }
    return "place";
}

// Where there is room to turn round off the road. Parking places may be a strip along it.
bool has_room_to_turn(StopPlaceKind kind) {
    return kind == StopPlaceKind::rest_area || kind == StopPlaceKind::services || kind == StopPlaceKind::yard;
}

bool has_flag(const StopPlaceRecord& r, std::uint32_t flag) {
    return (r.flags & flag) != 0;
}

std::uint64_t decimetres(Length l) {
    return static_cast<std::uint64_t>(std::llround(l.metres() * 10));
}

std::string km_text(std::uint64_t dm) {
    return fmt::format("{:.1f}", static_cast<double>(dm) / 10000.0);
}

}  // namespace

StopPlaces::StopPlaces(const Setting& setting, const VehicleRoads& roads)
    : m_setting(setting),
      m_roads(roads),
      m_spur_dm(
          static_cast<std::uint32_t>(decimetres(setting.state().combination_length() + clear_of_road))) {
    const RoadGraph& graph = setting.graph();
    const auto records = setting.region().stop_places;
    std::vector<std::pair<BesideOffer, std::uint32_t>> beside;
    std::vector<std::pair<MouthOffer, std::uint32_t>> mouths;
    const bool school_hours = meets_school_hours(setting);
    for (std::uint32_t i = 0; i < records.size(); ++i) {
        const StopPlaceRecord& r = records[i];
        if (school_hours && has_flag(r, stop_flag::near_school))
            continue;
        if (r.kind == StopPlaceKind::passing_place)
            continue;  // for a short stop only; powdering blocks it too long
        if (r.kind != StopPlaceKind::side_way) {
            beside.push_back({{EdgeId{r.edge}, r.offset_dm, has_room_to_turn(r.kind)}, i});
            continue;
        }
        const ArcId in = graph.arc_of(EdgeId{r.edge}, r.offset_dm != 0);
        const bool deep_enough = std::min(r.usable_dm, graph.arc(in).length_dm) >= m_spur_dm;
        if (deep_enough && roads.open(in) && roads.open(graph.twin(in)))
            mouths.push_back({{in, m_spur_dm, !has_flag(r, stop_flag::dead_end)}, i});
    }
    const auto& user = setting.in().user_stops;
    for (std::uint32_t i = 0; i < user.size(); ++i)
        if (const auto at = snap(roads, user[i].point, user_stop_reach))
            beside.push_back({{at->edge, at->offset_dm}, static_cast<std::uint32_t>(records.size()) + i});
    std::sort(beside.begin(), beside.end(), [](const auto& a, const auto& b) {
        return std::tie(a.first.edge, a.first.offset_dm, a.second) <
               std::tie(b.first.edge, b.first.offset_dm, b.second);
    });
    std::sort(mouths.begin(), mouths.end(), [&](const auto& a, const auto& b) {
        return std::tuple(graph.tail(a.first.spur), a.first.spur, a.second) <
               std::tuple(graph.tail(b.first.spur), b.first.spur, b.second);
    });
    for (const auto& [offer, record] : beside) {
        m_offers.beside.push_back(offer);
        m_records.push_back(record);
    }
    for (const auto& [offer, record] : mouths) {
        m_offers.mouths.push_back(offer);
        m_records.push_back(record);
    }
    find_fords();
}

void StopPlaces::find_fords() {
    const RegionView& region = m_setting.region();
    m_offers.ford_edge.resize(region.edge_count());
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        m_offers.ford_edge[e] = (region.edges[e].flags & edge_flag::ford) != 0;
    m_offers.ford_node.resize(region.node_count());
    // Belts that are wet all the way lose nothing to a ford.
    if (m_setting.in().conditions.ground == Ground::wet) {
        m_offers.ford_edge.assign(region.edge_count(), false);
        return;
    }
    for (const NodeTagRecord& r : region.node_tags)
        m_offers.ford_node[r.node] = is_ford(m_setting.graph().tags(TagSetId{r.tag_set}));
}

void StopPlaces::add_beside(const Route& route, std::size_t piece, std::uint64_t at_dm,
                            std::vector<ChosenStop>& out) const {
    const RoadGraph& graph = m_setting.graph();
    const RoutePiece& p = route.pieces[piece];
    const ArcRecord& arc = graph.arc(p.arc);
    const auto records = m_setting.region().stop_places;
    const auto& beside = m_offers.beside;
    const auto first = std::lower_bound(beside.begin(), beside.end(), EdgeId{arc.edge},
                                        [](const BesideOffer& b, EdgeId e) { return b.edge < e; });
    for (auto b = first; b != beside.end() && b->edge.value() == arc.edge; ++b) {
        const auto offer = static_cast<std::uint32_t>(b - beside.begin());
        const std::uint32_t record = m_records[offer];
        const std::uint32_t along = arc.reversed != 0 ? arc.length_dm - b->offset_dm : b->offset_dm;
        if (along < p.from_dm || along > p.to_dm)
            continue;
        ChosenStop stop;
        stop.kind = "relube";
        stop.offer = offer;
        stop.piece = piece;
        stop.route_dm = at_dm + along - p.from_dm;
        if (record >= records.size()) {
            const NamedPoint& named = m_setting.in().user_stops[record - records.size()];
            stop.name = named.name;
            stop.point = named.point;
        } else {
            const StopPlaceRecord& r = records[record];
            stop.place = &r;
            stop.name = words_for(r.kind);
            if (r.kind == StopPlaceKind::named && r.name != 0)
                stop.name = m_setting.region().string(r.name);
            else if (r.name != 0)
                stop.name += fmt::format(" \"{}\"", m_setting.region().string(r.name));
            stop.point = {r.lat_e7, r.lon_e7};
            const bool right =
                has_flag(r, arc.reversed != 0 ? stop_flag::left_forward : stop_flag::right_forward);
            const bool left =
                has_flag(r, arc.reversed != 0 ? stop_flag::right_forward : stop_flag::left_forward);
            stop.side = right ? "right" : left ? "left" : "";
        }
        out.push_back(std::move(stop));
    }
}

// Side ways at the node where a piece begins.
void StopPlaces::add_mouths(const Route& route, std::size_t piece, std::uint64_t at_dm,
                            std::vector<ChosenStop>& out) const {
    const RoadGraph& graph = m_setting.graph();
    const RoutePiece& p = route.pieces[piece];
    if (piece == 0 || p.from_dm != 0)
        return;
    const RoutePiece& before = route.pieces[piece - 1];
    const NodeId node = graph.tail(p.arc);
    const auto& mouths = m_offers.mouths;
    const auto first =
        std::lower_bound(mouths.begin(), mouths.end(), node,
                         [&](const MouthOffer& m, NodeId n) { return graph.tail(m.spur) < n; });
    for (auto m = first; m != mouths.end() && graph.tail(m->spur) == node; ++m) {
        const ArcId in = m->spur;
        const auto offer =
            static_cast<std::uint32_t>(m_offers.beside.size() + static_cast<std::size_t>(m - mouths.begin()));
        const EdgeId edge = graph.edge_of(in);
        if (edge == graph.edge_of(p.arc) || edge == graph.edge_of(before.arc))
            continue;
        if (!m_roads.may_follow(before.arc, in) || m_roads.banned(graph.twin(in), p.arc))
            continue;
        const StopPlaceRecord& r = m_setting.region().stop_places[m_records[offer]];
        ChosenStop stop;
        stop.offer = offer;
        stop.piece = piece;
        stop.kind = "relube";
        stop.route_dm = at_dm;
        stop.spur = RoutePiece{in, 0, m_spur_dm};
        stop.place = &r;
        const std::string way = m_setting.road_name(in);
        stop.name = way.empty()
                        ? fmt::format("{} {} mouth", name_of(m_setting.surface(in)),
                                      m_roads.reading(in).highway == "track" ? "track" : "service road")
                        : fmt::format("mouth of {}", way);
        stop.point = m_setting.point_on(in, m_spur_dm);
        const double turn = turn_between(graph, before.arc, in);
        stop.side = turn > 30 ? "right" : turn < -30 ? "left" : "ahead";
        out.push_back(std::move(stop));
    }
}

std::vector<ChosenStop> StopPlaces::along(const Route& route) const {
    std::vector<ChosenStop> out;
    std::uint64_t at = 0;
    for (std::size_t i = 0; i < route.pieces.size(); ++i) {
        add_mouths(route, i, at, out);
        add_beside(route, i, at, out);
        at += route.pieces[i].length_dm();
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const ChosenStop& a, const ChosenStop& b) { return a.route_dm < b.route_dm; });
    return out;
}

std::int32_t StopPlaces::score(const ChosenStop& stop) const {
    if (stop.place == nullptr)
        return user_stop_score;
    const std::string_view near_side = m_setting.in().region->meta().drives_on_right ? "right" : "left";
    std::int32_t score = stop.place->score + (stop.side == near_side ? near_side_score : 0);
    if (has_flag(*stop.place, stop_flag::dead_end))
        score -= 1;
    if (has_flag(*stop.place, stop_flag::ask_permission))
        score -= 1;
    return score;
}

void fill_stop(const Setting& setting, ChosenStop& stop) {
    const Rates& rates = setting.in().rates;
    stop.wait = rates.stop_time(setting.in().machine.belts.count);
    if (stop.spur)
        stop.wait += rates.turn_out;
    if (stop.turns)
        stop.cautions.emplace_back("Turn round here, off the road: you leave the way you came");
    if (stop.place == nullptr)
        return;
    const StopPlaceRecord& r = *stop.place;
    if (has_flag(r, stop_flag::ask_permission))
        stop.cautions.emplace_back("Private or business ground: ask before you stand there");
    if (has_flag(r, stop_flag::dead_end))
        stop.cautions.emplace_back("No way through: needs someone to see you out");
    if (has_flag(r, stop_flag::near_school))
        stop.cautions.emplace_back("School within 200 m: not in school hours");
    if (has_flag(r, stop_flag::soft_ground) && in_fire_season(setting))
        stop.cautions.emplace_back(
            "Fire season: no hot rollers, belts or exhaust over dry stubble, crop or grass; bare ground "
            "only, extinguisher at hand");
}

namespace {

// Positions behind which the belts are dry. A ford on the way itself lies before the end of its piece, so
// that a place at that end is behind it.
std::vector<std::uint64_t> fords_along(const Setting& setting, const StopOffers& offers, const Route& route) {
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
        return fmt::format("the last re-lube is {:.1f} km back, at or beyond the interval of {:.1f} km",
                           in.belts.since_lube.km(), in.rates.relube_interval.km());
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
            "A wet road cools and lubricates by itself and powder turns to paste: no re-lube stops while it rains; once "
            "the road has dried the belts count as dry, and the next fit place is a stop");
    return plan;
}

// Young belts are looked at after the first kilometres: a place beside the road, no way into a side way for
// it. A re-lube stop in that stretch serves as well.
void add_check_stop(const Setting& setting, const StopPlaces& places, const std::vector<ChosenStop>& along,
                    StopPlan& plan) {
    const auto hours = setting.in().belts.hours;
    if (!hours || *hours >= check_below_hours)
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
        plan.cautions.emplace_back(
            "Belts with less than 100 h run want a look after 3 to 5 km; no fit place is known there: look for one");
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
                              : fmt::format("at the latest every {:.1f} km",
                                            static_cast<double>(setting.interval_dm()) / 10000.0);
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
    const GeoPoint last = point_on_route(setting, route, missing.to_dm);
    return fmt::format(
        "No fit place to re-lube within {:.1f} km: name a place between km {} and km {}{}. Answer it once and for "
        "all: loamway correct add --region F --kind stop --at {:.5f},{:.5f} (that is km {}: put the place's own "
        "position there)",
        static_cast<double>(setting.interval_dm()) / 10000.0, km_text(missing.from_dm),
        km_text(missing.to_dm), missing.more_than_one ? "; more are missing after it" : "", last.lat(),
        last.lon(), km_text(missing.to_dm));
}

}  // namespace

std::uint64_t since_at_start_dm(const PlanInputs& in) {
    return start_reason(in).empty() ? decimetres(in.belts.since_lube) : 0;
}

StopPlan plan_stops(const Setting& setting, const StopPlaces& places, const Route& route) {
    const PlanInputs& in = setting.in();
    StopPlan plan = begin_plan(setting, route);
    const std::vector<ChosenStop> along = places.along(route);
    std::vector<StopCandidate> candidates;
    for (const ChosenStop& s : along)
        candidates.push_back({s.route_dm, s.spur ? s.spur->length_dm() : 0, places.score(s)});
    const std::vector<std::uint64_t> fords = fords_along(setting, places.offers(), route);
    StopQuestion q;
    q.length_dm = route.length_dm;
    q.since_dm = since_at_start_dm(in);
    q.interval_dm = setting.interval_dm();
    q.candidates = candidates;
    q.dry_after_dm = fords;
    const StopChoice choice = choose_stops(q);
    if (choice.missing) {
        plan.answer_needed.push_back(question_for_place(setting, route, *choice.missing));
        return plan;
    }
    std::vector<ChosenStop> chosen;
    for (const std::size_t i : choice.chosen)
        chosen.push_back(along[i]);
    add_stops(setting, fords, std::move(chosen), plan);
    add_check_stop(setting, places, along, plan);
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
    add_check_stop(setting, places, along, plan);
    return plan;
}

}  // namespace loamway
