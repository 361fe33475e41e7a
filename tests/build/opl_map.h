// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_OPL_MAP_H
#define LOAMWAY_TESTS_BUILD_OPL_MAP_H

// Tiny maps: either OPL text as it is, or drawn in metres from a point in the fields.

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/build/build.h"
#include "loamway/region/region.h"
#include "support/test_files.h"

namespace loamway::test {

/// Draws a map and writes it as OPL. Places are metres east and north of 53.5 N 13.2 E.
class OplMap {
public:
    /// Tags as OPL writes them: "barrier=gate,access=private". Ids count up from 1 over all kinds.
    std::int64_t node(double east_m, double north_m, std::string_view tags = {});
    std::int64_t way(std::initializer_list<std::int64_t> nodes, std::string_view tags);
    std::int64_t way(const std::vector<std::int64_t>& nodes, std::string_view tags);
    /// A closed rectangle.
    std::int64_t box(double west_m, double south_m, double east_m, double north_m, std::string_view tags);
    /// Members as OPL writes them: "w3@from,n1@via,w4@to".
    std::int64_t relation(std::string_view members, std::string_view tags);
    [[nodiscard]] std::string text() const { return m_text; }

private:
    std::string m_text;
    std::int64_t m_last_id = 0;
};

[[nodiscard]] RawMap read_opl(std::string_view text);
[[nodiscard]] RegionData build_opl(std::string_view text, const Recipe& recipe = {});
[[nodiscard]] inline RegionData build(const OplMap& map, const Recipe& recipe = {}) {
    return build_opl(map.text(), recipe);
}

/// How often the build counted this; 0 when it is not listed.
[[nodiscard]] std::int64_t count_of(const std::vector<BuildCount>& counts, std::string_view what);
/// Graph node of an OSM node, or -1.
[[nodiscard]] int node_of(const RegionData& region, std::int64_t osm_node);
/// Edges of an OSM way, ascending.
[[nodiscard]] std::vector<std::uint32_t> edges_of(const RegionData& region, std::int64_t way);
/// The only edge of a way; throws when there are none or several.
[[nodiscard]] std::uint32_t edge_of(const RegionData& region, std::int64_t way);
/// "key=value,key=value" of a tag set.
[[nodiscard]] std::string tag_text(const RegionData& region, std::uint32_t tag_set);
/// The OSM node ids of an edge's ends, "1-2".
[[nodiscard]] std::string ends_of(const RegionData& region, std::uint32_t edge);
[[nodiscard]] std::string_view text_of(const RegionData& region, std::uint32_t string);

}  // namespace loamway::test

#endif
