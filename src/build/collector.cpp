// SPDX-License-Identifier: Apache-2.0
#include "collector.h"

#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/tags/access.h"
#include "loamway/tags/structure.h"
#include "map_features.h"
#include "memory.h"

namespace loamway {

namespace {

TagView view_of(const RawMap& map, std::uint32_t tags) {
    TagView view;
    for (const auto& [key, value] : map.tags.get(tags))
        view.add(map.strings.get(key), map.strings.get(value));
    return view;
}

/// Ascending by id; of objects given twice (extracts joined by hand) the later one stays.
template <class Object>
std::int64_t sort_by_id(std::vector<Object>& objects) {
    const auto before = [](const Object& a, const Object& b) { return a.id < b.id; };
    if (!std::is_sorted(objects.begin(), objects.end(), before))
        std::stable_sort(objects.begin(), objects.end(), before);
    std::size_t kept = 0;
    for (std::size_t i = 0; i < objects.size(); ++i)
        if (i + 1 == objects.size() || objects[i + 1].id != objects[i].id) {
            if (kept != i)
                objects[kept] = std::move(objects[i]);
            ++kept;
        }
    const std::size_t gone = objects.size() - kept;
    objects.erase(objects.begin() + static_cast<std::ptrdiff_t>(kept), objects.end());
    return static_cast<std::int64_t>(gone);
}

}  // namespace

std::uint32_t Collector::text(std::string_view text, std::uint32_t place) {
    if (place == OsmTag::no_place)
        return m_map.strings.add(text);
    if (m_places[place] == 0)
        m_places[place] = m_map.strings.add(text) + 1;
    return m_places[place] - 1;
}

const KeyUse& Collector::key_use(std::uint32_t key) {
    if (key >= m_key_uses.size())
        m_key_uses.resize(key + 1);
    KeyUse& use = m_key_uses[key];
    if (!use.asked) {
        const std::string_view name = m_map.strings.get(key);
        use.asked = true;
        use.road = is_road_key(name);
        use.feature = is_feature_key(name);
        use.node = use.feature || matters_on_node(name);
        use.makes_road = name == "highway" || name == "route";
    }
    return use;
}

std::uint32_t Collector::keep_tags(std::span<const OsmTag> tags, Filter filter) {
    m_list.clear();
    for (const OsmTag& tag : tags) {
        const std::uint32_t key = text(tag.key, tag.key_place);
        const KeyUse& use = key_use(key);
        const bool keep = filter == Filter::road      ? use.road
                          : filter == Filter::feature ? use.feature
                          : filter == Filter::node    ? use.node
                                                      : true;
        if (keep)
            m_list.emplace_back(key, text(tag.value, tag.value_place));
    }
    std::sort(m_list.begin(), m_list.end());
    return m_list.empty() ? 0 : m_map.tags.add(m_list);
}

bool Collector::may_be_road(std::span<const OsmTag> tags) {
    return std::ranges::any_of(
        tags, [&](const OsmTag& tag) { return key_use(text(tag.key, tag.key_place)).makes_road; });
}

void Collector::begin_file() {
    if (++m_files == 1)
        return;
    m_counts.add("objects given twice", m_nodes.finish());
    m_old_ways.clear();
    for (const std::vector<RawMap::Way>* ways : {&m_map.roads, &m_map.areas})
        for (const RawMap::Way& way : *ways)
            m_old_ways.push_back(way.id);
    for (const LooseWay& way : m_loose)
        m_old_ways.push_back(way.id);
    m_old_relations = m_relations;
    std::sort(m_old_ways.begin(), m_old_ways.end());
    std::sort(m_old_relations.begin(), m_old_relations.end());
}

bool Collector::came_before(bool is_there) {
    if (is_there)
        m_counts.add("objects that an extract named earlier has too");
    return is_there;
}

RawMap::Way Collector::keep_refs(std::int64_t id, std::span<const std::int64_t> refs, std::uint32_t tags) {
    return {id, m_refs.add(refs), static_cast<std::uint32_t>(refs.size()), tags};
}

void Collector::plain_nodes(std::span<const std::int64_t> ids, std::span<const GeoPoint> points) {
    if (m_files > 1) {
        for (std::size_t i = 0; i < ids.size(); ++i)
            node(ids[i], points[i], {});
        return;
    }
    m_map.nodes_read += static_cast<std::int64_t>(ids.size());
    m_nodes.add(ids, points);
}

void Collector::node(std::int64_t id, std::optional<GeoPoint> point, std::span<const OsmTag> tags) {
    if (m_files > 1 && came_before(m_nodes.had(id)))
        return;
    ++m_map.nodes_read;
    if (!point) {
        m_counts.add("nodes without a position");
        return;
    }
    m_nodes.add(id, *point);
    if (tags.empty())
        return;
    const std::uint32_t kept = keep_tags(tags, Filter::node);
    const bool keep = kept != 0 && m_feature_nodes.get(kept, [&] {
        const TagView view = view_of(m_map, kept);
        constexpr std::uint32_t kinds = map_feature::stop_place | map_feature::school;
        return is_node_that_matters(view) || (features_of(view) & kinds) != 0 ||
               view.is("highway", "mini_roundabout") || (view.has("name") && place_kind_of(view));
    });
    if (keep)
        m_map.tagged_nodes.push_back({id, *point, kept});
}

void Collector::way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const OsmTag> tags) {
    if (came_before(std::ranges::binary_search(m_old_ways, id)))
        return;
    ++m_map.ways_read;
    if (refs.empty())
        m_counts.add("ways without nodes");
    if (tags.empty()) {
        const RawMap::Way way = keep_refs(id, refs, 0);
        m_loose.push_back({id, way.ref_first, way.ref_count});
        return;
    }
    if (may_be_road(tags)) {
        const std::uint32_t kept = keep_tags(tags, Filter::road);
        if (m_drivable.get(kept, [&] { return is_drivable(view_of(m_map, kept)); }))
            m_map.roads.push_back(keep_refs(id, refs, kept));
    }
    const std::uint32_t kept = keep_tags(tags, Filter::feature);
    if (kept != 0 && m_feature_ways.get(kept, [&] { return features_of(view_of(m_map, kept)) != 0; }))
        m_map.areas.push_back(keep_refs(id, refs, kept));
    else if (m_map.roads.empty() || m_map.roads.back().id != id)
        // Tagged as something of no interest, and still it can be the edge of a lake.
        m_loose.push_back([&] {
            const RawMap::Way way = keep_refs(id, refs, 0);
            return LooseWay{id, way.ref_first, way.ref_count};
        }());
}

