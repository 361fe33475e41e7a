// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_TURN_CHAINS_H
#define LOAMWAY_GRAPH_TURN_CHAINS_H

// Turn restrictions over several roads: sequences of three or more arcs that must not be driven one after
// the other. A search has to remember how much of such a sequence it has driven; the memory is the node of an
// automaton over arcs (Aho and Corasick, 1975), small because restrictions are few. Immutable once closed.

#include <cstdint>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "loamway/base/ids.h"

namespace loamway {

class TurnChains {
public:
    using Memory = std::uint32_t;
    static constexpr Memory nothing = 0;

    TurnChains();
    /// At least three arcs, each leaving the head of the one before.
    void forbid(std::span<const ArcId> arcs);
    /// After the last forbid().
    void close();

    [[nodiscard]] bool empty() const { return m_nodes.size() == 1; }
    /// Memory after driving on along `next`; nothing when that would complete a forbidden sequence.
    [[nodiscard]] std::optional<Memory> step(Memory memory, ArcId next) const;
    /// How many arcs the memory reaches back: 0 or 1 need no state of their own.
    [[nodiscard]] std::uint32_t reach(Memory memory) const { return m_nodes[memory].depth; }
    [[nodiscard]] ArcId last_arc(Memory memory) const { return m_nodes[memory].arc; }
    [[nodiscard]] std::size_t size() const { return m_nodes.size(); }
    /// Memories that reach back more than one arc and end on this one.
    [[nodiscard]] std::span<const Memory> longer_at(ArcId a) const;

private:
    struct Node {
        ArcId arc;
        Memory fall_back = nothing;  // the longest shorter memory that is still one
        std::uint32_t depth = 0;
        bool forbidden = false;
    };
    [[nodiscard]] std::optional<Memory> child(Memory memory, ArcId next) const;

    std::vector<Node> m_nodes;
    [[nodiscard]] bool occurs(ArcId a) const { return a.index() < m_occurs.size() && m_occurs[a.index()]; }
    std::vector<bool> m_occurs;  // arcs of any sequence, once closed: most arcs are in none
    std::unordered_map<std::uint64_t, Memory> m_children;
    std::unordered_map<std::uint32_t, std::vector<Memory>> m_longer;
};

}  // namespace loamway

#endif
