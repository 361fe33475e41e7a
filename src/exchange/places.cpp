// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/places.h"

#include <fmt/format.h>

#include "geojson_features.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

constexpr std::size_t longest_name = 200;
constexpr std::size_t largest_file = std::size_t{64} << 20;

PlaceEntry read_feature(Table& feature) {
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
    const Value* position = geometry->value("coordinates");
    out.point = read_position(*geometry, position == nullptr ? Value() : *position);
    (void)geometry->value("bbox");
    geometry->finish();
    return out;
}

}  // namespace

std::vector<PlaceEntry> parse_places(std::string_view json, const std::string& file) {
    std::vector<PlaceEntry> out;
    read_features(
        parse_json(json, file), file, "places", [](Table&) {},
        [&](Table& feature) { out.push_back(read_feature(feature)); });
    return out;
}

std::vector<PlaceEntry> read_places(const std::string& path) {
    require_plain_path(path);
    return parse_places(read_text_file(path, largest_file), path);
}

}  // namespace loamway
