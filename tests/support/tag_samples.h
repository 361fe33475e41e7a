// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_TAG_SAMPLES_H
#define LOAMWAY_TESTS_SUPPORT_TAG_SAMPLES_H

// Vehicles and hours that the tests of tag rules share.

#include <string_view>
#include <vector>

#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway::test {

/// An 18 t farm machine on tracks, 3.0 m wide and 3.6 m high.
inline VehicleView sample_machine() {
    VehicleView v;
    v.width = Length::from_metres(3.0);
    v.height = Length::from_metres(3.6);
    v.length = Length::from_metres(7.0);
    v.mass = Mass::from_tonnes(18.0);
    v.axle = Mass::from_tonnes(10.0);
    v.top_speed = Speed::from_kmh(40.0);
    return v;
}

inline VehicleView sample_machine_not_agricultural() {
    VehicleView v = sample_machine();
    v.agricultural = false;
    return v;
}

/// A loaded low-bed.
inline VehicleView sample_truck() {
    VehicleView v;
    v.kind = VehicleKind::truck;
    v.agricultural = false;
    v.width = Length::from_metres(3.0);
    v.height = Length::from_metres(4.1);
    v.length = Length::from_metres(20.0);
    v.mass = Mass::from_tonnes(38.0);
    v.axle = Mass::from_tonnes(9.0);
    v.top_speed = Speed::from_kmh(80.0);
    return v;
}

/// Tuesday 3 November 2026, 08:30, daylight, nothing known of rain.
inline Moment sample_moment() {
    Moment m;
    LocalTime t;
    t.year = 2026;
    t.month = 11;
    t.day = 3;
    t.hour = 8;
    t.minute = 30;
    t.weekday = 2;
    t.day_of_year = 307;
    m.time = t;
    m.daylight = true;
    return m;
}

/// Lines "key=value" as tags; a line without "=" is a key without a value. Points into the text.
inline TagView tags_from_lines(std::string_view text) {
    std::vector<Tag> tags;
    while (!text.empty()) {
        const std::size_t end = text.find('\n') == std::string_view::npos ? text.size() : text.find('\n');
        const std::string_view line = text.substr(0, end);
        const std::size_t equals = line.find('=') == std::string_view::npos ? line.size() : line.find('=');
        if (!line.empty())
            tags.push_back(
                {line.substr(0, equals), line.substr(equals == line.size() ? equals : equals + 1)});
        text.remove_prefix(end == text.size() ? end : end + 1);
    }
    return TagView(std::move(tags));
}

}  // namespace loamway::test

#endif
