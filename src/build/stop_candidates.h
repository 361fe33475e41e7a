// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_STOP_CANDIDATES_H
#define LOAMWAY_SRC_BUILD_STOP_CANDIDATES_H

// Places where a machine might stand, before they are judged. The figures are assumptions of this project
// (common practice, no source) unless another source is named.

#include <cstdint>
#include <span>
#include <vector>

#include "assembly.h"
#include "road_facts.h"

namespace loamway {

/// Why nobody should stand there; bits of StandingPlace::bars, the plainest reason first.
namespace stop_bar {
constexpr std::uint32_t fast_road = 1u << 0;
constexpr std::uint32_t closed = 1u << 1;  // no machine may drive on the road beside it
constexpr std::uint32_t structure = 1u << 2;
constexpr std::uint32_t level_crossing = 1u << 3;
constexpr std::uint32_t junction = 1u << 4;
constexpr std::uint32_t residential = 1u << 5;
constexpr std::uint32_t building = 1u << 6;
constexpr std::uint32_t power_line = 1u << 7;
constexpr std::uint32_t steep = 1u << 8;
constexpr std::uint32_t bend = 1u << 9;
constexpr std::uint32_t water = 1u << 10;
constexpr std::uint32_t short_way = 1u << 11;  // a side way too short, or closed too soon
constexpr std::uint32_t crest = 1u << 12;
constexpr std::uint32_t cycle_lane = 1u << 13;
constexpr std::uint32_t count = 14;
}  // namespace stop_bar

struct StandingPlace {
    GeoPoint stand;  // where the machine stands
    GeoPoint road;   // the nearest point of the road, or the mouth's node
    std::uint32_t edge = no_index;
    std::uint32_t offset_dm = 0;
    StopPlaceKind kind = StopPlaceKind::parking;
    std::uint32_t flags = 0;  // stop_flag
    std::uint32_t usable_dm = 0;
    std::uint32_t bars = 0;   // stop_bar
    std::uint32_t name = 0;   // string of the raw map
    std::uint32_t group = 0;  // candidates of one place on the map share a group: at most one is listed
    std::int64_t osm_id = 0;
    float to_road_m = 0.0f;
    bool on_farm = false;    // houses and barns belong to it
    bool side_road = false;  // reached only by a track or service road
    bool wide_road = false;
};

/// Rest areas, services, car parks, lay-bys, yards and passing places within 30 m of a road. Several
/// candidates along the rim of an area, so that one spot near a junction does not rule out the whole.
void add_mapped_stops(const Assembly& a, const MapAreas& areas, const RoadSegments& roads,
                      RoadFactsTable& facts, std::vector<StandingPlace>& candidates);

/// Mouths of gravel or earth tracks and service roads.
void add_side_way_mouths(const Assembly& a, RoadFactsTable& facts, std::vector<StandingPlace>& candidates);

/// Sets bars and the school flag by what lies around each candidate.
void judge_surroundings(const Assembly& a, const MapAreas& areas, RoadFactsTable& facts,
                        std::vector<StandingPlace>& candidates);

/// Takes the best of each group that may stand and scores enough, and counts why the others were left out.
void list_stop_places(Assembly& a, std::span<const StandingPlace> candidates);

}  // namespace loamway

#endif
