// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_PLAIN_MAP_H
#define LOAMWAY_TESTS_BUILD_PLAIN_MAP_H

// An extract read the plain way: every way with its tags and points, nothing left out. What the reader under
// test keeps is compared with it.

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/tags/tag_view.h"

namespace loamway::test {

struct PlainWay {
    std::int64_t id = 0;
    std::vector<std::pair<std::string, std::string>> tags;
    std::vector<GeoPoint> points;  // those the extract has

    [[nodiscard]] TagView view() const;
    [[nodiscard]] std::string value(const std::string& key) const;  // empty when there is none
};

/// Ways with a highway tag.
[[nodiscard]] std::vector<PlainWay> read_plain_highways(const std::string& path);

}  // namespace loamway::test

#endif
