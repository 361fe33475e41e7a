// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_COLLECTOR_H
#define LOAMWAY_SRC_BUILD_COLLECTOR_H

// Which nodes are needed is known only after the ways, and which ways are pieces of a multipolygon only after
// the relations; so both are first kept whole, at 16 bytes a node and about as much a way, and thinned out at
// the end. That takes half the time of two passes over the file and no more memory than the later steps, and
// it does not depend on the order of the file.

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "build_counts.h"
#include "loamway/build/build.h"
#include "node_store.h"
#include "osm_file.h"
#include "ref_store.h"

namespace loamway {

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

/// Takes what a reader hands out and keeps what a region can use.
class Collector : public OsmSink {
public:
    /// To be called before each file. Of an object in several files the first file's stays.
    void begin_file();
    void expect_nodes(std::size_t count) override { m_nodes.reserve(count); }
    void begin_texts(std::size_t count) override { m_places.assign(count, 0); }
    void node(std::int64_t id, std::optional<GeoPoint> point, std::span<const OsmTag> tags) override;
    void plain_nodes(std::span<const std::int64_t> ids, std::span<const GeoPoint> points) override;
    void way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const OsmTag> tags) override;
    void relation(std::int64_t id, std::span<const OsmMember> members, std::span<const OsmTag> tags) override;
    [[nodiscard]] RawMap finish();

private:
    enum class Filter { road, feature, node, relation };
    struct LooseWay {  // without tags: perhaps a piece of a multipolygon
        std::int64_t id;
        std::uint32_t ref_first;
        std::uint32_t ref_count;
    };
    std::uint32_t text(std::string_view text, std::uint32_t place);
    const KeyUse& key_use(std::uint32_t key);
    std::uint32_t keep_tags(std::span<const OsmTag> tags, Filter filter);
    bool may_be_road(std::span<const OsmTag> tags);
    /// Whether an earlier file has it; counts that.
    bool came_before(bool is_there);
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
    std::vector<std::uint32_t> m_places;  // text in m_map + 1 of each place in the reader's table; 0 unknown
    int m_files = 0;
    std::vector<std::int64_t> m_relations;                  // ids of all, with several files
    std::vector<std::int64_t> m_old_ways, m_old_relations;  // ascending, of earlier files
};

}  // namespace loamway

#endif
