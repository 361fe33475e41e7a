// SPDX-License-Identifier: Apache-2.0
// What there is: the region, its places and roads, the profiles to choose from.
#include <fmt/format.h>

#include <cmath>
#include <set>
#include <string>

#include "api.h"
#include "api_help.h"
#include "loamway/base/version.h"
#include "loamway/desk/correction_book.h"
#include "loamway/desk/place_search.h"
#include "loamway/graph/corrected_region.h"
#include "loamway/graph/nearest_road.h"
#include "loamway/graph/road_graph.h"
#include "loamway/ledger/ledger.h"
#include "loamway/plan/loading_room.h"
#include "loamway/region/stop_words.h"

namespace loamway {

namespace {

constexpr std::size_t most_places = 50, most_stop_places = 2000;

Value km(Length l) {
    return std::round(l.metres()) / 1000.0;
}

Value state_json(const WorkingState& s) {
    return Value::Object{{"name", s.name},
                         {"mass_kg", s.mass.kg()},
                         {"width_m", s.width.metres()},
                         {"height_m", s.height.metres()},
                         {"length_m", s.length.metres()}};
}

Value machine_json(const std::string& name, const Machine& m, std::string_view source) {
    Value::Array states;
    for (const WorkingState& s : m.states)
        states.push_back(state_json(s));
    return Value::Object{{"name", name},
                         {"title", m.name},
                         {"source", source},
                         {"states", std::move(states)},
                         {"belts_count", m.belts.count}};
}

Value line_json(const std::vector<GeoPoint>& line) {
    Value::Array points;
    for (const GeoPoint p : line)
        points.push_back(Value::Array{p.lon(), p.lat()});
    return Value::Object{{"type", "LineString"}, {"coordinates", std::move(points)}};
}

// What people ask of a road: signs on it, who may use it, what it is made of.
bool speaks_of_limits(std::string_view key) {
    return key.starts_with("max") || key.starts_with("access") || key.starts_with("motor_vehicle") ||
           key.starts_with("vehicle") || key.starts_with("agricultural") || key.starts_with("hgv") ||
           key.starts_with("oneway") || key == "width" || key == "bridge" || key == "toll";
}

Value odds(int parts) {
    return parts / 200.0;
}

}  // namespace

void Api::region(const HttpRequest&, Exchange& exchange) {
    const Region& region = m_shelf.region();
    const RegionMeta& meta = region.meta();
    Value lengths;
    for (std::size_t c = 0; c < surface_class_count; ++c)
        lengths.set(std::string(surface_class_names[c]),
                    Value::Object{{"known", km(m_stats.surface[c].known)},
                                  {"assumed", km(m_stats.surface[c].assumed)}});
    Value bounds;
    if (m_stats.bounds) {
        const GeoPoint low = m_stats.bounds->south_west, high = m_stats.bounds->north_east;
        const double turn = low.lon_e7 > high.lon_e7 ? 360 : 0;
        bounds = Value::Array{low.lon(), low.lat(), high.lon() + turn, high.lat()};
    }
    reply_json(exchange,
               Value::Object{{"name", text_or_null(meta.name)},
                             {"digest", region.digest()},
                             {"map_date", text_or_null(meta.map_date)},
                             {"time_zone", text_or_null(meta.time_zone)},
                             {"attribution", text_or_null(meta.attribution)},
                             {"units", meta.units},
                             {"currency", text_or_null(meta.currency)},
                             {"bounds", bounds},
                             {"km", lengths},
                             {"nodes", static_cast<std::int64_t>(m_stats.nodes)},
                             {"stop_places", static_cast<std::int64_t>(region.view().stop_places.size())},
                             {"elevation", !meta.elevation.empty()},
                             {"has_ledger", m_shelf.setup().ledger.has_value()},
                             {"loamway_version", program_version()}});
}

void Api::places(const HttpRequest& request, Exchange& exchange) {
    const double most = number_of(request, "limit", 1, most_places).value_or(10);
    Value::Array out;
    for (const PlaceHit& hit : search_places(m_shelf.places(), m_shelf.region(), request.parameter("q"),
                                             static_cast<std::size_t>(most)))
        out.push_back(Value::Object{{"name", hit.name},
                                    {"kind", hit.kind},
                                    {"lat", hit.point.lat()},
                                    {"lon", hit.point.lon()},
                                    {"own", hit.own}});
    reply_json(exchange, Value::Object{{"places", std::move(out)}});
}

void Api::profiles(const HttpRequest&, Exchange& exchange) {
    Value::Array machines, trailers;
    std::set<std::string> in_ledger;
    if (m_shelf.setup().ledger) {
        const Ledger ledger = Ledger::open(*m_shelf.setup().ledger, LedgerUse::read);
        for (const std::string& name : ledger.machine_names())
            if (const auto profile = ledger.profile(name)) {
                in_ledger.insert(name);
                machines.push_back(machine_json(name, read_machine(*profile, name), "ledger"));
            }
    }
    for (const ShelfProfile& p : m_shelf.profiles()) {
        if (!p.low_bed) {
            // A move that names it means the ledger's.
            if (in_ledger.contains(p.name))
                continue;
            machines.push_back(machine_json(p.name, read_machine(p.document, p.name), "profile"));
            continue;
        }
        trailers.push_back(Value::Object{{"name", p.name}, {"title", read_low_bed(p.document, p.name).name}});
    }
    reply_json(exchange, Value::Object{{"machines", std::move(machines)}, {"trailers", std::move(trailers)}});
}

void Api::road(const HttpRequest& request, Exchange& exchange) {
    const GeoPoint asked = point_of(request);
    const Length within = Length::from_metres(number_of(request, "within_m", 1, 1000).value_or(60));
    const CorrectionBook book(m_shelf.setup().region, m_shelf.setup().corrections);
    const CorrectedRegion corrected(m_shelf.region(), book.corrections(), now());
    const RegionView& view = corrected.view();
    const auto found = nearest_road(view, asked, within);
    if (!found)
        throw Error(ErrorKind::not_found,
                    fmt::format("no road within {:.0f} m of this point", within.metres()),
                    "point at the road itself");
    const EdgeRecord& e = view.edges[found->edge.index()];
    const RoadGraph graph(view);
    Value::Array limits;
    std::string highway;
    const TagView tags = graph.tags(found->edge);
    for (const Tag& t : tags.all()) {
        if (t.key == "highway")
            highway = t.value;
        if (speaks_of_limits(t.key))
            limits.push_back(Value(fmt::format("{}={}", t.key, t.value)));
    }
    Value::Array corrections;
    for (const std::size_t c : corrected.on_edge(found->edge))
        corrections.push_back(Value(corrected.corrections()[c].id));
    const auto flag = [&](std::uint8_t bit) { return (e.flags & bit) != 0; };
    reply_json(
        exchange,
        Value::Object{{"way", view.edge_way[found->edge.index()]},
                      {"name", text_or_null(std::string(view.string(e.name)))},
                      {"highway", text_or_null(highway)},
                      {"class", surface_class_names[static_cast<std::size_t>(e.odds.likeliest())]},
                      {"known", flag(edge_flag::known)},
                      {"p_hard", odds(e.odds.hard)},
                      {"p_gravel", odds(e.odds.gravel)},
                      {"p_earth", odds(e.odds.earth)},
                      {"length_m", std::round(e.length_dm / 10.0)},
                      {"reason", std::string(view.string(e.reason))},
                      {"limits", std::move(limits)},
                      {"bridge", flag(edge_flag::bridge)},
                      {"tunnel", flag(edge_flag::tunnel)},
                      {"ford", flag(edge_flag::ford)},
                      {"corrections", std::move(corrections)},
                      {"point", Value::Object{{"lat", found->point.lat()}, {"lon", found->point.lon()}}},
                      {"geometry", line_json(view.edge_points(found->edge))}});
}

namespace {

/// Over the date line the box's west lies east of its east.
bool is_in(GeoPoint sw, GeoPoint ne, GeoPoint p) {
    const bool east = p.lon_e7 >= sw.lon_e7, west = p.lon_e7 <= ne.lon_e7;
    return p.lat_e7 >= sw.lat_e7 && p.lat_e7 <= ne.lat_e7 &&
           (sw.lon_e7 <= ne.lon_e7 ? east && west : east || west);
}

}  // namespace

void Api::stop_places(const HttpRequest& request, Exchange& exchange) {
    const auto [sw, ne] = box_of(request);
    const CorrectionBook book(m_shelf.setup().region, m_shelf.setup().corrections);
    const CorrectedRegion corrected(m_shelf.region(), book.corrections(), now());
    const RegionView& view = corrected.view();
    Value::Array out;
    bool all = true;
    for (const StopPlaceRecord& p : view.stop_places) {
        if (!is_in(sw, ne, {p.lat_e7, p.lon_e7}))
            continue;
        if (out.size() == most_stop_places) {
            all = false;
            break;
        }
        const GeoPoint at{p.lat_e7, p.lon_e7};
        out.push_back(Value::Object{{"lat", at.lat()},
                                    {"lon", at.lon()},
                                    {"kind", name_of(p.kind)},
                                    {"name", text_or_null(std::string(view.string(p.name)))},
                                    {"loading", has_room_to_load(p)},
                                    {"score", p.score},
                                    {"reason", std::string(view.string(p.reason))}});
    }
    reply_json(exchange, Value::Object{{"places", std::move(out)}, {"all", all}});
}

}  // namespace loamway
