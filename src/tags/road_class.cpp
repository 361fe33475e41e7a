// SPDX-License-Identifier: Apache-2.0
#include "road_class.h"

#include "loamway/tags/road_classes.h"
#include "tag_text.h"

namespace loamway {

std::string_view without_link(std::string_view highway) {
    constexpr std::string_view link = "_link";
    if (highway.ends_with(link))
        highway.remove_suffix(link.size());
    return highway;
}

RoadUse road_use(std::string_view highway) {
    const std::string_view road = without_link(highway);
    if (tag_is_in(road, {"residential", "service", "track", "unclassified", "tertiary", "secondary",
                         "primary", "trunk", "living_street", "road"}))
        return RoadUse::open;
    if (road == "motorway")
        return RoadUse::motorway;
    if (tag_is_in(highway, {"construction", "proposed", "planned", "abandoned", "disused", "razed",
                            "demolished", "historic"}))
        return RoadUse::not_yet;
    if (tag_is_in(highway, {"steps", "corridor", "elevator", "ladder", "via_ferrata", "platform", "bus_stop",
                            "services", "rest_area", "traffic_island", "emergency_bay", "no", ""}))
        return RoadUse::never;
    // Paths of every kind, and values this program has never heard of.
    return RoadUse::restricted;
}

}  // namespace loamway
