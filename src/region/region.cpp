// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/region.h"

#include <utility>

#include "check.h"
#include "hash.h"
#include "loamway/base/file.h"
#include "loamway/text/document_kind.h"
#include "meta.h"
#include "region_file.h"

namespace loamway {

namespace {

/// A file that somebody took for a region is told from one that is damaged.
void refuse_another_kind(const FileBytes& file, const std::string& path) {
    const std::span<const std::byte> bytes = file.bytes();
    const std::string_view text(reinterpret_cast<const char*>(bytes.data()), bytes.size());
    if (!text.starts_with(std::string_view(region_magic.data(), region_magic.size())))
        require_kind(kind_of_text(text), path, DocumentKind::region);
}

}  // namespace

Region Region::open(const std::string& path) {
    auto file = std::make_shared<const FileBytes>(path);
    refuse_another_kind(*file, path);
    RegionContent content = read_region(file->bytes(), path, Checksums::of_header);
    Region region;
    region.m_view = content.view;
    region.m_meta = std::move(content.meta);
    region.m_digest = std::move(content.digest);
    region.m_path = path;
    region.m_owner = std::move(file);
    return region;
}

Region Region::from_data(RegionData data) {
    auto owner = std::make_shared<const RegionData>(std::move(data));
    Region region;
    region.m_view = owner->view();
    if (const Fault fault = structure_fault(region.m_view))
        throw Error(ErrorKind::internal, "the region in memory does not hold together: " + *fault);
    region.m_meta = owner->meta;
    region.m_digest = to_hex(make_head(meta_to_json(owner->meta), region.m_view).header.digest);
    region.m_owner = std::move(owner);
    return region;
}

void verify_region(const std::string& path) {
    const FileBytes file(path);
    refuse_another_kind(file, path);
    static_cast<void>(read_region(file.bytes(), path, Checksums::of_everything));
}

}  // namespace loamway
