// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/tag_view.h"

#include <algorithm>

#include "tag_text.h"

namespace loamway {

namespace {

// Suffixes stand in the order the map uses: key[:physical][:vehicle class][:direction][:conditional].
bool drop_suffix(std::string_view& key, std::string_view suffix) {
    if (!key.ends_with(suffix))
        return false;
    key.remove_suffix(suffix.size());
    return true;
}

void drop_direction_and_condition(std::string_view& key) {
    drop_suffix(key, ":conditional");
    if (!drop_suffix(key, ":forward"))
        drop_suffix(key, ":backward");
}

bool is_access_key(std::string_view key) {
    drop_direction_and_condition(key);
    return tag_is_in(key, {"access", "vehicle", "motor_vehicle", "agricultural", "hgv"});
}

bool is_limit_key(std::string_view key) {
    drop_direction_and_condition(key);
    if (!drop_suffix(key, ":hgv"))
        drop_suffix(key, ":agricultural");
    return tag_is_in(key, {"maxweight", "maxweightrating", "maxaxleload", "maxbogieweight", "maxheight",
                           "maxheight:physical", "maxwidth", "maxwidth:physical", "maxlength"});
}

bool is_speed_key(std::string_view key) {
    drop_direction_and_condition(key);
    if (key == "minspeed")
        return true;
    if (!drop_suffix(key, ":hgv"))
        drop_suffix(key, ":agricultural");
    return key == "maxspeed";
}

bool is_oneway_key(std::string_view key) {
    drop_suffix(key, ":conditional");
    return tag_is_in(
        key, {"oneway", "oneway:vehicle", "oneway:motor_vehicle", "oneway:agricultural", "oneway:hgv"});
}

bool is_plain_way_key(std::string_view key) {
    return tag_is_in(
        key, {"highway", "service", "junction", "surface", "tracktype", "smoothness", "motorroad", "bridge",
              "tunnel", "covered", "ford", "lit", "winter_road", "ice_road", "route"});
}

bool is_barrier_key(std::string_view key) {
    return tag_is_in(key, {"barrier", "bollard", "locked"});
}

}  // namespace

std::optional<std::string_view> TagView::get(std::string_view key) const {
    for (const Tag& tag : m_tags)
        if (tag.key == key)
            return tag.value;
    return std::nullopt;
}

bool TagView::is(std::string_view key, std::string_view value) const {
    const std::optional<std::string_view> found = get(key);
    return found && *found == value;
}

bool matters_on_way(std::string_view key) {
    return is_plain_way_key(key) || is_access_key(key) || is_limit_key(key) || is_speed_key(key) ||
           is_oneway_key(key) || is_barrier_key(key);
}

bool matters_on_node(std::string_view key) {
    return is_barrier_key(key) || is_access_key(key) || is_limit_key(key) ||
           tag_is_in(key, {"width", "ford", "railway", "crossing:barrier"});
}

}  // namespace loamway
