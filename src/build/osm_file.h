// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_OSM_FILE_H
#define LOAMWAY_SRC_BUILD_OSM_FILE_H

// One OpenStreetMap file, handed out object by object. osm_file.cpp knows the forms and reads all of them
// through libosmium, except plain PBF, which pbf_file.cpp reads in less time and memory. Every error leaves
// as a loamway::Error with the file as its place.

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "loamway/base/geo.h"

namespace loamway {

struct OsmMember {
    char type;  // n, w, r
    std::int64_t ref;
    std::string_view role;
};

/// A tag with the places of its texts in the reader's table, where it has one: equal places mean equal texts
/// until the next begin_texts(), so that nobody need look them up again.
struct OsmTag {
    static constexpr std::uint32_t no_place = 0xffffffff;
    std::string_view key;
    std::string_view value;
    std::uint32_t key_place = no_place;
    std::uint32_t value_place = no_place;
};

/// Takes what a file holds, in the file's order. What it is given is valid during the call only. Calls come
/// one after another, but not always on the same thread.
class OsmSink {
public:
    virtual ~OsmSink() = default;
    /// There will be about so many nodes at most; only a hint.
    virtual void expect_nodes(std::size_t count) = 0;
    /// A new table of so many texts; places in the old one mean nothing any more.
    virtual void begin_texts(std::size_t count) = 0;
    /// Without a point: the file gives no position, or one off the globe.
    virtual void node(std::int64_t id, std::optional<GeoPoint> point, std::span<const OsmTag> tags) = 0;
    /// Nodes without tags, one point each.
    virtual void plain_nodes(std::span<const std::int64_t> ids, std::span<const GeoPoint> points) = 0;
    virtual void way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const OsmTag> tags) = 0;
    virtual void relation(std::int64_t id, std::span<const OsmMember> members,
                          std::span<const OsmTag> tags) = 0;
};

struct OsmFileFacts {
    std::string date;  // of the data, an ISO time; empty when neither header nor objects say
    std::int64_t deleted_left_out = 0;
};

/// Files whose objects carry no times may fill in the start of 1970; no object is older than this (2004).
constexpr std::uint32_t time_of_the_first_objects = 1072915200;

/// Who reads plain PBF files. Both give the sink the same; tests compare them.
enum class PbfReader { direct, libosmium };

/// Checks the path and the name's ending and reads the whole file. `progress` gets the part of the file's
/// bytes taken in, 0..1. Errors: input, not_found, io, damaged, limit.
[[nodiscard]] OsmFileFacts read_osm_file(const std::string& path, OsmSink& sink,
                                         const std::function<void(double)>& progress,
                                         PbfReader pbf = PbfReader::direct);

/// The bytes that so many packed ones may unpack to, and what is said of more: an Error of kind limit.
[[nodiscard]] std::uint64_t unpacked_room(std::uint64_t packed);
[[noreturn]] void refuse_unpacked(const std::string& name);

}  // namespace loamway

#endif
