// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_MAP_FILE_H
#define LOAMWAY_TESTS_TOOLS_MAP_FILE_H

// Writes an OpenStreetMap file (.osm.pbf, .osm, .opl ... by its name) object by object, so that a map of many
// million nodes needs no memory of its own. Objects must come as nodes, ways, relations, each by ascending
// id.

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace loamway {

using TagList = std::vector<std::pair<std::string, std::string>>;

struct MapBounds {
    std::int32_t min_lat_e7, min_lon_e7, max_lat_e7, max_lon_e7;
};

struct RelationMember {
    char type;  // 'n', 'w' or 'r'
    std::int64_t id;
    std::string role;
};

class MapFile {
public:
    /// Every object and the header carry this time: an invented map must not change from day to day.
    static constexpr const char* timestamp = "2026-05-01T00:00:00Z";
    static constexpr const char* generator = "loamway make_demo_map";

    MapFile(const std::string& path, const MapBounds& bounds);
    MapFile(const MapFile&) = delete;
    MapFile& operator=(const MapFile&) = delete;
    ~MapFile();
    void node(std::int64_t id, std::int32_t lat_e7, std::int32_t lon_e7, const TagList& tags = {});
    void way(std::int64_t id, std::span<const std::int64_t> nodes, const TagList& tags);
    void relation(std::int64_t id, const std::vector<RelationMember>& members, const TagList& tags);
    /// Finishes the file; throws when it could not be written.
    void close();

private:
    struct Writer;
    std::unique_ptr<Writer> m_writer;
};

}  // namespace loamway

#endif
