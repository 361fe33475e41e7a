// SPDX-License-Identifier: Apache-2.0
// GeoJSON after RFC 7946: longitude first, at most 7 decimals, lines cut at the date line, no nested
// properties because map programs flatten them badly.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/names.h"
#include "loamway/base/unit_words.h"
#include "loamway/exchange/tracks.h"
#include "loamway/text/value.h"
#include "planned_way.h"
#include "stop_names.h"
#include "way_stretches.h"

namespace loamway {

namespace {

constexpr std::int64_t half_turn = 1800000000;

Value position(GeoPoint p) {
    return Value::Array{p.lon_e7 / 1e7, p.lat_e7 / 1e7};
}

Value coordinates(const Line& line) {
    Value::Array out;
    for (const GeoPoint p : line)
        out.push_back(position(p));
    return out;
}

Value line_geometry(const Line& line) {
    const std::vector<Line> pieces = cut_at_date_line(line);
    if (pieces.size() == 1)
        return Value::Object{{"type", "LineString"}, {"coordinates", coordinates(line)}};
    Value::Array parts;
    for (const Line& piece : pieces)
        parts.push_back(coordinates(piece));
    return Value::Object{{"type", "MultiLineString"}, {"coordinates", parts}};
}

/// West, south, east, north; west is greater than east across the date line.
Value bounding_box(const Line& points) {
    std::int32_t south = points.front().lat_e7, north = south;
    std::int64_t west = points.front().lon_e7, east = west;
    std::int64_t turns = 0, before = points.front().lon_e7;
    for (const GeoPoint p : points) {
        south = std::min(south, p.lat_e7);
        north = std::max(north, p.lat_e7);
        if (p.lon_e7 - before > half_turn)
            --turns;
        else if (before - p.lon_e7 > half_turn)
            ++turns;
        before = p.lon_e7;
        const std::int64_t unrolled = p.lon_e7 + turns * 2 * half_turn;
        west = std::min(west, unrolled);
        east = std::max(east, unrolled);
    }
    const auto rolled = [](std::int64_t lon) {
        return lon > half_turn ? lon - 2 * half_turn : lon < -half_turn ? lon + 2 * half_turn : lon;
    };
    const auto degrees = [](std::int64_t e7) { return Value(static_cast<double>(e7) / 1e7); };
    return Value::Array{degrees(rolled(west)), degrees(south), degrees(rolled(east)), degrees(north)};
}

Value text(const std::string& s) {
    return s.empty() ? Value() : Value(printable(s));
}
Value utc(const std::optional<Instant>& t) {
    return t ? Value(format_rfc3339(*t, TimeZone())) : Value();
}
Value km(double m) {
    return std::round(m) / 1000.0;
}

Value feature(Value geometry, Value properties) {
    return Value::Object{
        {"type", "Feature"}, {"geometry", std::move(geometry)}, {"properties", std::move(properties)}};
}

Value run_feature(const WayStretch& run, const PlannedWay& way, const std::string& name) {
    Value p;
    p.set("name", name);
    p.set("mode", Value(name_of(run.leg->mode)));
    p.set("surface_class", run.surface != nullptr ? Value(name_of(run.surface->surface)) : Value());
    p.set("known", run.surface != nullptr ? Value(run.surface->known) : Value());
    p.set("from_km", km(run.from_m));
    p.set("length_km", km(run.to_m - run.from_m));
    p.set("depart", utc(way.leaves(run.from_m)));
    p.set("arrive", utc(way.arrives(run.to_m)));
    return feature(line_geometry(way.cut(run.from_m, run.to_m)), std::move(p));
}

Value stop_feature(const PlanStop& s, const UnitWords& words) {
    const auto joined = [](const std::vector<std::string>& list) {
        return text(fmt::format("{}", fmt::join(list, "; ")));
    };
    Value p;
    p.set("name", fmt::format("{} {}", words.exact(s.at_m), stop_name(s.kind)));
    p.set("kind", text(s.kind));
    p.set("at_km", km(s.at_m));
    p.set("since_relube_km", km(s.since_relube_m));
    p.set("place", text(s.place));
    p.set("how_to_find", text(s.how_to_find));
    p.set("side", text(s.side));
    p.set("why", text(s.why));
    p.set("to_do", joined(s.to_do));
    p.set("cautions", joined(s.cautions));
    p.set("wait_min", std::round(s.wait_s / 6) / 10);
    p.set("arrive", utc(s.arrive));
    p.set("leave", utc(s.leave));
    return feature(Value::Object{{"type", "Point"}, {"coordinates", position(s.point)}}, std::move(p));
}

}  // namespace

std::string to_geojson(const Plan& plan, const std::string& option) {
    const Option& o = option_with_way(plan, option);
    const PlannedWay way(o);
    const std::string name = printable(fmt::format("{} to {}", plan.move.from_name, plan.move.to_name));
    Value::Array features;
    for (const WayStretch& run : stretches_of(o, way.length_m()))
        features.push_back(run_feature(run, way, name));
    Line all = way.points();
    for (const PlanStop& s : o.stops) {
        features.push_back(stop_feature(s, UnitWords(plan.units)));
        all.push_back(s.point);
    }
    Value::Array cautions;
    for (const std::string& caution : plan.cautions)
        cautions.push_back(printable(caution));
    Value out;
    out.set("type", "FeatureCollection");
    out.set("bbox", bounding_box(all));
    out.set("attribution", text(plan.region.attribution));
    out.set("map_date", text(plan.region.map_date));
    out.set("option", text(o.id));
    out.set("feasible", o.feasible);
    out.set("cautions", std::move(cautions));
    out.set("features", std::move(features));
    return to_json(out, 1) + "\n";
}

}  // namespace loamway
