// SPDX-License-Identifier: Apache-2.0
#include "coded_number.h"
#include "loamway/region/region.h"

namespace loamway {

std::vector<std::int32_t> RegionView::edge_heights_dm(EdgeId e) const {
    if (!has_heights())
        return {};
    const std::size_t first = edge_climb[e.index()].height_first;
    const std::size_t end =
        e.index() + 1 < edge_climb.size() ? edge_climb[e.index() + 1].height_first : heights.size();
    const std::span<const std::uint8_t> bytes = heights.subspan(first, end - first);
    std::vector<std::int32_t> profile;
    if (bytes.empty())
        return profile;
    profile.reserve(height_pieces(edges[e.index()].length_dm) + std::size_t{1});
    std::int64_t height = 0;
    std::int64_t step = 0;
    for (std::size_t at = 0; at < bytes.size() && read_number(bytes, at, step);) {
        height += step;
        profile.push_back(static_cast<std::int32_t>(height));
    }
    return profile;
}

void append_heights(std::vector<std::uint8_t>& heights, std::span<const std::int32_t> profile_dm) {
    std::int64_t before = 0;
    for (const std::int32_t height : profile_dm) {
        append_number(heights, height - before);
        before = height;
    }
}

}  // namespace loamway
