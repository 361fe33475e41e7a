// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_PBF_BLOCK_H
#define LOAMWAY_SRC_BUILD_PBF_BLOCK_H

// The inside of one block of a PBF file as plain lists. Everything that comes from the bytes is checked here:
// lengths, numbers, places in the table of texts, counts that belong together. What is not needed (versions,
// changesets, users) is skipped.

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

/// What is wrong with bytes that are no PBF data, in words for people.
struct PbfFault {
    std::string what;
    bool unsupported = false;  // well-formed, but of a kind that is not read
};

struct PbfBlock {
    struct Run {    // objects of one kind that follow each other
        char kind;  // n, w, r
        std::uint32_t first;
        std::uint32_t end;
    };
    struct NodeTags {
        std::uint32_t node;  // ascending
        std::uint32_t tag_first;
        std::uint32_t tag_count;
    };
    struct Way {
        std::int64_t id;
        std::uint32_t ref_first, ref_count;
        std::uint32_t tag_first, tag_count;
    };
    struct Member {
        char type;  // n, w, r
        std::int64_t ref;
        std::uint32_t role;
    };
    struct Relation {
        std::int64_t id;
        std::uint32_t member_first, member_count;
        std::uint32_t tag_first, tag_count;
    };

    std::vector<std::string_view> texts;  // point into the bytes given to decode()
    std::vector<Run> runs;                // in the order of the file
    std::vector<std::int64_t> node_ids;
    std::vector<GeoPoint> node_points;  // beside node_ids; no_point where the file has none on the globe
    std::vector<NodeTags> node_tags;    // of the nodes that have some
    std::vector<Way> ways;
    std::vector<std::int64_t> refs;
    std::vector<Relation> relations;
    std::vector<Member> members;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> tags;  // places in texts
    std::uint32_t newest = 0;  // seconds since 1970, of objects that are not deleted; 0 when unknown
    std::int64_t deleted = 0;

    static constexpr GeoPoint no_point{INT32_MIN, INT32_MIN};

    /// Takes the block apart; throws PbfFault. The lists keep their memory from block to block. Times cost
    /// time: they are read only when asked for.
    void decode(std::span<const char> bytes, bool with_times);

private:
    void clear();
};

/// What the first block of a file says.
struct PbfHeader {
    std::uint32_t time = 0;  // of the data, seconds since 1970; 0 when it does not say
    bool has_history = false;
};
[[nodiscard]] PbfHeader decode_pbf_header(std::span<const char> bytes);

}  // namespace loamway

#endif
