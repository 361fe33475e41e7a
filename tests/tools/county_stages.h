// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_COUNTY_STAGES_H
#define LOAMWAY_TESTS_TOOLS_COUNTY_STAGES_H

// The stages of drawing the county, in the order they run, and what they share.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "county.h"

namespace loamway {

void draw_river(County& county);
void draw_section_roads(County& county);
void draw_highway(County& county);
void draw_railway(County& county);
void draw_motorway(County& county);
/// Bridges, the ford, and dead ends where no bridge was built. Needs every long road.
void cross_river(County& county);
void draw_towns(County& county);
void draw_farms(County& county);
void draw_tracks(County& county);
void draw_fields(County& county);
void draw_stopping_places(County& county);
void draw_barriers(County& county);
void draw_conditions(County& county);
void draw_landscape(County& county);
void draw_turn_restrictions(County& county);
/// Removes roads that nothing connects with the rest, and tags the level crossings.
void finish_roads(County& county);

[[nodiscard]] inline Spot miles(double x, double y) {
    return {x * mile, y * mile};
}
[[nodiscard]] std::vector<Spot> miles_chain(const std::vector<Spot>& in_miles);
/// The four corners of a rectangle around `middle`, one side along a-b.
[[nodiscard]] std::vector<Spot> rectangle(Spot middle, Spot a, Spot b, double along, double across);

/// Whether nothing stands within `radius`: river, railway, towns, lakes.
[[nodiscard]] bool is_free(const County& county, Spot spot, double radius);
/// Whether a new road along these points meets nothing except at its first and last point.
[[nodiscard]] bool is_clear(const County& county, const std::vector<Spot>& path);
/// A road that a side way may start from.
[[nodiscard]] bool takes_side_ways(const DraftLine& line);
[[nodiscard]] bool is_gravel_road(const DraftLine& line);
[[nodiscard]] bool is_paved_road(const DraftLine& line);  // one that takes side ways

/// A place beside the nearest road that passes a filter: the vertex on the road, and the two points that give
/// the road's direction there.
struct Roadside {
    VertexId on_road;
    Spot at;
    Spot ahead;
    [[nodiscard]] Spot beside(double along, double left) const { return offset(at, ahead, along, left); }
};
[[nodiscard]] std::optional<Roadside> find_roadside(const County& county, Spot near, double within,
                                                    const Draft::Filter& filter = takes_side_ways);
/// The same, and puts the vertex into the road (on_road is valid only then).
[[nodiscard]] std::optional<Roadside> open_roadside(County& county, Spot near, double within,
                                                    const Draft::Filter& filter = takes_side_ways);

/// The same where the county counts on a road being there; throws when there is none.
[[nodiscard]] Roadside require_roadside(const County& county, Spot near, double within,
                                        const Draft::Filter& filter = takes_side_ways);
[[nodiscard]] Roadside require_open_roadside(County& county, Spot near, double within,
                                             const Draft::Filter& filter = takes_side_ways);
/// The nearest line that passes the filter, and where on it; throws when there is none.
[[nodiscard]] Draft::Near require_nearest(const County& county, Spot near, double within,
                                          const Draft::Filter& filter);

/// The line of a course nearest to a place; throws when there is none within 400 m.
[[nodiscard]] LineId line_of(const County& county, std::string_view course, Spot near);

void name_spot(County& county, Spot spot, std::string_view kind, std::string_view name);
void add_building(County& county, Spot middle, Spot a, Spot b, double along, double across,
                  std::string_view kind);

}  // namespace loamway

#endif
