// SPDX-License-Identifier: Apache-2.0
#include "stops.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/graph/snap.h"

namespace loamway {

namespace {

// A machine must stand this much deeper in a side way than it is long, so that its tail is off the road.
const Length clear_of_road = Length::from_metres(10);
// How far from a road a point the user names may lie to count as beside it.
const Length user_stop_reach = Length::from_metres(100);
constexpr std::int32_t user_stop_score = 6;
constexpr std::int32_t near_side_score = 2;

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
    }
    return "place";
}

bool has_flag(const StopPlaceRecord& r, std::uint32_t flag) { return (r.flags & flag) != 0; }

std::uint64_t decimetres(Length l) { return static_cast<std::uint64_t>(std::llround(l.metres() * 10)); }

std::string km_text(std::uint64_t dm) { return fmt::format("{:.1f}", static_cast<double>(dm) / 10000.0); }

}  // namespace

StopPlaces::StopPlaces(const Setting& setting, const VehicleRoads& roads)
    : m_setting(setting), m_roads(roads),
      m_spur_dm(static_cast<std::uint32_t>(decimetres(setting.state().combination_length() + clear_of_road))) {
    const RoadGraph& graph = setting.graph();
    const auto records = setting.region().stop_places;
    for (std::uint32_t i = 0; i < records.size(); ++i) {
        const StopPlaceRecord& r = records[i];
        if (r.kind == StopPlaceKind::passing_place)
            continue;  // for a short stop only; powdering blocks it too long
        if (r.kind != StopPlaceKind::side_way) {
            m_beside.push_back({r.edge, r.offset_dm, i});
            continue;
        }
        const ArcId in = graph.arc_of(EdgeId{r.edge}, r.offset_dm != 0);
        const bool deep_enough = std::min(r.usable_dm, graph.arc(in).length_dm) >= m_spur_dm;
        if (deep_enough && roads.open(in) && roads.open(graph.twin(in)))
            m_mouths.push_back({graph.tail(in).value(), in.value(), i});
    }
    const auto& user = setting.in().user_stops;
    for (std::uint32_t i = 0; i < user.size(); ++i)
        if (const auto at = snap(roads, user[i].point, user_stop_reach))
            m_beside.push_back({at->edge.value(), at->offset_dm, static_cast<std::uint32_t>(records.size()) + i});
    std::sort(m_beside.begin(), m_beside.end(), [](const Beside& a, const Beside& b) {
        return std::tie(a.edge, a.offset_dm, a.record) < std::tie(b.edge, b.offset_dm, b.record);
    });
    std::sort(m_mouths.begin(), m_mouths.end(), [](const Mouth& a, const Mouth& b) {
        return std::tie(a.node, a.arc, a.record) < std::tie(b.node, b.arc, b.record);
    });
}

