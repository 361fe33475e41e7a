// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_BOOST_GRAPH_H
#define LOAMWAY_GRAPH_BOOST_GRAPH_H

// RoadGraph as a model of Boost.Graph's VertexListGraph, EdgeListGraph and IncidenceGraph, without a copy:
// vertices are node numbers, edges are arc numbers. The only public header that shows a library.

#include <boost/graph/graph_concepts.hpp>
#include <boost/graph/graph_traits.hpp>
#include <boost/iterator/counting_iterator.hpp>
#include <boost/property_map/property_map.hpp>
#include <utility>

#include "loamway/graph/road_graph.h"

namespace loamway {

struct RoadGraphCategory : public virtual boost::vertex_list_graph_tag,
                           public virtual boost::edge_list_graph_tag,
                           public virtual boost::incidence_graph_tag {};

/// Key and value are both the arc or node number.
struct RoadIndexMap {
    using key_type = std::uint32_t;
    using value_type = std::uint32_t;
    using reference = std::uint32_t;
    using category = boost::readable_property_map_tag;
};
inline std::uint32_t get(const RoadIndexMap&, std::uint32_t key) {
    return key;
}

}  // namespace loamway

namespace boost {

template <>
struct graph_traits<loamway::RoadGraph> {
    using vertex_descriptor = std::uint32_t;
    using edge_descriptor = std::uint32_t;
    using directed_category = directed_tag;
    using edge_parallel_category = allow_parallel_edge_tag;
    using traversal_category = loamway::RoadGraphCategory;
    using vertex_iterator = counting_iterator<std::uint32_t>;
    using edge_iterator = counting_iterator<std::uint32_t>;
    using out_edge_iterator = counting_iterator<std::uint32_t>;
    using vertices_size_type = std::uint32_t;
    using edges_size_type = std::uint32_t;
    using degree_size_type = std::uint32_t;
    static vertex_descriptor null_vertex() { return loamway::NodeId::none_value; }
};

template <>
struct property_map<loamway::RoadGraph, vertex_index_t> {
    using type = loamway::RoadIndexMap;
    using const_type = loamway::RoadIndexMap;
};

}  // namespace boost

namespace loamway {

using RoadTraits = boost::graph_traits<RoadGraph>;

inline std::pair<RoadTraits::vertex_iterator, RoadTraits::vertex_iterator> vertices(const RoadGraph& g) {
    return {RoadTraits::vertex_iterator(0),
            RoadTraits::vertex_iterator(static_cast<std::uint32_t>(g.node_count()))};
}
inline std::pair<RoadTraits::edge_iterator, RoadTraits::edge_iterator> edges(const RoadGraph& g) {
    return {RoadTraits::edge_iterator(0),
            RoadTraits::edge_iterator(static_cast<std::uint32_t>(g.arc_count()))};
}
inline std::pair<RoadTraits::out_edge_iterator, RoadTraits::out_edge_iterator> out_edges(std::uint32_t node,
                                                                                         const RoadGraph& g) {
    return {RoadTraits::out_edge_iterator(g.arc_begin(NodeId{node})),
            RoadTraits::out_edge_iterator(g.arc_end(NodeId{node}))};
}
inline std::uint32_t out_degree(std::uint32_t node, const RoadGraph& g) {
    return g.arc_end(NodeId{node}) - g.arc_begin(NodeId{node});
}
inline std::uint32_t num_vertices(const RoadGraph& g) {
    return static_cast<std::uint32_t>(g.node_count());
}
inline std::uint32_t num_edges(const RoadGraph& g) {
    return static_cast<std::uint32_t>(g.arc_count());
}
inline std::uint32_t source(std::uint32_t arc, const RoadGraph& g) {
    return g.tail(ArcId{arc}).value();
}
inline std::uint32_t target(std::uint32_t arc, const RoadGraph& g) {
    return g.head(ArcId{arc}).value();
}
inline RoadIndexMap get(boost::vertex_index_t, const RoadGraph&) {
    return {};
}

}  // namespace loamway

#endif
