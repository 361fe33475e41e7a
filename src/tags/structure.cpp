// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/structure.h"

#include <algorithm>

#include "tag_text.h"

namespace loamway {

namespace {

bool set_on(const TagView& tags, std::string_view key) {
    return tag_says_yes(tags.get(key).value_or(""));
}

}  // namespace

bool is_bridge(const TagView& tags) {
    return set_on(tags, "bridge");
}

bool is_tunnel(const TagView& tags) {
    // A culvert is a tunnel of the water below, not of the road above.
    return (set_on(tags, "tunnel") && !tags.is("tunnel", "culvert")) || set_on(tags, "covered");
}

bool is_ford(const TagView& tags) {
    return set_on(tags, "ford") || tags.is("highway", "ford");
}

bool is_level_crossing(const TagView& tags) {
    return tags.is("railway", "level_crossing");
}

bool is_node_that_matters(const TagView& tags) {
    if (set_on(tags, "barrier") || is_ford(tags) || is_level_crossing(tags))
        return true;
    return std::any_of(tags.all().begin(), tags.all().end(),
                       [](const Tag& tag) { return tag.key.starts_with("max") && matters_on_node(tag.key); });
}

}  // namespace loamway
