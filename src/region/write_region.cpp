// SPDX-License-Identifier: Apache-2.0
// From arrays to the bytes of a region file. The same arrays always give the same bytes.
#include <fmt/format.h>

#include <cstring>

#include "check.h"
#include "hash.h"
#include "meta.h"
#include "region_file.h"

namespace loamway {
namespace {

/// A builder's fault is found here rather than by whoever opens the file later.
std::string checked_meta(const RegionData& data, const std::string& path) {
    const RegionView view = data.view();
    if (const Fault fault = size_fault(view))
        throw Error(ErrorKind::limit, "the region is too large: " + *fault, "build a smaller area",
                    {path, {}, {}});
    if (const Fault fault = structure_fault(view))
        throw Error(ErrorKind::internal, "the region to be written does not hold together: " + *fault, {},
                    {path, {}, {}});
    std::string text = meta_to_json(data.meta);
    if (text.size() > max_meta_bytes)
        throw Error(
            ErrorKind::limit,
            fmt::format("the facts about the region take {} bytes, {} at most", text.size(), max_meta_bytes),
            {}, {path, {}, {}});
    // What is no UTF-8 or no number would come back as something else, or not at all.
    if (meta_from_json(text, path) != data.meta)
        throw Error(ErrorKind::input, "a name or another fact about the region cannot be stored",
                    "give it as UTF-8 text", {path, {}, {}});
    return text;
}

std::span<const std::byte> bytes_of(std::string_view text) {
    return std::as_bytes(std::span(text));
}

void write_section(AtomicFile& file, std::span<const std::byte> bytes) {
    constexpr std::array<std::byte, section_alignment> zeros{};
    file.write(bytes);
    file.write(std::span(zeros).first(padded_size(bytes.size()) - bytes.size()));
}

}  // namespace

std::string_view section_name(std::size_t index) {
    constexpr std::array<std::string_view, section_count> names{"meta",
                                                                "node_lat",
                                                                "node_lon",
                                                                "arc_first",
                                                                "arcs",
                                                                "edges",
                                                                "edge_way",
                                                                "node_osm",
                                                                "component",
                                                                "node_tags",
                                                                "tag_set_first",
                                                                "tag_set_strings",
                                                                "string_first",
                                                                "string_bytes",
                                                                "shapes",
                                                                "restrictions",
                                                                "restriction_edges",
                                                                "stop_places",
                                                                "places",
                                                                "background",
                                                                "background_points",
                                                                "grid_header",
                                                                "grid_first",
                                                                "grid_edges",
                                                                "node_rank",
                                                                "tree_parent",
                                                                "up_first",
                                                                "up_head",
                                                                "edge_climb",
                                                                "heights"};
    return names.at(index);
}

void seal_head(RegionHead& head) {
    head.header.digest = hash128(std::as_bytes(std::span(head.table)));
    head.header.checksum = 0;
    std::array<std::byte, head_size> bytes{};
    std::memcpy(bytes.data(), &head.header, sizeof(FileHeader));
    std::memcpy(bytes.data() + sizeof(FileHeader), &head.table, sizeof(SectionTable));
    head.header.checksum = hash64(bytes);
}

RegionHead make_head(std::string_view meta_text, const RegionView& view) {
    RegionHead head{};
    std::uint64_t at = head_size;
    const auto add = [&head, &at](SectionId id, std::size_t element_size, std::span<const std::byte> bytes) {
        head.table[static_cast<std::size_t>(id) - 1] = {static_cast<std::uint32_t>(id),
                                                        static_cast<std::uint32_t>(element_size), at,
                                                        bytes.size(), hash64_padded(bytes)};
        at += padded_size(bytes.size());
    };
    add(SectionId::meta, 1, bytes_of(meta_text));
    each_array(view,
               [&add](SectionId id, const auto& array) { add(id, sizeof(array[0]), std::as_bytes(array)); });
    head.header.magic = region_magic;
    head.header.endian_tag = region_endian_tag;
    head.header.version = region_format_version;
    head.header.file_size = at;
    head.header.section_count = section_count;
    seal_head(head);
    return head;
}

void write_region(const RegionData& data, const std::string& path) {
    require_plain_path(path);
    const std::string meta = checked_meta(data, path);
    const RegionView view = data.view();
    const RegionHead head = make_head(meta, view);
    AtomicFile file(path);
    file.write(std::as_bytes(std::span(&head.header, 1)));
    file.write(std::as_bytes(std::span(head.table)));
    write_section(file, bytes_of(meta));
    each_array(view, [&file](SectionId, const auto& array) { write_section(file, std::as_bytes(array)); });
    file.commit();
}

}  // namespace loamway
