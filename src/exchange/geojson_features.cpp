// SPDX-License-Identifier: Apache-2.0
#include "geojson_features.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

/// Map programs of before RFC 7946 wrote a "crs" member. WGS84 may pass; anything else would move everything.
void check_crs(const Table& top, const Value* crs, std::string_view things) {
    if (crs == nullptr || crs->is_null())
        return;
    const Value* properties = crs->find("properties");
    const Value* name = properties == nullptr ? nullptr : properties->find("name");
    const std::string* text = name == nullptr ? nullptr : name->as_string();
    if (text == nullptr || (text->find("CRS84") == std::string::npos && !text->ends_with(":4326")))
        throw top.error_at("crs", fmt::format("the {} are in a coordinate system other than WGS84", things),
                           "save them as GeoJSON in WGS84 (RFC 7946)");
}

void begin_feature(Table& feature) {
    (void)feature.value("id");
    (void)feature.value("bbox");
}

}  // namespace

GeoPoint read_position(const Table& geometry, const Value& position) {
    const Value::Array* list = position.as_array();
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

void read_features(const Value& document, const std::string& file, std::string_view things,
                   const std::function<void(Table& top)>& top_members,
                   const std::function<void(Table& feature)>& each) {
    if (document.as_object() == nullptr)
        throw Error(ErrorKind::input, "this is not GeoJSON", "a FeatureCollection is needed",
                    {file, document.line(), {}});
    Table top(document, file);
    const std::string type = top.require_text("type");
    if (type == "Feature") {
        begin_feature(top);
        each(top);
        top.finish();
        return;
    }
    if (type != "FeatureCollection")
        throw top.error_at("type", fmt::format("\"{}\" is not a FeatureCollection", printable(type)),
                           "a FeatureCollection is needed");
    (void)top.value("name");
    (void)top.value("bbox");
    check_crs(top, top.value("crs"), things);
    top_members(top);
    if (!top.has("features"))
        throw top.error_at("features", "the FeatureCollection has no \"features\"");
    for (Table& feature : top.tables("features")) {
        if (feature.require_text("type") != "Feature")
            throw feature.error_at("type", "this is not a Feature");
        begin_feature(feature);
        each(feature);
        feature.finish();
    }
    top.finish();
}

}  // namespace loamway
