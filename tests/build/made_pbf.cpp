// SPDX-License-Identifier: Apache-2.0
#include "made_pbf.h"

#include <iterator>
#include <protozero/pbf_writer.hpp>
#include <protozero/varint.hpp>

namespace loamway::test {

std::string framed_block(std::string_view type, std::string_view packed) {
    std::string header;
    protozero::pbf_writer writer(header);
    writer.add_string(1, std::string(type));
    writer.add_int32(3, static_cast<std::int32_t>(packed.size()));
    std::string file;
    for (int shift = 24; shift >= 0; shift -= 8)
        file += static_cast<char>(header.size() >> shift & 0xff);
    return file + header + std::string(packed);
}

std::string raw_blob(std::string_view data) {
    std::string blob;
    protozero::pbf_writer(blob).add_bytes(1, std::string(data));
    return blob;
}

std::string packed_blob(std::uint32_t field, std::int32_t raw_size, std::string_view data) {
    std::string blob;
    protozero::pbf_writer writer(blob);
    writer.add_int32(2, raw_size);
    writer.add_bytes(field, std::string(data));
    return blob;
}

std::string header_block(const std::vector<std::string>& required_features) {
    std::string header;
    protozero::pbf_writer writer(header);
    for (const std::string& feature : required_features)
        writer.add_string(4, feature);
    return framed_block("OSMHeader", raw_blob(header));
}

std::string pbf_of(const std::vector<std::string>& data_blocks) {
    std::string file = header_block({"OsmSchema-V0.6", "DenseNodes"});
    for (const std::string& block : data_blocks)
        file += framed_block("OSMData", raw_blob(block));
    return file;
}

MadeBlock::MadeBlock()
    : node_ids(signed_list({1, 1})),
      node_lats(signed_list({535'000'000, 1000})),
      node_lons(signed_list({132'000'000, 1000})),
      way_keys(plain_list({1})),
      way_values(plain_list({2})),
      way_refs(signed_list({1, 1})),
      roles(plain_list({0})),
      members(signed_list({10})),
      types(plain_list({1})) {}

std::string MadeBlock::bytes() const {
    std::string table, dense, way, relation, group, block;
    for (const std::string& text : texts)
        protozero::pbf_writer(table).add_bytes(1, text);
    protozero::pbf_writer dense_writer(dense);
    dense_writer.add_bytes(1, node_ids);
    dense_writer.add_bytes(8, node_lats);
    dense_writer.add_bytes(9, node_lons);
    dense_writer.add_bytes(10, node_tags);
    protozero::pbf_writer way_writer(way);
    way_writer.add_int64(1, 10);
    way_writer.add_bytes(2, way_keys);
    way_writer.add_bytes(3, way_values);
    way_writer.add_bytes(8, way_refs);
    protozero::pbf_writer group_writer(group);
    group_writer.add_message(2, dense);
    group_writer.add_message(3, way);
    if (with_relation) {
        protozero::pbf_writer writer(relation);
        writer.add_int64(1, 20);
        writer.add_bytes(2, plain_list({3}));
        writer.add_bytes(3, plain_list({4}));
        writer.add_bytes(8, roles);
        writer.add_bytes(9, members);
        writer.add_bytes(10, types);
        group_writer.add_message(4, relation);
    }
    protozero::pbf_writer writer(block);
    writer.add_message(1, table);
    if (second_text_table)
        writer.add_message(1, table);
    writer.add_message(2, group);
    writer.add_int32(17, granularity);
    return block;
}

std::string signed_list(const std::vector<std::int64_t>& differences) {
    std::string bytes;
    for (const std::int64_t d : differences)
        protozero::write_varint(std::back_inserter(bytes), protozero::encode_zigzag64(d));
    return bytes;
}

std::string plain_list(const std::vector<std::uint64_t>& numbers) {
    std::string bytes;
    for (const std::uint64_t n : numbers)
        protozero::write_varint(std::back_inserter(bytes), n);
    return bytes;
}

}  // namespace loamway::test
