// SPDX-License-Identifier: Apache-2.0
#include "area_rings.h"

#include <algorithm>
#include <unordered_map>

namespace loamway {

namespace {

class Joiner {
public:
    explicit Joiner(std::span<const std::span<const std::uint32_t>> pieces)
        : m_pieces(pieces), m_used(pieces.size(), false) {
        // Filled from the last piece on, so that the first piece at a node is taken first.
        for (std::size_t i = pieces.size(); i-- > 0;)
            if (pieces[i].size() >= 2 && pieces[i].front() != pieces[i].back()) {
                m_at_end[pieces[i].front()].push_back(i);
                m_at_end[pieces[i].back()].push_back(i);
            }
    }

    JoinedRings join() {
        JoinedRings result;
        for (std::size_t i = 0; i < m_pieces.size(); ++i) {
            if (m_used[i])
                continue;
            m_used[i] = true;
            NodeList ring(m_pieces[i].begin(), m_pieces[i].end());
            while (ring.size() >= 2 && ring.front() != ring.back() && append_next(ring)) {
            }
            const bool is_area = ring.size() >= 4 && ring.front() == ring.back();
            if (is_area)
                result.rings.push_back(std::move(ring));
            else
                ++result.unclosed;
        }
        return result;
    }

private:
    bool append_next(NodeList& ring) {
        std::vector<std::size_t>& candidates = m_at_end[ring.back()];
        while (!candidates.empty() && m_used[candidates.back()])
            candidates.pop_back();
        if (candidates.empty())
            return false;
        const std::size_t i = candidates.back();
        m_used[i] = true;
        const auto piece = m_pieces[i];
        if (piece.front() == ring.back())
            ring.insert(ring.end(), piece.begin() + 1, piece.end());
        else
            ring.insert(ring.end(), piece.rbegin() + 1, piece.rend());
        return true;
    }

    std::span<const std::span<const std::uint32_t>> m_pieces;
    std::vector<bool> m_used;
    std::unordered_map<std::uint32_t, std::vector<std::size_t>> m_at_end;
};

}  // namespace

JoinedRings join_rings(std::span<const std::span<const std::uint32_t>> pieces) {
    return Joiner(pieces).join();
}

}  // namespace loamway
