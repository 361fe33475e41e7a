// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_REGION_FILE_H
#define LOAMWAY_SRC_REGION_REGION_FILE_H

// Reading a region file from bytes in memory, and laying one out; Region::open, write_region and the fuzz
// target stand on these.

#include <cstddef>
#include <span>
#include <string>

#include "format.h"
#include "loamway/base/error.h"
#include "loamway/region/region.h"

namespace loamway {

/// Everything between the file's first byte and its last section, checked.
struct RegionContent {
    RegionView view;  // into the bytes
    RegionMeta meta;
    std::string digest;
};

enum class Checksums { of_header, of_everything };

/// Checks header, table, padding, meta and structure of a file's bytes, which must be aligned to 8 bytes.
/// `name` is the file in messages. Every fault is a damaged Error.
[[nodiscard]] RegionContent read_region(std::span<const std::byte> bytes, const std::string& name,
                                        Checksums checksums);

/// Header and table of the file that holds these arrays.
struct RegionHead {
    FileHeader header;
    SectionTable table;
};
[[nodiscard]] RegionHead make_head(std::string_view meta_text, const RegionView& view);
/// Sets digest and checksum from the rest of header and table.
void seal_head(RegionHead& head);

/// The Error for a file that is not whole.
[[nodiscard]] Error damaged_region(const std::string& name, std::string what_is_wrong);

}  // namespace loamway

#endif
