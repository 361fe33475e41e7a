// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>
#include <unordered_map>

#include "road_heights.h"

namespace loamway {
namespace {

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();
constexpr double longest_void_m = 500;     // from a point to the rims of the void around it (assumption)
constexpr double longest_span_m = 30'000;  // no bridge or tunnel is longer

bool is_span(const EdgeRecord& e) {
    return (e.flags & (edge_flag::bridge | edge_flag::tunnel)) != 0;
}

double piece_m(const EdgeRecord& e) {
    return std::max(1u, e.length_dm) * 0.1 / height_pieces(e.length_dm);
}

/// Finds heights for nodes without one from the known heights that its roads lead to.
class NodeFiller {
public:
    NodeFiller(const RegionData& region, const RoadHeights& heights) : m_region(region), m_heights(heights) {
        for (std::uint32_t e = 0; e < region.edges.size(); ++e)
            for (const std::uint32_t node : {region.edges[e].tail, region.edges[e].head})
                if (std::isnan(heights.metres[node]))
                    m_ends.push_back({node, e});
        std::sort(m_ends.begin(), m_ends.end());
    }

    /// Nodes that a known height lies within reach of, so that the others need no search of their own.
    [[nodiscard]] std::vector<std::uint32_t> within_reach(double reach_m) const {
        std::unordered_map<std::uint32_t, double> reached;
        Queue queue;
        for (std::size_t i = 0; i < m_ends.size(); ++i)
            if (const Step s = step(m_ends[i].node, m_ends[i].edge); s.known)
                queue.push({s.metres, m_ends[i].node});
        walk(queue, reached, reach_m, [](double, float) {});
        std::vector<std::uint32_t> nodes;
        for (const auto& [node, metres] : reached)
            nodes.push_back(node);
        std::sort(nodes.begin(), nodes.end());
        return nodes;
    }

    /// Known heights around a node, the nearer the more they count: between two of them that is a straight
    /// line. NaN with fewer than `least`.
    [[nodiscard]] float height(std::uint32_t node, double reach_m, int least) const {
        std::unordered_map<std::uint32_t, double> reached;
        Queue queue;
        queue.push({0.0, node});
        double sum = 0, weight = 0;
        int found = 0;
        walk(queue, reached, reach_m, [&](double metres, float height) {
            sum += height / metres;
            weight += 1 / metres;
            ++found;
        });
        return found < least ? nothing : static_cast<float>(sum / weight);
    }

private:
    struct End {
        std::uint32_t node, edge;
        friend auto operator<=>(const End&, const End&) = default;
    };
    struct Step {
        bool known = false;
        float height = nothing;
        double metres = 0;  // to the known height, or to the other node
        std::uint32_t node = 0;
    };
    using Entry = std::pair<double, std::uint32_t>;
    using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;

    /// From a node along an edge to the first known height.
    [[nodiscard]] Step step(std::uint32_t node, std::uint32_t edge) const {
        const EdgeRecord& e = m_region.edges[edge];
        const bool forward = e.tail == node;
        const double piece = piece_m(e);
        const std::span<const float> inner = m_heights.inner_of(edge);
        for (std::size_t i = 0; i < inner.size(); ++i) {
            const float h = inner[forward ? i : inner.size() - 1 - i];
            if (!std::isnan(h))
                return {true, h, piece * static_cast<double>(i + 1), 0};
        }
        const std::uint32_t other = forward ? e.head : e.tail;
        const float h = m_heights.metres[other];
        return {!std::isnan(h), h, piece * static_cast<double>(inner.size() + 1), other};
    }

    template <class Found>
    void walk(Queue& queue, std::unordered_map<std::uint32_t, double>& reached, double reach_m,
              Found found) const {
        while (!queue.empty()) {
            const auto [metres, node] = queue.top();
            queue.pop();
            if (metres > reach_m || !reached.try_emplace(node, metres).second)
                continue;
            for (auto at = std::lower_bound(m_ends.begin(), m_ends.end(), End{node, 0});
                 at != m_ends.end() && at->node == node; ++at) {
                const Step s = step(node, at->edge);
                if (s.known && metres + s.metres <= reach_m)
                    found(metres + s.metres, s.height);
                else if (!s.known)
                    queue.push({metres + s.metres, s.node});
            }
        }
    }

    const RegionData& m_region;
    const RoadHeights& m_heights;
    std::vector<End> m_ends;  // of edges, at nodes without a height
};

/// The ground under a bridge and over a tunnel is not the road.
std::vector<bool> forget_spans(const RegionData& region, RoadHeights& heights) {
    std::vector<bool> only_spans(heights.nodes().size(), true);
    for (std::size_t e = 0; e < region.edges.size(); ++e) {
        const EdgeRecord& edge = region.edges[e];
        if (is_span(edge)) {
            std::ranges::fill(heights.inner_of(e), nothing);
        } else {
            only_spans[edge.tail] = false;
            only_spans[edge.head] = false;
        }
    }
    for (std::size_t n = 0; n < only_spans.size(); ++n)
        if (only_spans[n])
            heights.metres[n] = nothing;
    return only_spans;
}

void fill_nodes(const RegionData& region, RoadHeights& heights, const std::vector<bool>& only_spans) {
    const NodeFiller filler(region, heights);
    std::vector<std::pair<std::uint32_t, float>> filled;
    for (const std::uint32_t n : filler.within_reach(longest_span_m))
        filled.emplace_back(
            n, only_spans[n] ? filler.height(n, longest_span_m, 1) : filler.height(n, longest_void_m, 2));
    for (const auto& [node, height] : filled)
        heights.metres[node] = height;
}

/// Straight lines over the voids of one edge; false when an end is missing or a void is too long.
bool fill_edge(const EdgeRecord& e, float tail, float head, std::span<float> inner,
               std::uint64_t& bridged_dm) {
    if (std::isnan(tail) || std::isnan(head))
        return false;
    const double piece = piece_m(e);
    std::size_t known = 0;  // heights 0 .. inner.size() + 1 with the ends; the last one known
    const auto at = [&](std::size_t i) { return i == 0 ? tail : i > inner.size() ? head : inner[i - 1]; };
    for (std::size_t i = 1; i <= inner.size() + 1; ++i) {
        if (std::isnan(at(i)))
            continue;
        const double gap_m = piece * static_cast<double>(i - known);
        if (i - known > 1 && !is_span(e)) {
            if (gap_m > 2 * longest_void_m)
                return false;
            bridged_dm += static_cast<std::uint64_t>(std::llround(gap_m * 10));
        }
        const float from = at(known), to = at(i);
        for (std::size_t j = known + 1; j < i; ++j)
            inner[j - 1] = from + (to - from) * static_cast<float>(j - known) / static_cast<float>(i - known);
        known = i;
    }
    return true;
}

}  // namespace

FilledHeights fill_heights(const RegionData& region, RoadHeights& heights) {
    fill_nodes(region, heights, forget_spans(region, heights));
    FilledHeights filled;
    heights.known.assign(region.edges.size(), false);
    for (std::size_t e = 0; e < region.edges.size(); ++e) {
        const EdgeRecord& edge = region.edges[e];
        std::uint64_t bridged_dm = 0;
        const bool known = fill_edge(edge, heights.metres[edge.tail], heights.metres[edge.head],
                                     heights.inner_of(e), bridged_dm);
        heights.known[e] = known;
        if (!known)
            filled.unknown_dm += edge.length_dm;
        else if (is_span(edge))
            filled.spans_dm += edge.length_dm;
        else
            filled.bridged_dm += bridged_dm;
    }
    return filled;
}

}  // namespace loamway
