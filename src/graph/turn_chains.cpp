// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/turn_chains.h"

#include <algorithm>
#include <numeric>

namespace loamway {

namespace {
std::uint64_t child_key(TurnChains::Memory memory, ArcId next) {
    return (std::uint64_t{memory} << 32) | next.value();
}
}  // namespace

TurnChains::TurnChains() : m_nodes(1) {}

std::optional<TurnChains::Memory> TurnChains::child(Memory memory, ArcId next) const {
    const auto found = m_children.find(child_key(memory, next));
    return found == m_children.end() ? std::nullopt : std::optional(found->second);
}

void TurnChains::forbid(std::span<const ArcId> arcs) {
    Memory at = nothing;
    for (const ArcId a : arcs) {
        if (const auto next = child(at, a)) {
            at = *next;
            continue;
        }
        const auto made = static_cast<Memory>(m_nodes.size());
        m_nodes.push_back({a, nothing, m_nodes[at].depth + 1, false});
        m_children.emplace(child_key(at, a), made);
        at = made;
    }
    m_nodes[at].forbidden = true;
}

void TurnChains::close() {
    for (const Node& n : m_nodes)
        if (!n.arc.is_none()) {
            m_occurs.resize(std::max<std::size_t>(m_occurs.size(), n.arc.index() + 1));
            m_occurs[n.arc.index()] = true;
        }
    // Shorter memories first: a node's fall-back is shorter than the node.
    std::vector<std::pair<Memory, Memory>> edges;  // parent, child
    for (const auto& [key, made] : m_children)
        edges.emplace_back(static_cast<Memory>(key >> 32), made);
    std::sort(edges.begin(), edges.end(), [&](const auto& a, const auto& b) {
        return std::pair(m_nodes[a.second].depth, a.second) < std::pair(m_nodes[b.second].depth, b.second);
    });
    for (const auto& [parent, made] : edges) {
        Node& node = m_nodes[made];
        if (parent != nothing) {
            Memory shorter = m_nodes[parent].fall_back;
            while (shorter != nothing && !child(shorter, node.arc))
                shorter = m_nodes[shorter].fall_back;
            node.fall_back = child(shorter, node.arc).value_or(nothing);
            node.forbidden = node.forbidden || m_nodes[node.fall_back].forbidden;
        }
        if (node.depth >= 2 && !node.forbidden)
            m_longer[node.arc.value()].push_back(made);
    }
}

std::optional<TurnChains::Memory> TurnChains::step(Memory memory, ArcId next) const {
    if (!occurs(next))
        return nothing;
    while (memory != nothing && !child(memory, next))
        memory = m_nodes[memory].fall_back;
    const Memory now = child(memory, next).value_or(nothing);
    return m_nodes[now].forbidden ? std::nullopt : std::optional(now);
}

std::span<const TurnChains::Memory> TurnChains::longer_at(ArcId a) const {
    if (!occurs(a))
        return {};
    const auto found = m_longer.find(a.value());
    return found == m_longer.end() ? std::span<const Memory>() : std::span<const Memory>(found->second);
}

}  // namespace loamway
