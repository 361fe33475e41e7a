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
        stop.cautions.push_back(school_caution(setting));
    if (has_flag(r, stop_flag::soft_ground) && in_fire_season(setting))
        stop.cautions.emplace_back(
            "Fire season: no hot rollers, belts or exhaust over dry stubble, crop or grass; bare ground "
            "only, extinguisher at hand");
}

}  // namespace loamway