void Collector::relation(std::int64_t id, std::span<const OsmMember> members, std::span<const OsmTag> tags) {
    if (came_before(std::ranges::binary_search(m_old_relations, id)))
        return;
    ++m_map.relations_read;
    m_relations.push_back(id);
    const auto type = std::ranges::find(tags, std::string_view("type"), &OsmTag::key);
    if (type == tags.end())
        return;
    const bool is_restriction = type->value == "restriction" || type->value.starts_with("restriction:");
    const bool is_area = type->value == "multipolygon" || type->value == "boundary";
    if (!is_restriction && !is_area)
        return;
    const std::uint32_t kept = keep_tags(tags, is_area ? Filter::feature : Filter::relation);
    if (is_area && (features_of(view_of(m_map, kept)) & map_feature::area) == 0)
        return;
    RawMap::Relation relation;
    relation.id = id;
    relation.tags = kept;
    for (const OsmMember& m : members)
        relation.members.push_back({m.type, m.ref, m_map.strings.add(m.role)});
    (is_restriction ? m_map.restrictions : m_map.multipolygons).push_back(std::move(relation));
}

/// Pieces of multipolygons that are not kept for their own tags become areas without tags.
void Collector::keep_loose_members() {
    std::vector<std::int64_t> members;
    for (const RawMap::Relation& r : m_map.multipolygons)
        for (const RawMap::Member& m : r.members)
            if (m.type == 'w')
                members.push_back(m.ref);
    std::sort(members.begin(), members.end());
    for (const LooseWay& way : m_loose)
        if (std::binary_search(members.begin(), members.end(), way.id))
            m_map.areas.push_back({way.id, way.ref_first, way.ref_count, 0});
    release_memory(m_loose);
}

void Collector::unpack_refs() {
    std::size_t total = 0;
    for (const std::vector<RawMap::Way>* ways : {&m_map.roads, &m_map.areas})
        for (const RawMap::Way& way : *ways)
            total += way.ref_count;
    if (total >= std::numeric_limits<std::uint32_t>::max())
        throw Error(ErrorKind::limit, "the extract's ways have too many nodes",
                    "cut it into smaller extracts");
    m_map.refs.reserve(total);
    for (std::vector<RawMap::Way>* ways : {&m_map.roads, &m_map.areas})
        for (RawMap::Way& way : *ways) {
            const auto first = static_cast<std::uint32_t>(m_map.refs.size());
            m_refs.read(way.ref_first, way.ref_count, m_map.refs);
            way.ref_first = first;
        }
    release_memory(m_refs);
}

RawMap Collector::finish() {
    keep_loose_members();
    std::int64_t twice = m_nodes.finish();
    twice += sort_by_id(m_map.roads) + sort_by_id(m_map.areas) + sort_by_id(m_map.tagged_nodes) +
             sort_by_id(m_map.restrictions) + sort_by_id(m_map.multipolygons);
    m_counts.add("objects given twice", twice);
    unpack_refs();
    m_counts.add("nodes of ways that are not in the extract",
                 m_nodes.move_needed(m_map.refs, m_map.node_ids, m_map.node_points, m_map.node_found,
                                     m_map.ref_nodes));
    m_map.counts = m_counts.take();
    return std::move(m_map);
}

}  // namespace loamway
