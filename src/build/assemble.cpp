// SPDX-License-Identifier: Apache-2.0
#include <string_view>
#include <utility>

#include "assembly.h"
#include "learn_surfaces.h"
#include "loamway/base/error.h"
#include "map_areas.h"
#include "memory.h"
#include "road_facts.h"
#include "road_heights.h"
#include "road_segments.h"
#include "stop_candidates.h"

namespace loamway {

namespace {

constexpr std::string_view openstreetmap = "© OpenStreetMap contributors, ODbL 1.0";

RegionMeta meta_of(const Recipe& recipe, const std::string& name, const RawMap& map) {
    RegionMeta meta;
    meta.name = name;
    meta.map_date = map.map_date;
    meta.time_zone = recipe.time_zone.empty() ? "UTC" : recipe.time_zone;
    meta.time_zone_assumed = recipe.time_zone.empty();
    meta.attribution = recipe.attribution.empty() ? std::string(openstreetmap) : recipe.attribution;
    meta.source_digest = map.source_digest;
    meta.recipe = recipe.name;
    meta.odds_factor = recipe.odds_factor;
    meta.drives_on_right = recipe.drives_on_right;
    meta.units = recipe.units;
    meta.permit_from_width_m = recipe.permit_from_width.metres();
    meta.escort_from_width_m = recipe.escort_from_width.metres();
    if (recipe.daylight_from_width)
        meta.daylight_from_width_m = recipe.daylight_from_width->metres();
    meta.national_height_m = recipe.national_height.metres();
    meta.currency = recipe.currency;
    if (recipe.wide_move_hours)
        meta.wide_move_hours = {recipe.wide_move_hours->from, recipe.wide_move_hours->to};
    if (recipe.school_hours)
        meta.school_hours = {recipe.school_hours->from, recipe.school_hours->to};
    return meta;
}

void forget_ids(Assembly& a) {
    release_memory(a.map.node_ids);
    release_memory(a.map.node_found);
    release_memory(a.graph_node);
    a.map.node_points.shrink_to_fit();
    trim_memory();
}

/// The index of road segments and the arcs are the two largest things here; they do not live together.
void find_stop_places_and_draw(Assembly& a, const MapAreas& areas) {
    RoadFactsTable facts(a);
    std::vector<StandingPlace> candidates;
    {
        const RoadSegments roads(a);
        add_mapped_stops(a, areas, roads, facts, candidates);
        draw_background(a, areas, roads);
    }
    trim_memory();
    connect_arcs(a.out);
    number_components(a.out);
    add_side_way_mouths(a, facts, candidates);
    judge_surroundings(a, areas, facts, candidates);
    list_stop_places(a, candidates);
}

}  // namespace

RegionData assemble(RawMap map, const Recipe& recipe, const std::string& name, const Progress& progress,
                    const std::optional<Elevation>& elevation) {
    const auto tell = [&](std::string_view stage, double fraction) {
        if (progress)
            progress(stage, fraction);
    };
    Assembly a(std::move(map), recipe);
    a.out.meta = meta_of(recipe, name, a.map);
    tell("splitting roads at junctions", 0.0);
    resolve_refs(a);
    split_roads(a);
    tell("resolving turn restrictions", 0.3);
    resolve_restrictions(a);
    forget_ids(a);
    tell("putting areas together", 0.35);
    {
        const MapAreas areas(a);
        tell("reading surfaces", 0.4);
        describe_edges(a, areas);
        tell("learning surfaces from the roads that say theirs", 0.5);
        learn_surfaces(a);
        if (elevation) {
            tell("taking heights along roads", 0.55);
            add_heights(a.out, *elevation, a.counts);
        }
        tell("finding stop places", 0.6);
        find_stop_places_and_draw(a, areas);
        collect_places(a, areas);
    }
    tell("making the snapping grid", 0.9);
    make_snapping_grid(a);
    a.texts.move_to(a.out);
    a.out.meta.counts = a.counts.take();
    tell("ordering nodes", 0.93);
    a.map = {};
    trim_memory();
    order_nodes(a.out);
    tell("done", 1.0);
    return std::move(a.out);
}

}  // namespace loamway
