// SPDX-License-Identifier: Apache-2.0
#include "region_overlay.h"

#include <algorithm>

namespace loamway {

RegionView RegionOverlay::view() const {
    RegionView v = m_base;
    if (m_edges)
        v.edges = *m_edges;
    if (m_node_tags)
        v.node_tags = *m_node_tags;
    if (m_stops)
        v.stop_places = *m_stops;
    if (m_set_first) {
        v.tag_set_first = *m_set_first;
        v.tag_set_strings = *m_set_strings;
    }
    if (m_string_first) {
        v.string_first = *m_string_first;
        v.string_bytes = *m_string_bytes;
    }
    return v;
}

std::uint32_t RegionOverlay::string(std::string_view text) {
    if (text.empty())
        return 0;
    if (const auto known = m_strings.find(text); known != m_strings.end())
        return known->second;
    auto& first = copied(m_string_first, m_base.string_first);
    auto& bytes = copied(m_string_bytes, m_base.string_bytes);
    const auto index = static_cast<std::uint32_t>(first.size() - 1);
    bytes.insert(bytes.end(), text.begin(), text.end());
    first.push_back(static_cast<std::uint32_t>(bytes.size()));
    m_strings.emplace(text, index);
    return index;
}

RegionOverlay::Tags RegionOverlay::tags(std::uint32_t tag_set) const {
    const RegionView v = view();
    Tags out;
    for (std::uint32_t i = v.tag_set_first[tag_set]; i + 1 < v.tag_set_first[tag_set + 1]; i += 2)
        out.emplace_back(v.string(v.tag_set_strings[i]), v.string(v.tag_set_strings[i + 1]));
    return out;
}

std::uint32_t RegionOverlay::tag_set(Tags tags) {
    std::sort(tags.begin(), tags.end());
    if (const auto known = m_sets.find(tags); known != m_sets.end())
        return known->second;
    auto& first = copied(m_set_first, m_base.tag_set_first);
    auto& strings = copied(m_set_strings, m_base.tag_set_strings);
    const auto index = static_cast<std::uint32_t>(first.size() - 1);
    for (const auto& [key, value] : tags) {
        strings.push_back(string(key));
        strings.push_back(string(value));
    }
    first.push_back(static_cast<std::uint32_t>(strings.size()));
    m_sets.emplace(std::move(tags), index);
    return index;
}

void RegionOverlay::set_node_tags(NodeId n, std::uint32_t tag_set) {
    auto& all = copied(m_node_tags, m_base.node_tags);
    const auto at = std::lower_bound(all.begin(), all.end(), n.value(),
                                     [](const NodeTagRecord& r, std::uint32_t v) { return r.node < v; });
    if (at != all.end() && at->node == n.value())
        at->tag_set = tag_set;
}

std::uint32_t RegionOverlay::node_tag_set(NodeId n) const {
    const RegionView v = view();
    const auto at =
        std::lower_bound(v.node_tags.begin(), v.node_tags.end(), n.value(),
                         [](const NodeTagRecord& r, std::uint32_t value) { return r.node < value; });
    return at->tag_set;
}

}  // namespace loamway
