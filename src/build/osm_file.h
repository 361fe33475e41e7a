// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_OSM_FILE_H
#define LOAMWAY_SRC_BUILD_OSM_FILE_H

// One OpenStreetMap file, handed out object by object. osm_file.cpp is the only place that knows the formats;
// every error leaves it as a loamway::Error with the file as its place.

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "loamway/base/geo.h"
#include "loamway/tags/tag_view.h"

namespace loamway {

struct OsmMember {
    char type;  // n, w, r
    std::int64_t ref;
    std::string_view role;
};

/// Takes what a file holds, in the file's order. What it is given is valid during the call only.
class OsmSink {
public:
    virtual ~OsmSink() = default;
    /// Without a point: the file gives no position, or one off the globe.
    virtual void node(std::int64_t id, std::optional<GeoPoint> point, std::span<const Tag> tags) = 0;
    virtual void way(std::int64_t id, std::span<const std::int64_t> refs, std::span<const Tag> tags) = 0;
    virtual void relation(std::int64_t id, std::span<const OsmMember> members, std::span<const Tag> tags) = 0;
};

struct OsmFileFacts {
    std::string date;  // of the data, an ISO time; empty when neither header nor objects say
    std::int64_t deleted_left_out = 0;
};

/// Checks the path and the name's ending and reads the whole file. `progress` gets the part of the file's
/// bytes taken in, 0..1. Errors: input, not_found, io, damaged.
[[nodiscard]] OsmFileFacts read_osm_file(const std::string& path, OsmSink& sink,
                                         const std::function<void(double)>& progress);

}  // namespace loamway

#endif
