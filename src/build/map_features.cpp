// SPDX-License-Identifier: Apache-2.0
#include "map_features.h"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <utility>

namespace loamway {

namespace {

using Words = std::initializer_list<std::string_view>;

bool is_one_of(const TagView& tags, std::string_view key, Words words) {
    const auto value = tags.get(key);
    return value && std::ranges::find(words, *value) != words.end();
}

bool is_set(const TagView& tags, std::string_view key) {
    const auto value = tags.get(key);
    return value && *value != "no";
}

/// Protection by class: landscape and resource areas (5 to 7 and above, except water protection, 12) cover
/// whole counties and say nothing about powder. Without a class the stricter reading holds (assumption).
bool is_protection_area(const TagView& tags) {
    if (tags.is("leisure", "nature_reserve") || tags.is("boundary", "national_park"))
        return true;
    if (!tags.is("boundary", "protected_area"))
        return false;
    const auto protect_class = tags.get("protect_class");
    return !protect_class || is_one_of(tags, "protect_class", {"1", "1a", "1b", "2", "3", "4", "12"});
}

/// place=town on the boundary of a municipality covers its fields too.
bool is_built_up(const TagView& tags) {
    if (is_one_of(tags, "landuse", {"residential", "commercial", "retail", "industrial"}))
        return true;
    return !tags.has("boundary") && is_one_of(tags, "place",
                                              {"city", "town", "village", "hamlet", "suburb", "neighbourhood",
                                               "quarter", "borough", "city_block"});
}

std::uint32_t ground_features(const TagView& tags) {
    std::uint32_t f = 0;
    if (tags.is("natural", "water") || is_one_of(tags, "waterway", {"riverbank", "dock"}) ||
        is_one_of(tags, "landuse", {"reservoir", "basin"}))
        f |= map_feature::water_area;
    if (tags.is("natural", "wetland"))
        f |= map_feature::wetland;
    if (is_one_of(tags, "waterway", {"river", "canal"}))
        f |= map_feature::river_line;
    if (tags.is("waterway", "stream"))
        f |= map_feature::stream_line;
    if (is_protection_area(tags))
        f |= map_feature::protection;
    if (tags.is("landuse", "forest") || tags.is("natural", "wood"))
        f |= map_feature::forest;
    if (is_built_up(tags))
        f |= map_feature::built_up;
    if (tags.is("landuse", "residential"))
        f |= map_feature::residential;
    return f;
}

std::uint32_t structure_features(const TagView& tags) {
    std::uint32_t f = 0;
    if (is_set(tags, "building"))
        f |= map_feature::building;
    if (is_one_of(tags, "power", {"line", "minor_line"}))
        f |= map_feature::power_line;
    if (tags.is("railway", "rail"))
        f |= map_feature::railway_line;
    if (tags.is("amenity", "school"))
        f |= map_feature::school;
    if (is_set(tags, "tunnel"))
        f |= map_feature::under_ground;
    return f;
}

/// A car park where a machine could stand: on the ground, open to the public, nothing said about a height
/// or weight that could not be compared with the machine here.
bool is_fit_parking(const TagView& tags) {
    if (is_one_of(tags, "access", {"private", "no"}) || is_one_of(tags, "motor_vehicle", {"private", "no"}))
        return false;
    if (is_set(tags, "maxheight") || is_set(tags, "maxweight") || is_set(tags, "building") ||
        is_set(tags, "covered"))
        return false;
    return !is_one_of(tags, "parking",
                      {"multi-storey", "underground", "rooftop", "sheds", "carports", "garage_boxes", "lane",
                       "on_kerb", "half_on_kerb"});
}

std::uint32_t stop_features(const TagView& tags) {
    std::uint32_t f = 0;
    if (tags.is("highway", "rest_area"))
        f |= map_feature::rest_area;
    if (tags.is("highway", "services"))
        f |= map_feature::services;
    if (tags.is("highway", "passing_place"))
        f |= map_feature::passing_place;
    if (tags.is("amenity", "parking") && is_fit_parking(tags))
        f |= tags.is("parking", "layby") ? map_feature::lay_by : map_feature::parking;
    else if (tags.is("parking", "layby") && is_fit_parking(tags))
        f |= map_feature::lay_by;
    if (tags.is("landuse", "farmyard"))
        f |= map_feature::farmyard;
    if (tags.is("landuse", "industrial"))
        f |= map_feature::industrial;
    return f;
}

constexpr std::array road_only_keys = {
    std::string_view("name"),    std::string_view("ref"),     std::string_view("covered"),
    std::string_view("highway"), std::string_view("incline"), std::string_view("junction"),
    std::string_view("service"), std::string_view("width"),   std::string_view("access"),
    std::string_view("bridge"),  std::string_view("tunnel"),  std::string_view("motorcar")};

constexpr std::array feature_keys = {
    std::string_view("access"),    std::string_view("amenity"),   std::string_view("boundary"),
    std::string_view("building"),  std::string_view("covered"),   std::string_view("highway"),
    std::string_view("landuse"),   std::string_view("leisure"),   std::string_view("man_made"),
    std::string_view("maxheight"), std::string_view("maxweight"), std::string_view("motor_vehicle"),
    std::string_view("name"),      std::string_view("natural"),   std::string_view("parking"),
    std::string_view("place"),     std::string_view("power"),     std::string_view("protect_class"),
    std::string_view("railway"),   std::string_view("surface"),   std::string_view("tunnel"),
    std::string_view("waterway")};

}  // namespace

std::uint32_t features_of(const TagView& tags) {
    return ground_features(tags) | structure_features(tags) | stop_features(tags);
}

bool is_road_key(std::string_view key) {
    return matters_on_way(key) || std::ranges::find(road_only_keys, key) != road_only_keys.end() ||
           key.starts_with("shoulder") || key == "cycleway" || key.starts_with("cycleway:");
}

bool is_feature_key(std::string_view key) {
    return std::ranges::find(feature_keys, key) != feature_keys.end();
}

std::optional<PlaceKind> place_kind_of(const TagView& tags) {
    constexpr std::array<std::pair<std::string_view, PlaceKind>, 11> kinds = {{
        {"city", PlaceKind::city},
        {"town", PlaceKind::town},
        {"village", PlaceKind::village},
        {"hamlet", PlaceKind::hamlet},
        {"suburb", PlaceKind::suburb},
        {"quarter", PlaceKind::suburb},
        {"neighbourhood", PlaceKind::suburb},
        {"borough", PlaceKind::suburb},
        {"locality", PlaceKind::locality},
        {"farm", PlaceKind::farm},
        {"isolated_dwelling", PlaceKind::farm},
    }};
    if (const auto place = tags.get("place"))
        for (const auto& [word, kind] : kinds)
            if (word == *place)
                return kind;
    if (tags.is("landuse", "farmyard"))
        return PlaceKind::farm;
    if (tags.has("place") || tags.has("man_made") || tags.has("landuse") || tags.has("amenity") ||
        tags.is("railway", "station"))
        return PlaceKind::other;
    return std::nullopt;
}

}  // namespace loamway
