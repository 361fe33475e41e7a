// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_PRAIRIE_H
#define LOAMWAY_TESTS_TOOLS_PRAIRIE_H

// A prairie of any size for benchmarks: one-mile section lines of gravel with gaps, a paved highway every 6
// to 12 miles, a village in every township (6 x 6 sections), farm tracks, rivers with few bridges. A grid is
// nearly the worst case for route search, and real prairie roads are grids. Per section there are about 8.1
// nodes, and 1.65 junctions and ends; 1000 sections a side make a map of 8 million nodes. Written as it is
// made: memory is a few bytes a section.

#include <cstdint>
#include <string>

namespace loamway {

struct PrairieCount {
    std::uint64_t nodes = 0;
    std::uint64_t ways = 0;
};

/// Requires 2 <= sections <= 2000. The same arguments give the same map on every machine.
PrairieCount write_prairie(std::uint32_t sections, std::uint64_t seed, const std::string& path);

}  // namespace loamway

#endif
