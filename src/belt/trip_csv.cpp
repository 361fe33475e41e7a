// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/belt/trip.h"
#include "loamway/text/csv.h"

namespace loamway {
namespace {

constexpr std::size_t most_segments = 100000;

enum Column { length_km, surface, speed_kmh, grade_pct, air_c, sun, stop_min };
constexpr std::array<CsvColumn, 7> columns{{{"length_km", true},
                                            {"surface", true},
                                            {"speed_kmh", true},
                                            {"grade_pct", false},
                                            {"air_c", false},
                                            {"sun", false},
                                            {"stop_min", false}}};

RoadSurface surface_in(const CsvRow& row) {
    const std::string_view text = *row.text(surface);
    if (const auto ground = road_surface_named(text))
        return *ground;
    const std::string near = nearest_name(text, road_surface_names);
    throw row.error(fmt::format("there is no surface \"{}\"", printable(text)),
                    near.empty() ? fmt::format("one of hard, {}", fmt::join(road_surface_names, ", "))
                                 : fmt::format("did you mean {}?", near));
}

TripSegment segment_in(const CsvRow& row) {
    TripSegment s;
    s.length = Length::from_km(*row.number(length_km, {0, 2000}));
    s.surface = surface_in(row);
    s.speed = Speed::from_kmh(*row.number(speed_kmh, {0.5, 80}));
    s.grade_pct = row.number(grade_pct, {-30, 30}).value_or(0.0);
    if (const auto v = row.number(air_c, {-50, 60}))
        s.air = Temperature::from_celsius(*v);
    s.sun = row.number(sun, {0, 1});
    s.stop = Duration::from_minutes(row.number(stop_min, {0, 2880}).value_or(0.0));
    return s;
}

}  // namespace

std::vector<TripSegment> parse_trip_csv(std::string_view text, const std::string& file) {
    std::vector<TripSegment> out;
    for (const CsvRow& row : read_csv(text, file, columns, most_segments, "segments"))
        out.push_back(segment_in(row));
    if (out.empty())
        throw Error(ErrorKind::input, "there is no segment in it",
                    "a first line length_km,surface,speed_kmh and then a line for each segment",
                    {file, {}, {}});
    return out;
}

}  // namespace loamway
