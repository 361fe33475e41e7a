// SPDX-License-Identifier: Apache-2.0
// One pass over the file. Which nodes are needed is known only after the ways, and which ways are pieces of a
// multipolygon only after the relations; so both are first kept whole, at 16 bytes a node and about as much a
// way, and thinned out at the end. That takes half the time of two passes and no more memory than the later
// steps, and it does not depend on the order of the file.
#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

#include "build_counts.h"
#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "loamway/region/digest.h"
#include "loamway/tags/access.h"
#include "loamway/tags/structure.h"
#include "map_features.h"
#include "memory.h"
#include "node_store.h"
#include "osm_file.h"
#include "ref_store.h"

namespace loamway {

namespace {

/// What a key is kept for; asked once for each different key.
struct KeyUse {
    bool asked = false;
    bool road = false;
    bool feature = false;
    bool node = false;
    bool makes_road = false;  // a way without such a key is no road
};

/// A yes or no for each list of tags; asked once for each different list.
class VerdictMemory {
public:
    template <class Ask>
    bool get(std::uint32_t tags, Ask ask) {
        if (tags >= m_verdicts.size())
            m_verdicts.resize(tags + 1, unknown);
        if (m_verdicts[tags] == unknown)
            m_verdicts[tags] = ask() ? yes : no;
        return m_verdicts[tags] == yes;
    }

private:
    enum Verdict : std::uint8_t { unknown, no, yes };
    std::vector<Verdict> m_verdicts;
};

class Collector : public OsmSink {
public:
    void node(std::int64_t id, std::optional<GeoPoint> point, std::span<const Tag> tags) override;
    void way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const Tag> tags) override;
    void relation(std::int64_t id, std::span<const OsmMember> members, std::span<const Tag> tags) override;
    RawMap finish();

private:
    enum class Filter { road, feature, node, relation };
    struct LooseWay {  // without tags: perhaps a piece of a multipolygon
        std::int64_t id;
        std::uint32_t ref_first;
        std::uint32_t ref_count;
    };
    KeyUse& key_use(std::string_view key, std::uint32_t& index);
    std::uint32_t keep_tags(std::span<const Tag> tags, Filter filter);
    bool may_be_road(std::span<const Tag> tags);
    RawMap::Way keep_refs(std::int64_t id, std::span<const std::int64_t> refs, std::uint32_t tags);
    void keep_loose_members();
    void unpack_refs();

    RawMap m_map;
    NodeStore m_nodes;
    RefStore m_refs;  // until unpack_refs() a way's ref_first is its start in here
    BuildCounts m_counts;
    std::vector<LooseWay> m_loose;
    std::vector<KeyUse> m_key_uses;  // beside the strings of m_map
    VerdictMemory m_drivable, m_feature_ways, m_feature_nodes;
    std::vector<RawTag> m_list;
};

TagView view_of(const RawMap& map, std::uint32_t tags) {
    TagView view;
    for (const auto& [key, value] : map.tags.get(tags))
        view.add(map.strings.get(key), map.strings.get(value));
    return view;
}

KeyUse& Collector::key_use(std::string_view key, std::uint32_t& index) {
    index = m_map.strings.add(key);
    if (index >= m_key_uses.size())
        m_key_uses.resize(index + 1);
    KeyUse& use = m_key_uses[index];
    if (!use.asked) {
        use.asked = true;
        use.road = is_road_key(key);
        use.feature = is_feature_key(key);
        use.node = use.feature || matters_on_node(key);
        use.makes_road = key == "highway" || key == "route";
    }
    return use;
}

std::uint32_t Collector::keep_tags(std::span<const Tag> tags, Filter filter) {
    m_list.clear();
    for (const Tag& tag : tags) {
        std::uint32_t key = 0;
        const KeyUse& use = key_use(tag.key, key);
        const bool keep = filter == Filter::road      ? use.road
                          : filter == Filter::feature ? use.feature
                          : filter == Filter::node    ? use.node
                                                      : true;
        if (keep)
            m_list.emplace_back(key, m_map.strings.add(tag.value));
    }
    std::sort(m_list.begin(), m_list.end());
    return m_map.tags.add(m_list);
}

bool Collector::may_be_road(std::span<const Tag> tags) {
    std::uint32_t index = 0;
    return std::ranges::any_of(tags, [&](const Tag& tag) { return key_use(tag.key, index).makes_road; });
}

RawMap::Way Collector::keep_refs(std::int64_t id, std::span<const std::int64_t> refs, std::uint32_t tags) {
    return {id, m_refs.add(refs), static_cast<std::uint32_t>(refs.size()), tags};
}

void Collector::node(std::int64_t id, std::optional<GeoPoint> point, std::span<const Tag> tags) {
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

void Collector::way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const Tag> tags) {
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

void Collector::relation(std::int64_t id, std::span<const OsmMember> members, std::span<const Tag> tags) {
    ++m_map.relations_read;
    const auto type = std::ranges::find(tags, std::string_view("type"), &Tag::key);
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
                 m_nodes.move_needed(m_map.refs, m_map.node_ids, m_map.node_points, m_map.node_found));
    m_map.counts = m_counts.take();
    return std::move(m_map);
}

}  // namespace

RawMap read_extract(const std::string& path, const Progress& progress) {
    const auto tell = [&](double fraction) {
        if (progress)
            progress("reading the extract", fraction);
    };
    Collector collector;
    const OsmFileFacts facts = read_osm_file(path, collector, tell);
    RawMap map = collector.finish();
    if (map.nodes_read + map.ways_read + map.relations_read == 0)
        throw Error(ErrorKind::input, "the extract holds no objects", "fetch it again or choose another area",
                    {path, {}, {}});
    if (map.roads.empty())
        throw Error(ErrorKind::input, "the extract holds no road that a machine or low-bed could use",
                    "choose an extract of the whole map, not of one theme, that covers the area",
                    {path, {}, {}});
    BuildCounts counts(std::move(map.counts));
    counts.add("deleted objects", facts.deleted_left_out);
    map.counts = counts.take();
    trim_memory();
    map.map_date = facts.date;
    map.source_digest = digest_of_file(path);
    tell(1.0);
    return map;
}

}  // namespace loamway
