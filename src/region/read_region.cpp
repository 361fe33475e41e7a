// SPDX-License-Identifier: Apache-2.0
// From the bytes of a region file to checked arrays. The order of the checks decides which line a person
// reads: first what the file is at all, then whether its head is whole, then whether all of it is there.
#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <utility>

#include "check.h"
#include "hash.h"
#include "meta.h"
#include "region_file.h"

namespace loamway {
namespace {

constexpr const char* build_again = "build it again with `loamway region build`";

/// The only place where bytes become records. Their sizes and alignment are checked; their values come later.
template <class T>
std::span<const T> as_array(std::span<const std::byte> bytes) {
    if (reinterpret_cast<std::uintptr_t>(bytes.data()) % alignof(T) != 0)
        throw Error(ErrorKind::internal, "a region's bytes are not aligned");
    return {reinterpret_cast<const T*>(bytes.data()), bytes.size() / sizeof(T)};
}

void check_kind(std::span<const std::byte> bytes, const std::string& name) {
    if (bytes.empty())
        throw damaged_region(name, "the file is empty");
    const std::size_t seen = std::min(bytes.size(), region_magic.size());
    if (std::memcmp(bytes.data(), region_magic.data(), seen) != 0)
        throw Error(ErrorKind::damaged, "not a Loamway region file",
                    "name a file that `loamway region build` made", {name, {}, {}});
    if (bytes.size() < sizeof(FileHeader))
        throw damaged_region(
            name, fmt::format("the region file is cut short: it ends after {} bytes", bytes.size()));
}

void check_version(const FileHeader& header, const std::string& name) {
    if (header.endian_tag == region_endian_tag_swapped)
        throw damaged_region(name, "the region file was made on a machine with the other byte order");
    if (header.endian_tag != region_endian_tag)
        throw damaged_region(name, "the region file's header is damaged");
    if (header.version != region_format_version)
        throw damaged_region(
            name, fmt::format("the region file was made by format version {}, this program reads {}",
                              header.version, region_format_version));
}

RegionHead read_head(std::span<const std::byte> bytes, const std::string& name) {
    check_kind(bytes, name);
    RegionHead head{};
    std::memcpy(&head.header, bytes.data(), sizeof(FileHeader));
    check_version(head.header, name);
    if (bytes.size() < head_size)
        throw damaged_region(
            name, fmt::format("the region file is cut short: it ends after {} bytes", bytes.size()));
    std::memcpy(&head.table, bytes.data() + sizeof(FileHeader), sizeof(SectionTable));
    RegionHead sealed = head;
    seal_head(sealed);
    if (head.header.checksum != sealed.header.checksum || head.header.digest != sealed.header.digest)
        throw damaged_region(name, "the region file's header is damaged");
    if (bytes.size() < head.header.file_size)
        throw damaged_region(name, fmt::format("the region file is cut short: {} of {} bytes are there",
                                               bytes.size(), head.header.file_size));
    if (bytes.size() > head.header.file_size)
        throw damaged_region(name, fmt::format("the region file has {} bytes instead of {}", bytes.size(),
                                               head.header.file_size));
    return head;
}

/// The layout follows from the sizes alone: sections lie in order, each from the next boundary.
void check_table(const RegionHead& head, const std::string& name) {
    const auto fail = [&name](std::size_t i, std::string_view what) {
        throw damaged_region(name, fmt::format("the region file's table of sections is damaged: {} {}",
                                               section_name(i), what));
    };
    if (head.header.section_count != section_count || head.header.reserved != 0 ||
        head.header.reserved_too != 0)
        throw damaged_region(name, "the region file's header is damaged");
    constexpr std::array<std::uint32_t, section_count> element_sizes = section_element_sizes();
    std::uint64_t at = head_size;
    for (std::size_t i = 0; i < section_count; ++i) {
        const SectionEntry& s = head.table[i];
        if (s.id != i + 1 || s.element_size != element_sizes[i])
            fail(i, "is not where it belongs");
        if (s.offset != at)
            fail(i, fmt::format("starts at byte {} instead of {}", s.offset, at));
        // The subtraction cannot wrap (at <= file_size), and sizes below it cannot wrap when padded.
        if (s.size > head.header.file_size - at || padded_size(s.size) > head.header.file_size - at)
            fail(i, fmt::format("has {} bytes, more than the file", s.size));
        if (s.size % s.element_size != 0)
            fail(i, fmt::format("has {} bytes, no multiple of {}", s.size, s.element_size));
        at += padded_size(s.size);
    }
    if (at != head.header.file_size)
        throw damaged_region(name, fmt::format("the region file's sections end at byte {} instead of {}", at,
                                               head.header.file_size));
}

std::span<const std::byte> section(std::span<const std::byte> bytes, const SectionEntry& s) {
    return bytes.subspan(s.offset, s.size);
}

void check_padding(std::span<const std::byte> bytes, const RegionHead& head, const std::string& name) {
    for (std::size_t i = 0; i < section_count; ++i) {
        const SectionEntry& s = head.table[i];
        const auto padding = bytes.subspan(s.offset + s.size, padded_size(s.size) - s.size);
        if (std::any_of(padding.begin(), padding.end(), [](std::byte b) { return b != std::byte{0}; }))
            throw damaged_region(name,
                                 fmt::format("the region file is damaged after section {}", section_name(i)));
    }
}

void check_checksum(std::span<const std::byte> bytes, const RegionHead& head, std::size_t i,
                    const std::string& name) {
    const SectionEntry& s = head.table[i];
    if (hash64(bytes.subspan(s.offset, padded_size(s.size))) != s.checksum)
        throw damaged_region(name, fmt::format("section {} of the region file is damaged", section_name(i)));
}

RegionMeta read_meta(std::span<const std::byte> bytes, const std::string& name) {
    const std::span<const char> text = as_array<char>(bytes);
    try {
        return meta_from_json({text.data(), text.size()}, name);
    } catch (const Error& e) {
        throw damaged_region(name,
                             fmt::format("section meta of the region file is damaged: {}", e.message()));
    }
}

}  // namespace

Error damaged_region(const std::string& name, std::string what_is_wrong) {
    return {ErrorKind::damaged, std::move(what_is_wrong), build_again, {name, {}, {}}};
}

RegionContent read_region(std::span<const std::byte> bytes, const std::string& name, Checksums checksums) {
    const RegionHead head = read_head(bytes, name);
    check_table(head, name);
    // The meta section is parsed, so its checksum is looked at in any case; it is small.
    const std::size_t checked = checksums == Checksums::of_everything ? section_count : 1;
    for (std::size_t i = 0; i < checked; ++i)
        check_checksum(bytes, head, i, name);
    check_padding(bytes, head, name);

    RegionContent content;
    content.digest = to_hex(head.header.digest);
    content.meta = read_meta(section(bytes, head.table[0]), name);
    each_array(content.view, [&](SectionId id, auto& array) {
        using T = typename std::remove_reference_t<decltype(array)>::value_type;
        array = as_array<T>(section(bytes, head.table[static_cast<std::size_t>(id) - 1]));
    });
    if (const Fault fault = structure_fault(content.view))
        throw damaged_region(name, "the region file does not hold together: " + *fault);
    return content;
}

}  // namespace loamway
