// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_STOP_PLACE_MAPS_H
#define LOAMWAY_TESTS_BUILD_STOP_PLACE_MAPS_H

// What the tests of places to stand share.

#include <gtest/gtest.h>

#include <string_view>
#include <vector>

#include "../../src/region/check.h"
#include "opl_map.h"

namespace loamway::test {

constexpr std::string_view country_road = "highway=tertiary,surface=asphalt";

/// Found places of one kind.
inline std::vector<StopPlaceRecord> places(const RegionData& r, StopPlaceKind kind) {
    EXPECT_FALSE(stop_places_fault(r.view()));
    std::vector<StopPlaceRecord> found;
    for (const StopPlaceRecord& s : r.stop_places)
        if (s.kind == kind)
            found.push_back(s);
    return found;
}

inline bool has(const StopPlaceRecord& s, std::uint32_t flag) {
    return (s.flags & flag) != 0;
}

}  // namespace loamway::test

#endif
