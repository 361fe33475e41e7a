// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/region.h"

#include <utility>

#include "check.h"
#include "hash.h"
#include "meta.h"
#include "region_file.h"

namespace loamway {

Region Region::open(const std::string& path) {
    auto file = std::make_shared<const FileBytes>(path);
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
    static_cast<void>(read_region(file.bytes(), path, Checksums::of_everything));
}

}  // namespace loamway
