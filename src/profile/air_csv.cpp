// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <array>

#include "loamway/base/error.h"
#include "loamway/profile/weather.h"
#include "loamway/text/csv.h"

namespace loamway {
namespace {

constexpr std::size_t most_rows = 20000;  // two years by the hour, and some
constexpr double longest_gap_h = 6;       // more would hide a night or a front

enum Column { time_column, air_column, cloud_column };
constexpr std::array<CsvColumn, 3> columns{{{"time", true}, {"air_c", true}, {"cloud", false}}};

Instant time_in(const CsvRow& row, const TimeZone& zone) {
    try {
        return parse_time(*row.text(time_column), zone);
    } catch (const Error& e) {
        throw row.error(fmt::format("time: {}", e.message()), e.what_to_do());
    }
}

}  // namespace

std::vector<AirRow> parse_air_csv(std::string_view text, const std::string& file, const TimeZone& zone) {
    std::vector<AirRow> out;
    for (const CsvRow& row : read_csv(text, file, columns, most_rows, "lines of weather")) {
        const AirRow air{time_in(row, zone), Temperature::from_celsius(*row.number(air_column, {-50, 60})),
                         row.number(cloud_column, {0, 1})};
        if (!out.empty() && air.at <= out.back().at)
            throw row.error(
                fmt::format("the time {} is not after that of the line before", *row.text(time_column)),
                "put the lines in order of time");
        if (!out.empty() && (air.at - out.back().at).hours() > longest_gap_h)
            throw row.error(fmt::format("{:.1f} hours have no line before {}",
                                        (air.at - out.back().at).hours(), *row.text(time_column)),
                            fmt::format("one line at least every {:g} hours", longest_gap_h));
        out.push_back(air);
    }
    if (out.size() < 2)
        throw Error(ErrorKind::input, "a table of the air needs two lines at least",
                    "a first line time,air_c and then a line for each hour", {file, {}, {}});
    return out;
}

}  // namespace loamway
