// SPDX-License-Identifier: Apache-2.0
// The arrays of a region in memory: views of a builder's vectors.
#include "loamway/region/region.h"

namespace loamway {

RegionView RegionData::view() const {
    RegionView v;
    v.node_lat = node_lat;
    v.node_lon = node_lon;
    v.arc_first = arc_first;
    v.arcs = arcs;
    v.edges = edges;
    v.edge_way = edge_way;
    v.node_osm = node_osm;
    v.component = component;
    v.node_tags = node_tags;
    v.tag_set_first = tag_set_first;
    v.tag_set_strings = tag_set_strings;
    v.string_first = string_first;
    v.string_bytes = string_bytes;
    v.shapes = shapes;
    v.restrictions = restrictions;
    v.restriction_edges = restriction_edges;
    v.stop_places = stop_places;
    v.places = places;
    v.background = background;
    v.background_points = background_points;
    v.grid_header = grid_header;
    v.grid_first = grid_first;
    v.grid_edges = grid_edges;
    v.node_rank = node_rank;
    v.tree_parent = tree_parent;
    v.up_first = up_first;
    v.up_head = up_head;
    v.edge_climb = edge_climb;
    v.heights = heights;
    return v;
}

}  // namespace loamway
