// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_DECODED_MAP_H
#define LOAMWAY_TESTS_TOOLS_DECODED_MAP_H

// A small map file read back as plain data, for tests that ask what is in it. libosmium stays in the .cpp
// file.

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "map_file.h"

namespace loamway {

struct DecodedMap {
    struct Node {
        std::int32_t lat_e7, lon_e7;
        TagList tags;
    };
    struct Way {
        std::vector<std::int64_t> nodes;
        TagList tags;
    };
    struct Relation {
        std::vector<RelationMember> members;
        TagList tags;
    };
    std::map<std::int64_t, Node> nodes;
    std::map<std::int64_t, Way> ways;
    std::map<std::int64_t, Relation> relations;
    /// Everything in the file in its order, one line an object (the text form of the format), for comparison.
    std::string text;
    std::string generator;
    std::string timestamp;
    bool sorted = true;  // by type and id, no id twice
};

[[nodiscard]] DecodedMap decode_map(const std::string& path);

}  // namespace loamway

#endif