void StopPlaces::add_beside(const Route& route, std::size_t piece, std::uint64_t at_dm,
                            std::vector<ChosenStop>& out) const {
    const RoadGraph& graph = m_setting.graph();
    const RoutePiece& p = route.pieces[piece];
    const ArcRecord& arc = graph.arc(p.arc);
    const auto records = m_setting.region().stop_places;
    const auto first = std::lower_bound(m_beside.begin(), m_beside.end(), arc.edge,
                                        [](const Beside& b, std::uint32_t e) { return b.edge < e; });
    for (auto b = first; b != m_beside.end() && b->edge == arc.edge; ++b) {
        const std::uint32_t along = arc.reversed != 0 ? arc.length_dm - b->offset_dm : b->offset_dm;
        if (along < p.from_dm || along > p.to_dm)
            continue;
        ChosenStop stop;
        stop.kind = "relube";
        stop.route_dm = at_dm + along - p.from_dm;
        if (b->record >= records.size()) {
            const NamedPoint& named = m_setting.in().user_stops[b->record - records.size()];
            stop.name = named.name;
            stop.point = named.point;
        } else {
            const StopPlaceRecord& r = records[b->record];
            stop.place = &r;
            stop.name = words_for(r.kind);
            if (r.name != 0)
                stop.name += fmt::format(" \"{}\"", m_setting.region().string(r.name));
            stop.point = {r.lat_e7, r.lon_e7};
            const bool right = has_flag(r, arc.reversed != 0 ? stop_flag::left_forward : stop_flag::right_forward);
            const bool left = has_flag(r, arc.reversed != 0 ? stop_flag::right_forward : stop_flag::left_forward);
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
    const std::uint32_t node = graph.tail(p.arc).value();
    const auto first = std::lower_bound(m_mouths.begin(), m_mouths.end(), node,
                                        [](const Mouth& m, std::uint32_t n) { return m.node < n; });
    for (auto m = first; m != m_mouths.end() && m->node == node; ++m) {
        const ArcId in{m->arc};
        const EdgeId edge = graph.edge_of(in);
        if (edge == graph.edge_of(p.arc) || edge == graph.edge_of(before.arc))
            continue;
        if (!m_roads.may_follow(before.arc, in) || m_roads.banned(graph.twin(in), p.arc))
            continue;
        const StopPlaceRecord& r = m_setting.region().stop_places[m->record];
        ChosenStop stop;
        stop.kind = "relube";
        stop.route_dm = at_dm;
        stop.spur = RoutePiece{in, 0, m_spur_dm};
        stop.place = &r;
        const std::string way = m_setting.road_name(in);
        stop.name = fmt::format("mouth of {}", way.empty() ? std::string(m_roads.reading(in).highway == "track"
                                                                             ? "a farm track"
                                                                             : "a service road")
                                                           : way);
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

namespace {

std::vector<std::uint64_t> fords_along(const Setting& setting, const Route& route) {
    const RoadGraph& graph = setting.graph();
    std::vector<std::uint64_t> at;
    std::uint64_t dm = 0;
    for (std::size_t i = 0; i < route.pieces.size(); ++i) {
        const RoutePiece& p = route.pieces[i];
        dm += p.length_dm();
        bool ford = (graph.edge(p.arc).flags & edge_flag::ford) != 0;
        if (p.to_dm == graph.arc(p.arc).length_dm && i + 1 < route.pieces.size())
            if (const TagSetId set = graph.node_tag_set(graph.head(p.arc)); !set.is_none())
                ford = ford || is_ford(graph.tags(set));
        if (ford)
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
    if (in.belts.condition == BeltsNow::Condition::washed)
        return "the belts were washed";
    if (in.belts.condition == BeltsNow::Condition::not_run_in)
        return "the belts are not run in";
    if (in.belts.hours && *in.belts.hours < 100)
        return "belts with less than 100 h run dry soonest";
    if (in.conditions.ground == Ground::frozen)
        return "frozen ground puts nothing on the belts";
    if (in.belts.since_lube >= in.rates.relube_interval)
        return fmt::format("the last re-lube is {:.1f} km back, at or beyond the interval of {:.1f} km",
                           in.belts.since_lube.km(), in.rates.relube_interval.km());
    return {};
}

void fill_stop(const Setting& setting, ChosenStop& stop) {
    const Rates& rates = setting.in().rates;
    stop.wait = rates.stop_time(setting.in().machine.belts.count);
    if (stop.spur)
        stop.wait += rates.turn_out;
    if (stop.place == nullptr)
        return;
    const StopPlaceRecord& r = *stop.place;
    if (has_flag(r, stop_flag::ask_permission))
        stop.cautions.emplace_back("Private or business ground: ask before you stand there");
    if (has_flag(r, stop_flag::dead_end))
        stop.cautions.emplace_back("No way through: needs someone to see you out");
    if (has_flag(r, stop_flag::near_school))
        stop.cautions.emplace_back("School within 200 m: not at the start or end of a school day");
}

}  // namespace

StopPlan plan_stops(const Setting& setting, const StopPlaces& places, const Route& route) {
    const PlanInputs& in = setting.in();
    StopPlan plan;
    const std::string reason = start_reason(in);
    if (!reason.empty())
        add_start_stop(setting, route, plan, reason);
    if (in.conditions.ground == Ground::wet)
        plan.cautions.emplace_back(
            "A wet road cools and lubricates by itself and powder turns to paste: no powder while it rains; once the road "
            "has dried the belts count as dry, and the next fit place is a stop");

    const std::vector<ChosenStop> along = places.along(route);
    std::vector<StopCandidate> candidates;
    for (const ChosenStop& s : along)
        candidates.push_back({s.route_dm, s.spur ? s.spur->length_dm() : 0, places.score(s)});
    const std::vector<std::uint64_t> fords = fords_along(setting, route);
    StopQuestion q;
    q.length_dm = route.length_dm;
    q.since_dm = plan.start_lube ? 0 : decimetres(in.belts.since_lube);
    q.interval_dm = decimetres(in.rates.relube_interval);
    q.candidates = candidates;
    q.dry_after_dm = fords;
    const StopChoice choice = choose_stops(q);
    if (choice.missing) {
        plan.answer_needed.push_back(fmt::format(
            "No fit place to re-lube within {:.1f} km: name a place between km {} and km {} (in a places file, "
            "with kind \"stop\"){}",
            in.rates.relube_interval.km(), km_text(choice.missing->from_dm), km_text(choice.missing->to_dm),
            choice.missing->more_than_one ? "; more are missing after it" : ""));
        return plan;
    }
    std::uint64_t last = 0;
    for (const std::size_t i : choice.chosen) {
        ChosenStop stop = along[i];
        const bool after_ford = std::any_of(fords.begin(), fords.end(), [&](std::uint64_t f) {
            return f < stop.route_dm && f >= last;
        });
        stop.why = after_ford ? std::string("a ford washes the belts: they count as dry until powdered")
                              : fmt::format("at the latest every {:.1f} km", in.rates.relube_interval.km());
        fill_stop(setting, stop);
        last = stop.route_dm;
        plan.stops.push_back(std::move(stop));
    }
    if (!fords.empty() && fords.back() >= last &&
        (choice.chosen.empty() || fords.back() > along[choice.chosen.back()].route_dm))
        plan.cautions.emplace_back(
            "The route ends behind a ford without a place to stop: the belts arrive dry; powder them before the next road");
    return plan;
}

}  // namespace loamway
