// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_READ_ANY_PBF_H
#define LOAMWAY_TESTS_SUPPORT_READ_ANY_PBF_H

// Promises of the PBF reader over any bytes, for the fuzz target and the replay of its corpus: it gives a map
// whose indices all point into it, or throws an Error with the file as its place.

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

#include "../../src/build/collector.h"
#include "../../src/build/pbf_file.h"
#include "loamway/base/error.h"
#include "loamway/build/build.h"

namespace loamway::test {

class PbfInMemory : public PbfSource {
public:
    explicit PbfInMemory(std::string_view bytes) : m_bytes(bytes) {}
    [[nodiscard]] std::uint64_t size() const override { return m_bytes.size(); }
    void read(std::uint64_t offset, std::span<char> out) const override {
        if (offset > m_bytes.size() || out.size() > m_bytes.size() - offset)
            throw std::logic_error("a read beyond the end");
        std::memcpy(out.data(), m_bytes.data() + offset, out.size());
    }

private:
    std::string_view m_bytes;
};

inline void demand(bool holds, const char* what) {
    if (!holds)
        throw std::logic_error(what);
}

inline void check_raw_map(const RawMap& map) {
    for (const std::vector<RawMap::Way>* ways : {&map.roads, &map.areas})
        for (const RawMap::Way& way : *ways)
            demand(
                std::uint64_t{way.ref_first} + way.ref_count <= map.refs.size() && way.tags < map.tags.size(),
                "a way points out of the map");
    for (std::uint32_t i = 0; i < map.tags.size(); ++i)
        for (const auto& [key, value] : map.tags.get(i))
            demand(key < map.strings.size() && value < map.strings.size(), "a tag points out of the map");
    demand(map.ref_nodes.size() == map.refs.size() && map.node_points.size() == map.node_ids.size() &&
               map.node_found.size() == map.node_ids.size(),
           "lists beside each other differ in length");
    for (std::size_t i = 0; i < map.refs.size(); ++i)
        demand(map.node_ids.at(map.ref_nodes[i]) == map.refs[i], "a reference leads to another node");
    demand(std::ranges::adjacent_find(map.node_ids, std::ranges::greater_equal()) == map.node_ids.end(),
           "node ids do not ascend");
}

/// The map, or nothing when the bytes are refused with an Error of an expected kind.
inline bool read_any_pbf(std::string_view bytes) {
    try {
        Collector collector;
        collector.begin_file();
        (void)read_pbf(
            PbfInMemory(bytes), "any.osm.pbf", collector, [](double) {}, 1);
        RawMap map = collector.finish();
        check_raw_map(map);
        (void)assemble(std::move(map), {}, "any", {});
        return true;
    } catch (const Error& e) {
        demand(e.kind() == ErrorKind::input || e.kind() == ErrorKind::damaged || e.kind() == ErrorKind::limit,
               "an error of a kind that bytes cannot cause");
        return false;
    }
}

}  // namespace loamway::test

#endif
