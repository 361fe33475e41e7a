// SPDX-License-Identifier: Apache-2.0
#include "opl_map.h"

#include <fmt/format.h>

#include <stdexcept>

namespace loamway::test {

namespace {

constexpr double degrees_a_metre_north = 1.0 / 111287.0;  // at 53.5 degrees, WGS84
constexpr double degrees_a_metre_east = 1.0 / 66358.0;

}  // namespace

std::int64_t OplMap::node(double east_m, double north_m, std::string_view tags) {
    m_text += fmt::format("n{} v1 T{} x{:.7f} y{:.7f}\n", ++m_last_id, tags,
                          13.2 + east_m * degrees_a_metre_east, 53.5 + north_m * degrees_a_metre_north);
    return m_last_id;
}

std::int64_t OplMap::way(std::initializer_list<std::int64_t> nodes, std::string_view tags) {
    return way(std::vector<std::int64_t>(nodes), tags);
}

std::int64_t OplMap::way(const std::vector<std::int64_t>& nodes, std::string_view tags) {
    std::string refs;
    for (const std::int64_t n : nodes)
        refs += fmt::format("{}n{}", refs.empty() ? "" : ",", n);
    m_text += fmt::format("w{} v1 T{} N{}\n", ++m_last_id, tags, refs);
    return m_last_id;
}

std::int64_t OplMap::box(double west_m, double south_m, double east_m, double north_m,
                         std::string_view tags) {
    const std::int64_t a = node(west_m, south_m);
    const std::int64_t b = node(east_m, south_m);
    const std::int64_t c = node(east_m, north_m);
    const std::int64_t d = node(west_m, north_m);
    return way({a, b, c, d, a}, tags);
}

std::int64_t OplMap::relation(std::string_view members, std::string_view tags) {
    m_text += fmt::format("r{} v1 T{} M{}\n", ++m_last_id, tags, members);
    return m_last_id;
}

RawMap read_opl(std::string_view text) {
    const TempDir dir;
    return read_extract(dir.write("map.opl", text), {});
}

RegionData build_opl(std::string_view text, const Recipe& recipe) {
    return assemble(read_opl(text), recipe, "tiny", {});
}

std::int64_t count_of(const std::vector<BuildCount>& counts, std::string_view what) {
    for (const BuildCount& c : counts)
        if (c.what == what)
            return c.count;
    return 0;
}

int node_of(const RegionData& region, std::int64_t osm_node) {
    for (std::size_t i = 0; i < region.node_osm.size(); ++i)
        if (region.node_osm[i] == osm_node)
            return static_cast<int>(i);
    return -1;
}

std::vector<std::uint32_t> edges_of(const RegionData& region, std::int64_t way) {
    std::vector<std::uint32_t> edges;
    for (std::uint32_t e = 0; e < region.edges.size(); ++e)
        if (region.edge_way[e] == way)
            edges.push_back(e);
    return edges;
}

std::uint32_t edge_of(const RegionData& region, std::int64_t way) {
    const std::vector<std::uint32_t> edges = edges_of(region, way);
    if (edges.size() != 1)
        throw std::runtime_error(fmt::format("way {} has {} edges", way, edges.size()));
    return edges.front();
}

std::string tag_text(const RegionData& region, std::uint32_t tag_set) {
    std::string text;
    for (std::uint32_t i = region.tag_set_first[tag_set]; i < region.tag_set_first[tag_set + 1]; i += 2)
        text += fmt::format("{}{}={}", text.empty() ? "" : ",", text_of(region, region.tag_set_strings[i]),
                            text_of(region, region.tag_set_strings[i + 1]));
    return text;
}

std::string ends_of(const RegionData& region, std::uint32_t edge) {
    return fmt::format("{}-{}", region.node_osm[region.edges[edge].tail],
                       region.node_osm[region.edges[edge].head]);
}

std::string_view text_of(const RegionData& region, std::uint32_t string) {
    return region.view().string(string);
}

}  // namespace loamway::test
