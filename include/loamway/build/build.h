// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BUILD_BUILD_H
#define LOAMWAY_BUILD_BUILD_H

// From OpenStreetMap extracts to a region. Reading (RawMap) and making (assemble) are apart, so that
// another reader can feed the same making.

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/base/file.h"
#include "loamway/base/geo.h"
#include "loamway/profile/recipe.h"
#include "loamway/region/region.h"

namespace loamway {

/// Texts held once; index 0 is the empty text.
class StringPool {
public:
    StringPool();
    std::uint32_t add(std::string_view text);
    [[nodiscard]] std::string_view get(std::uint32_t index) const;
    [[nodiscard]] std::size_t size() const { return m_first.size() - 1; }
    [[nodiscard]] const std::vector<std::uint32_t>& first() const { return m_first; }
    [[nodiscard]] const std::vector<char>& bytes() const { return m_bytes; }

private:
    std::vector<std::uint32_t> m_first;
    std::vector<char> m_bytes;
    std::vector<std::uint32_t> m_table;  // open addressing, indices + 1
};

/// A tag as string indices: key, value.
using RawTag = std::pair<std::uint32_t, std::uint32_t>;

/// Lists of tags held once, as most roads share theirs; index 0 is the empty list.
class TagPool {
public:
    TagPool();
    std::uint32_t add(std::span<const RawTag> tags);
    [[nodiscard]] std::span<const RawTag> get(std::uint32_t index) const;
    [[nodiscard]] std::size_t size() const { return m_first.size() - 1; }

private:
    std::vector<std::uint32_t> m_first;
    std::vector<RawTag> m_tags;
    std::vector<std::uint32_t> m_table;  // open addressing, indices + 1
};

/// What a reader takes out of the extracts: only what a region can use, each list ascending by id.
struct RawMap {
    StringPool strings;
    TagPool tags;

    struct Way {
        std::int64_t id = 0;
        std::uint32_t ref_first = 0;  // into refs
        std::uint32_t ref_count = 0;
        std::uint32_t tags = 0;  // index into the pool of tags
    };
    std::vector<Way> roads;  // is_drivable
    std::vector<Way> areas;  // water, built-up, farmyard, parking, rest areas, power lines, rivers ...
                             // and, without tags, the pieces of kept multipolygons
    std::vector<std::int64_t> refs;        // node ids
    std::vector<std::uint32_t> ref_nodes;  // beside refs: index into node_ids

    struct Node {
        std::int64_t id = 0;
        GeoPoint point;
        std::uint32_t tags = 0;  // index into the pool of tags
    };
    std::vector<Node>
        tagged_nodes;  // nodes that matter (barriers, fords, crossings, places, stop places ...)
    std::vector<std::int64_t> node_ids;  // every node a kept way needs, ascending
    std::vector<GeoPoint> node_points;   // beside node_ids; unset where the extract lacks the node
    std::vector<bool> node_found;

    struct Member {
        char type = 'n';  // n, w, r
        std::int64_t ref = 0;
        std::uint32_t role = 0;
    };
    struct Relation {
        std::int64_t id = 0;
        std::vector<Member> members;
        std::uint32_t tags = 0;  // index into the pool of tags
    };
    std::vector<Relation> restrictions;
    std::vector<Relation> multipolygons;  // of kept area kinds

    std::int64_t nodes_read = 0, ways_read = 0, relations_read = 0;
    std::string map_date;  // header timestamp, without one the newest object timestamp
    std::string source_digest;
    std::vector<BuildCount> counts;
};

/// Reads .osm, .osm.bz2, .osm.gz, .osm.pbf and .opl (plain local paths only), in any order of objects, in one
/// pass. Errors: not_found, input (not an OSM file; no roads), io, damaged (cut-off file), limit.
[[nodiscard]] RawMap read_extract(const std::string& path, const Progress& progress);

/// Several extracts that touch or overlap as one map. Of an object in several of them the one in the extract
/// named first stays; how many came again is among the counts. The map's date is the oldest of the extracts';
/// their digests are joined by "+".
[[nodiscard]] RawMap read_extracts(std::span<const std::string> paths, const Progress& progress);

/// Metres above sea level for points, NaN where not known. Points that follow each other lie near each other.
using HeightsAt = std::function<void(std::span<const GeoPoint> points, std::span<float> metres)>;

/// Where heights come from.
struct Elevation {
    HeightsAt heights_at;
    std::string source;  // names of the files, for people
};

/// Makes the region: splits ways at junctions, reads surfaces, resolves restrictions, finds stop places,
/// components, background and the snapping grid; with `elevation` also the heights of roads, an input Error
/// when no road has one. Deterministic.
[[nodiscard]] RegionData assemble(RawMap map, const Recipe& recipe, const std::string& name,
                                  const Progress& progress,
                                  const std::optional<Elevation>& elevation = std::nullopt);

}  // namespace loamway

#endif
