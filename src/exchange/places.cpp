// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/places.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>

#include "geojson_features.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/geodata/vector_features.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

constexpr std::size_t longest_name = 200;
constexpr std::size_t largest_file = std::size_t{64} << 20;
const std::vector<std::string_view>& kind_words() {
    static const std::vector<std::string_view> words{"place", "stop", "entrance"};
    return words;
}
constexpr std::size_t kind_stop = 1, kind_entrance = 2;

/// One feature, before fields have found their entrances.
struct RawPlace {
    std::string name;
    std::size_t kind = 0;
    GeoPoint point;  // of an area: its first corner
    bool area = false;
    std::string entrance;  // "LAT,LON" or empty
    std::vector<GeoPoint> outline;
    ErrorPlace at;
};

Error wrong(const RawPlace& raw, std::string what, std::string what_to_do) {
    return {ErrorKind::input, std::move(what), std::move(what_to_do), raw.at};
}

GeoPoint stated_entrance(const RawPlace& raw) {
    std::string why = "it is not LAT,LON";
    try {
        if (const auto p = parse_lat_lon(raw.entrance))
            return *p;
    } catch (const Error& e) {
        why = e.message();
    }
    throw wrong(raw, fmt::format("the entrance of \"{}\" cannot be read: {}", printable(raw.name), why),
                "write it as in 47.31,-35.52");
}

std::vector<PlaceEntry> join_entrances(const std::vector<RawPlace>& all) {
    std::map<std::string, GeoPoint> entrances;
    for (const RawPlace& raw : all)
        if (raw.kind == kind_entrance && !entrances.emplace(raw.name, raw.point).second)
            throw wrong(raw, fmt::format("\"{}\" has two entrances", printable(raw.name)),
                        "keep the one to use");
    std::vector<PlaceEntry> out;
    for (const RawPlace& raw : all) {
        if (raw.kind == kind_entrance)
            continue;
        PlaceEntry entry{raw.name, raw.point, raw.kind == kind_stop && !raw.area,
                         raw.area, !raw.area, raw.outline};
        if (!raw.entrance.empty()) {
            entry.point = stated_entrance(raw);
            entry.entrance_known = true;
        } else if (const auto e = entrances.find(raw.name); raw.area && e != entrances.end()) {
            entry.point = e->second;
            entry.entrance_known = true;
        }
        out.push_back(std::move(entry));
    }
    return out;
}

// ---- GeoJSON

/// Outer boundary of a Polygon, or of the first one of a MultiPolygon.
std::vector<GeoPoint> read_outline(const Table& geometry, const Value& coordinates, bool multi) {
    const Value* at = &coordinates;
    const auto corners = [&]() -> const Value::Array& {
        const Value::Array* list = at->as_array();
        if (list == nullptr || list->empty())
            throw geometry.error_at("coordinates", "the area has no corners");
        return *list;
    };
    for (int depth = multi ? 2 : 1; depth > 0; --depth)
        at = &corners().front();
    std::vector<GeoPoint> outline;
    for (const Value& corner : corners())
        outline.push_back(read_position(geometry, corner));
    return outline;
}

RawPlace read_feature(Table& feature) {
    std::optional<Table> properties = feature.table("properties");
    if (!properties)
        throw feature.error_at("properties", "the place has no properties", "give it a \"name\"");
    RawPlace out;
    out.at = {feature.document(), properties->line(), "name"};
    out.name = properties->require_text("name");
    if (out.name.empty() || out.name.size() > longest_name)
        throw properties->error_at("name", "the name is empty or too long", "use 1 to 200 bytes");
    out.kind = properties->word("kind", kind_words()).value_or(0);
    out.entrance = properties->text("entrance").value_or("");
    (void)properties->text("note");
    properties->finish();

    std::optional<Table> geometry = feature.table("geometry");
    if (!geometry)
        throw feature.error_at("geometry",
                               fmt::format("the place \"{}\" has no position", printable(out.name)));
    const std::string type = geometry->require_text("type");
    const Value* coordinates = geometry->value("coordinates");
    const Value position = coordinates == nullptr ? Value() : *coordinates;
    out.area = type == "Polygon" || type == "MultiPolygon";
    if (out.area) {
        out.outline = read_outline(*geometry, position, type == "MultiPolygon");
        out.point = out.outline.front();
    } else if (type == "Point")
        out.point = read_position(*geometry, position);
    else
        throw geometry->error_at("type",
                                 fmt::format("\"{}\" is not a Point and no area", printable(out.name)),
                                 "draw a point for a place, a Polygon for a field");
    if (!out.area && !out.entrance.empty())
        throw properties->error_at("entrance",
                                   fmt::format("\"{}\" is a point and has no entrance", printable(out.name)),
                                   "an entrance belongs to an area");
    (void)geometry->value("bbox");
    geometry->finish();
    return out;
}

// ---- files of map programs

/// Written for this program: map programs have a "kind" of their own in their files, not in a table.
bool is_table(const std::string& path) {
    return ascii_lower(path).ends_with(".csv");
}

Error unknown_kind(const RawPlace& raw, const std::string& kind) {
    const std::string near = nearest_name(kind, kind_words());
    return wrong(raw,
                 fmt::format("{}: kind \"{}\" of \"{}\" is not known", raw.at.item, printable(kind),
                             printable(raw.name)),
                 near.empty() ? "leave it empty, or write one of \"place\", \"stop\", \"entrance\""
                              : fmt::format("did you mean \"{}\"?", near));
}

std::vector<RawPlace> read_with_gdal(const std::string& path) {
    std::vector<RawPlace> out;
    for (const ReadFeature& f : read_vector_file(path)) {
        RawPlace raw;
        const bool table = is_table(path);
        // A table's first row names its columns.
        raw.at = {
            path, {}, table ? fmt::format("row {}", f.number + 1) : fmt::format("feature {}", f.number)};
        raw.name = f.attribute("name");
        if (raw.name.empty())
            continue;
        if (raw.name.size() > longest_name)
            throw wrong(raw, "the name is too long", "use 1 to 200 bytes");
        const std::string kind = f.attribute("kind");
        const auto word = std::find(kind_words().begin(), kind_words().end(), kind);
        if (word != kind_words().end())
            raw.kind = static_cast<std::size_t>(word - kind_words().begin());
        else if (table && !kind.empty())
            throw unknown_kind(raw, kind);
        raw.area = !f.rings.empty();
        raw.point = raw.area ? f.rings.front().front() : f.points.front();
        if (raw.area)
            raw.outline = f.rings.front();
        if (raw.area)
            raw.entrance = f.attribute("entrance");
        out.push_back(std::move(raw));
    }
    if (out.empty())
        throw Error(ErrorKind::input, "the file has no point and no area with a name",
                    "give the features an attribute \"name\"", {path, {}, {}});
    return out;
}

}  // namespace

std::vector<PlaceEntry> parse_places(std::string_view json, const std::string& file) {
    std::vector<RawPlace> all;
    read_features(
        parse_document(json, file, DocumentKind::places), file, "places", [](Table&) {},
        [&](Table& feature) { all.push_back(read_feature(feature)); });
    return join_entrances(all);
}

std::vector<PlaceEntry> read_places(const std::string& path) {
    require_plain_path(path);
    if (is_vector_file(path))
        return join_entrances(read_with_gdal(path));
    return parse_places(read_text_file(path, largest_file), path);
}

}  // namespace loamway
