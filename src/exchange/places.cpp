// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/places.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

constexpr std::size_t longest_name = 200;
constexpr std::size_t largest_file = std::size_t{64} << 20;

GeoPoint read_position(const Table& geometry, const Value* coordinates) {
    const Value::Array* list = coordinates == nullptr ? nullptr : coordinates->as_array();
    if (list == nullptr || list->size() < 2 || list->size() > 3 || !(*list)[0].is_number() ||
        !(*list)[1].is_number())
        throw geometry.error_at("coordinates", "a point's coordinates are not [longitude, latitude]");
    const double lon = (*list)[0].number();
    const double lat = (*list)[1].number();
    if (std::abs(lat) > 90 || std::abs(lon) > 180) {
        const bool swapped = std::abs(lat) <= 180 && std::abs(lon) <= 90;
        throw geometry.error_at("coordinates", fmt::format("[{}, {}] is no longitude and latitude", lon, lat),
                                swapped ? "are they swapped? GeoJSON has the longitude first"
                                        : "GeoJSON positions are WGS84 degrees, longitude first");
    }
    return GeoPoint::from_degrees(lat, lon);
}

PlaceEntry read_feature(Table& feature) {
    if (feature.require_text("type") != "Feature")
        throw feature.error_at("type", "this is not a Feature");
    (void)feature.value("id");
    (void)feature.value("bbox");
    std::optional<Table> properties = feature.table("properties");
    if (!properties)
        throw feature.error_at("properties", "the place has no properties", "give it a \"name\"");
    PlaceEntry out;
    out.name = properties->require_text("name");
    if (out.name.empty() || out.name.size() > longest_name)
        throw properties->error_at("name", "the name is empty or too long", "use 1 to 200 bytes");
    out.stop = properties->word("kind", {"place", "stop"}).value_or(0) == 1;
    (void)properties->text("note");
    properties->finish();

    std::optional<Table> geometry = feature.table("geometry");
    if (!geometry)
        throw feature.error_at("geometry", fmt::format("the place \"{}\" has no position", out.name));
    if (geometry->require_text("type") != "Point")
        throw geometry->error_at("type", fmt::format("the place \"{}\" is not a Point", out.name),
                                 "draw one point for each place");
    out.point = read_position(*geometry, geometry->value("coordinates"));
    (void)geometry->value("bbox");
    geometry->finish();
    feature.finish();
    return out;
}

/// Map programs of before RFC 7946 wrote a "crs" member. WGS84 may pass; anything else would move every
/// place.
void check_crs(const Table& top, const Value* crs) {
    if (crs == nullptr || crs->is_null())
        return;
    const Value* properties = crs->find("properties");
    const Value* name = properties == nullptr ? nullptr : properties->find("name");
    const std::string* text = name == nullptr ? nullptr : name->as_string();
    if (text == nullptr || (text->find("CRS84") == std::string::npos && !text->ends_with(":4326")))
        throw top.error_at("crs", "the places are in a coordinate system other than WGS84",
                           "save them as GeoJSON in WGS84 (RFC 7946)");
}

}  // namespace

std::vector<PlaceEntry> parse_places(std::string_view json, const std::string& file) {
    const Value document = parse_json(json, file);
    if (document.as_object() == nullptr)
        throw Error(ErrorKind::input, "this is not GeoJSON", "a FeatureCollection of Points is needed",
                    {file, document.line(), {}});
    Table top(document, file);
    const std::string type = top.require_text("type");
    std::vector<PlaceEntry> out;
    if (type == "Feature") {
        out.push_back(read_feature(top));
        return out;
    }
    if (type != "FeatureCollection")
        throw top.error_at("type", fmt::format("\"{}\" is not a FeatureCollection", type),
                           "a FeatureCollection of Points with a \"name\" each is needed");
    (void)top.value("name");
    (void)top.value("bbox");
    check_crs(top, top.value("crs"));
    if (!top.has("features"))
        throw top.error_at("features", "the FeatureCollection has no \"features\"");
    for (Table& feature : top.tables("features"))
        out.push_back(read_feature(feature));
    top.finish();
    return out;
}

std::vector<PlaceEntry> read_places(const std::string& path) {
    require_plain_path(path);
    return parse_places(read_text_file(path, largest_file), path);
}

}  // namespace loamway
