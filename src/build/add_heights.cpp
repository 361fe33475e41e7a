// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/error.h"
#include "road_heights.h"

namespace loamway {

void add_heights(RegionData& region, const Elevation& elevation, BuildCounts& counts) {
    RoadHeights heights = sample_heights(region, elevation.heights_at);
    const FilledHeights filled = fill_heights(region, heights);
    std::uint64_t all_dm = 0;
    for (const EdgeRecord& e : region.edges)
        all_dm += e.length_dm;
    if (filled.unknown_dm == all_dm)
        throw Error(ErrorKind::input,
                    "no road of the map has a height in the elevation: it lies elsewhere or is empty there",
                    "give elevation of the map's area", {elevation.source, {}, {}});
    smooth_heights(region, heights);
    store_heights(region, heights);
    region.meta.elevation = elevation.source;
    const auto metres = [](std::uint64_t dm) { return static_cast<std::int64_t>((dm + 5) / 10); };
    counts.add("metres of bridge and tunnel laid straight between their ends", metres(filled.spans_dm));
    counts.add("metres of road laid straight across voids of the elevation", metres(filled.bridged_dm));
    counts.add("metres of road without elevation, taken as flat", metres(filled.unknown_dm));
}

}  // namespace loamway
