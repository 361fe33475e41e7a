// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_MADE_PBF_H
#define LOAMWAY_TESTS_BUILD_MADE_PBF_H

// PBF files put together by hand, so that each part can be wrong.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace loamway::test {

/// One block with its length and header in front. `packed` is the inside of the block's Blob message.
[[nodiscard]] std::string framed_block(std::string_view type, std::string_view packed);
/// The inside of a Blob: data as it is, or under the field number of a kind of packing.
[[nodiscard]] std::string raw_blob(std::string_view data);
[[nodiscard]] std::string packed_blob(std::uint32_t field, std::int32_t raw_size, std::string_view data);
/// The whole file of raw blocks: a header that asks for these features, and one data block each.
[[nodiscard]] std::string header_block(const std::vector<std::string>& required_features);
[[nodiscard]] std::string pbf_of(const std::vector<std::string>& data_blocks);

/// What stands in a data block; the defaults make a map of one track between two nodes. Fields hold the bytes
/// of packed lists.
struct MadeBlock {
    std::vector<std::string> texts{"", "highway", "track", "type", "restriction"};
    bool second_text_table = false;
    std::int32_t granularity = 100;
    std::string node_ids, node_lats, node_lons, node_tags;
    std::string way_keys, way_values, way_refs;
    bool with_relation = false;
    std::string roles, members, types;
    MadeBlock();
    [[nodiscard]] std::string bytes() const;
};

/// Packed lists.
[[nodiscard]] std::string signed_list(const std::vector<std::int64_t>& differences);
[[nodiscard]] std::string plain_list(const std::vector<std::uint64_t>& numbers);

}  // namespace loamway::test

#endif
