// SPDX-License-Identifier: Apache-2.0
// From ways to edges. A graph node is a map node where roads meet (or one road meets itself), where a road
// ends, also at the extract's rim, or whose own tags or turn restrictions matter.
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "assembly.h"
#include "hilbert.h"
#include "loamway/base/error.h"
#include "loamway/tags/structure.h"
#include "memory.h"
#include "node_store.h"

namespace loamway {

namespace {

/// How a map node is used by roads.
enum NodeUse : std::uint8_t { unused = 0, used = 1, cut = 2 };

void drop_repeats(Assembly& a, RawMap::Way& way) {
    std::uint32_t kept = way.ref_first;
    for (std::uint32_t i = way.ref_first; i < way.ref_first + way.ref_count; ++i)
        if (kept == way.ref_first || a.ref_node[kept - 1] != a.ref_node[i])
            a.ref_node[kept++] = a.ref_node[i];
    way.ref_count = kept - way.ref_first;
}

/// Calls `visit(first, count)` for every stretch of a road without a missing node that has two nodes or more.
template <class Visit>
void for_each_run(const Assembly& a, const RawMap::Way& way, Visit visit) {
    const std::uint32_t end = way.ref_first + way.ref_count;
    std::uint32_t first = way.ref_first;
    for (std::uint32_t i = first; i <= end; ++i)
        if (i == end || a.ref_node[i] == no_index) {
            if (i - first >= 2)
                visit(first, i - first);
            first = i + 1;
        }
}

void count_broken_roads(Assembly& a) {
    for (const RawMap::Way& way : a.map.roads) {
        std::uint32_t in_runs = 0;
        for_each_run(a, way, [&](std::uint32_t, std::uint32_t count) { in_runs += count; });
        const auto first = a.ref_node.begin() + way.ref_first;
        const bool cut_off = std::find(first, first + way.ref_count, no_index) != first + way.ref_count;
        if (way.ref_count == 1)
            a.counts.add("roads with a single node");
        else if (in_runs == 0 && way.ref_count > 0)
            a.counts.add("roads left out for want of nodes");
        else if (cut_off)
            a.counts.add("roads cut where the extract lacks nodes");
    }
}

std::vector<std::uint8_t> uses_of_nodes(const Assembly& a) {
    std::vector<std::uint8_t> use(a.map.node_points.size(), unused);
    for (const RawMap::Way& way : a.map.roads)
        for_each_run(a, way, [&](std::uint32_t first, std::uint32_t count) {
            for (std::uint32_t i = first; i < first + count; ++i) {
                std::uint8_t& u = use[a.ref_node[i]];
                u = u == unused ? used : cut;
            }
            use[a.ref_node[first]] = cut;
            use[a.ref_node[first + count - 1]] = cut;
        });
    return use;
}

/// Nodes with tags that matter and via nodes of turn restrictions, where a road runs through them.
void cut_at_special_nodes(Assembly& a, std::vector<std::uint8_t>& use) {
    AscendingIds lookup(a.map.node_ids);
    const auto cut_at = [&](std::int64_t id) {
        const std::uint32_t node = lookup.find(id);
        if (node != no_index && use[node] == used)
            use[node] = cut;
    };
    for (const RawMap::Node& n : a.map.tagged_nodes)
        if (is_node_that_matters(a.tags(n.tags)))
            cut_at(n.id);
    const std::uint32_t via = a.map.strings.add("via");
    for (const RawMap::Relation& r : a.map.restrictions)
        for (const RawMap::Member& m : r.members)
            if (m.type == 'n' && m.role == via)
                cut_at(m.ref);
}

void number_nodes(Assembly& a, const std::vector<std::uint8_t>& use) {
    struct Place {
        std::uint64_t along;
        std::uint32_t node;
    };
    std::vector<Place> order;
    for (std::uint32_t i = 0; i < use.size(); ++i)
        if (use[i] == cut)
            order.push_back({hilbert_index(a.map.node_points[i]), i});
    std::sort(order.begin(), order.end(), [](const Place& x, const Place& y) {
        return x.along != y.along ? x.along < y.along : x.node < y.node;
    });
    a.graph_node.assign(use.size(), no_index);
    a.out.node_lat.reserve(order.size());
    a.out.node_lon.reserve(order.size());
    a.out.node_osm.reserve(order.size());
    for (const Place& p : order) {
        a.graph_node[p.node] = static_cast<std::uint32_t>(a.out.node_lat.size());
        a.out.node_lat.push_back(a.map.node_points[p.node].lat_e7);
        a.out.node_lon.push_back(a.map.node_points[p.node].lon_e7);
        a.out.node_osm.push_back(a.map.node_ids[p.node]);
    }
}

/// Calls `visit(piece)` for every stretch of a road from one graph node to the next, in the order of the map.
template <class Visit>
void for_each_piece(const Assembly& a, Visit visit) {
    for (std::uint32_t w = 0; w < a.map.roads.size(); ++w)
        for_each_run(a, a.map.roads[w], [&](std::uint32_t first, std::uint32_t count) {
            std::uint32_t from = first;
            for (std::uint32_t i = first + 1; i < first + count; ++i)
                if (a.graph_node[a.ref_node[i]] != no_index) {
                    visit(RoadPiece{from, i - from + 1, w});
                    from = i;
                }
        });
}

/// Edges by tail, then in the order of the map (roads are ascending by id): counted first, then each put
/// where it belongs.
void number_edges(Assembly& a) {
    const auto tail = [&](const RoadPiece& p) { return a.graph_node[a.ref_node[p.ref_first]]; };
    std::vector<std::uint32_t> next(a.out.node_lat.size() + 1, 0);
    for_each_piece(a, [&](const RoadPiece& piece) { ++next[tail(piece) + 1]; });
    std::uint64_t count = 0;
    for (std::uint32_t& n : next) {
        count += n;
        n = static_cast<std::uint32_t>(count);
    }
    if (count >= no_index / 2)
        throw Error(ErrorKind::limit, "the extract has too many roads", "cut it into smaller extracts");
    a.pieces.resize(count);
    a.out.edges.resize(count);
    a.out.edge_way.resize(count);
    for_each_piece(a, [&](const RoadPiece& piece) {
        const std::uint32_t e = next[tail(piece)]++;
        a.pieces[e] = piece;
        a.out.edges[e].tail = tail(piece);
        a.out.edges[e].head = a.graph_node[a.ref_node[piece.ref_first + piece.ref_count - 1]];
        a.out.edge_way[e] = a.map.roads[piece.way].id;
    });
}

void keep_node_tags(Assembly& a) {
    AscendingIds lookup(a.map.node_ids);
    for (const RawMap::Node& n : a.map.tagged_nodes) {
        const std::uint32_t node = lookup.find(n.id);
        if (node == no_index || a.graph_node[node] == no_index)
            continue;
        const TagView tags = a.tags(n.tags);
        if (is_node_that_matters(tags))
            a.out.node_tags.push_back({a.graph_node[node], a.texts.add_tag_set(tags, matters_on_node)});
    }
    std::sort(a.out.node_tags.begin(), a.out.node_tags.end(),
              [](const NodeTagRecord& x, const NodeTagRecord& y) { return x.node < y.node; });
}

}  // namespace

TagView Assembly::tags(std::uint32_t list) const {
    TagView view;
    for (const auto& [key, value] : map.tags.get(list))
        view.add(map.strings.get(key), map.strings.get(value));
    return view;
}

void resolve_refs(Assembly& a) {
    a.ref_node = std::move(a.map.ref_nodes);
    for (std::uint32_t& node : a.ref_node)
        if (!a.map.node_found[node])
            node = no_index;
    release_memory(a.map.refs);
    for (RawMap::Way& way : a.map.roads)
        drop_repeats(a, way);
    for (RawMap::Way& way : a.map.areas)
        drop_repeats(a, way);
}

void split_roads(Assembly& a) {
    count_broken_roads(a);
    std::vector<std::uint8_t> use = uses_of_nodes(a);
    cut_at_special_nodes(a, use);
    number_nodes(a, use);
    if (a.out.node_lat.empty())
        throw Error(
            ErrorKind::input,
            "the extract holds no road that a machine or low-bed could use with two nodes in the extract",
            "fetch an extract with its nodes");
    number_edges(a);
    keep_node_tags(a);
}

}  // namespace loamway
