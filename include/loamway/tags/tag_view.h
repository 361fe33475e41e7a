// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TAG_VIEW_H
#define LOAMWAY_TAGS_TAG_VIEW_H

// Our own view of the OSM tags of one way, node or relation. It owns nothing: the text it points to must
// outlive it.

#include <initializer_list>
#include <optional>
#include <string_view>
#include <vector>

namespace loamway {

struct Tag {
    std::string_view key;
    std::string_view value;
};

class TagView {
public:
    TagView() = default;
    TagView(std::initializer_list<Tag> tags) : m_tags(tags) {}
    explicit TagView(std::vector<Tag> tags) : m_tags(std::move(tags)) {}
    void add(std::string_view key, std::string_view value) { m_tags.push_back({key, value}); }
    [[nodiscard]] std::optional<std::string_view> get(std::string_view key) const;
    [[nodiscard]] bool is(std::string_view key, std::string_view value) const;
    [[nodiscard]] bool has(std::string_view key) const { return get(key).has_value(); }
    [[nodiscard]] const std::vector<Tag>& all() const { return m_tags; }
    [[nodiscard]] bool empty() const { return m_tags.empty(); }

private:
    std::vector<Tag> m_tags;
};

/// Whether a way's key can change how a road is read for a vehicle (and so belongs in a region's tag sets).
[[nodiscard]] bool matters_on_way(std::string_view key);
[[nodiscard]] bool matters_on_node(std::string_view key);

}  // namespace loamway

#endif
