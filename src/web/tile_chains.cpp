// SPDX-License-Identifier: Apache-2.0
#include "tile_chains.h"

#include <algorithm>
#include <utility>

#include "loamway/base/ids.h"

namespace loamway {

namespace {

class Chains {
public:
    Chains(const RegionView& region, std::span<const std::uint32_t> edges) : m_r(region), m_edges(edges) {
        for (std::size_t i = 0; i < edges.size(); ++i) {
            m_ends.emplace_back(m_r.edges[edges[i]].tail, i);
            m_ends.emplace_back(m_r.edges[edges[i]].head, i);
        }
        std::sort(m_ends.begin(), m_ends.end());
        m_used.resize(edges.size(), false);
    }
    [[nodiscard]] std::vector<std::vector<GeoPoint>> all() {
        std::vector<std::vector<GeoPoint>> out;
        // From the ends of chains first; what is left then are closed rounds.
        for (const bool rounds : {false, true})
            for (std::size_t i = 0; i < m_edges.size(); ++i) {
                if (m_used[i])
                    continue;
                const EdgeRecord& e = m_r.edges[m_edges[i]];
                if (rounds || at(e.tail).size() != 2)
                    out.push_back(chain(i, e.tail));
                else if (at(e.head).size() != 2)
                    out.push_back(chain(i, e.head));
            }
        return out;
    }

private:
    using End = std::pair<std::uint32_t, std::size_t>;  // node, edge's place in m_edges
    [[nodiscard]] std::span<const End> at(std::uint32_t node) const {
        const auto first = std::lower_bound(m_ends.begin(), m_ends.end(), End{node, 0});
        auto last = first;
        while (last != m_ends.end() && last->first == node)
            ++last;
        return {first, last};
    }
    std::vector<GeoPoint> chain(std::size_t i, std::uint32_t node) {
        std::vector<GeoPoint> out;
        for (;;) {
            m_used[i] = true;
            const EdgeRecord& e = m_r.edges[m_edges[i]];
            std::vector<GeoPoint> points = m_r.edge_points(EdgeId(m_edges[i]));
            if (e.tail != node)
                std::reverse(points.begin(), points.end());
            out.insert(out.end(), points.begin() + (out.empty() ? 0 : 1), points.end());
            node = e.tail == node ? e.head : e.tail;
            const std::span<const End> ends = at(node);
            if (ends.size() != 2)
                return out;
            const std::size_t other = ends[0].second == i ? ends[1].second : ends[0].second;
            if (m_used[other])
                return out;
            i = other;
        }
    }

    const RegionView& m_r;
    std::span<const std::uint32_t> m_edges;
    std::vector<End> m_ends;
    std::vector<bool> m_used;
};

}  // namespace

std::vector<std::vector<GeoPoint>> chains_of(const RegionView& region, std::span<const std::uint32_t> edges) {
    return Chains(region, edges).all();
}

}  // namespace loamway
