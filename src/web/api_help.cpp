// SPDX-License-Identifier: Apache-2.0
#include "api_help.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "loamway/base/names.h"

namespace loamway {

namespace {

std::optional<double> parsed(std::string_view text) {
    double v = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), v);
    if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(v))
        return std::nullopt;
    return v;
}

bool plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.';
}

}  // namespace

void reply_json(Exchange& exchange, const Value& value, int status) {
    exchange.reply({.status = status, .body = to_json(value) + "\n"});
}

Value text_or_null(const std::string& text) {
    return text.empty() ? Value() : Value(text);
}

Value body_of(const HttpRequest& request) {
    Value body = parse_json(request.body, body_name, {.bytes = std::size_t{8} << 20});
    if (body.as_object() == nullptr)
        throw Error(ErrorKind::input, "the body is no JSON object", "send a table of keys");
    return body;
}

Plan plan_of(const Value& body) {
    const Value* plan = body.find("plan");
    if (plan == nullptr)
        throw Error(ErrorKind::input, "the body has no plan", "send {\"plan\": ...} as it was answered",
                    {{}, {}, "plan"});
    return plan_from_json(*plan, body_name);
}

std::optional<double> number_of(const HttpRequest& request, const std::string& name, double low,
                                double high) {
    const std::string_view text = request.parameter(name);
    if (text.empty())
        return std::nullopt;
    const std::optional<double> v = parsed(text);
    if (!v || *v < low || *v > high)
        throw Error(ErrorKind::input, fmt::format("{} is no number from {} to {}", name, low, high), {},
                    {{}, {}, name});
    return v;
}

GeoPoint point_of(const HttpRequest& request) {
    const auto lat = number_of(request, "lat", -90, 90), lon = number_of(request, "lon", -180, 180);
    if (!lat || !lon)
        throw Error(ErrorKind::input, "a point is missing", "give lat and lon in degrees");
    return GeoPoint::from_degrees(*lat, *lon);
}

std::pair<GeoPoint, GeoPoint> box_of(const HttpRequest& request) {
    std::array<double, 4> v{};
    std::string_view rest = request.parameter("bbox");
    for (std::size_t i = 0; i < v.size(); ++i) {
        const std::size_t comma = i + 1 < v.size() ? rest.find(',') : rest.size();
        const auto number = comma == std::string_view::npos ? std::nullopt : parsed(rest.substr(0, comma));
        const double most = i == 2 ? 540 : i == 0 ? 180 : 90;
        if (!number || std::abs(*number) > most)
            throw Error(ErrorKind::input, "bbox is no box", "west,south,east,north in degrees",
                        {{}, {}, "bbox"});
        v[i] = *number;
        rest.remove_prefix(std::min(comma + 1, rest.size()));
    }
    const bool over_date_line = v[2] > 180;
    if (v[0] > v[2] || v[1] > v[3] || (over_date_line && v[2] - v[0] >= 360))
        throw Error(ErrorKind::input, "bbox is no box", "west,south,east,north in degrees", {{}, {}, "bbox"});
    return {GeoPoint::from_degrees(v[1], v[0]),
            GeoPoint::from_degrees(v[3], over_date_line ? v[2] - 360 : v[2])};
}

void reply_file(Exchange& exchange, std::string bytes, std::string_view content_type, std::string_view name) {
    std::string safe;
    for (const char c : name)
        safe += plain(c) ? c : '-';
    exchange.reply({.content_type = std::string(content_type),
                    .body = std::move(bytes),
                    .headers = {{"Content-Disposition", fmt::format("attachment; filename=\"{}\"", safe)}}});
}

std::string_view type_of(std::string_view ending) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 11> types{
        {{"pdf", "application/pdf"},
         {"svg", "image/svg+xml"},
         {"png", "image/png"},
         {"html", "text/html; charset=utf-8"},
         {"txt", "text/plain; charset=utf-8"},
         {"json", "application/json"},
         {"csv", "text/csv; charset=utf-8"},
         {"gpx", "application/gpx+xml"},
         {"geojson", "application/geo+json"},
         {"gpkg", "application/geopackage+sqlite3"},
         {"kml", "application/vnd.google-earth.kml+xml"}}};
    const auto* found =
        std::find_if(types.begin(), types.end(), [&](const auto& t) { return t.first == ending; });
    return found == types.end() ? "application/octet-stream" : found->second;
}

}  // namespace loamway
