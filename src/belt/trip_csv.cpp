// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/belt/trip.h"

namespace loamway {
namespace {

constexpr std::size_t most_segments = 100000;
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

enum Column { length_km, surface, speed_kmh, grade_pct, air_c, sun, stop_min };
constexpr std::array<std::string_view, 7> column_names{"length_km", "surface", "speed_kmh", "grade_pct",
                                                       "air_c",     "sun",     "stop_min"};
constexpr std::size_t needed_columns = 3;  // the first ones of the list

struct Range {
    double low, high;
};
constexpr std::array<Range, 7> ranges{
    {{0, 2000}, {0, 0}, {0.5, 80}, {-30, 30}, {-50, 60}, {0, 1}, {0, 2880}}};

/// One line of the file and where it is, for messages.
struct Line {
    std::string_view text;
    int number;
    const std::string& file;
    [[nodiscard]] Error error(std::string what, std::string to_do = {}) const {
        return {ErrorKind::input, std::move(what), std::move(to_do), {file, number, {}}};
    }
};

std::string_view trimmed(std::string_view s) {
    const auto blank = [](char c) { return c == ' ' || c == '\t'; };
    while (!s.empty() && blank(s.front()))
        s.remove_prefix(1);
    while (!s.empty() && blank(s.back()))
        s.remove_suffix(1);
    return s;
}

std::vector<std::string_view> fields_of(const Line& line) {
    std::vector<std::string_view> out;
    std::string_view rest = line.text;
    while (true) {
        const auto comma = rest.find(',');
        out.push_back(trimmed(rest.substr(0, comma)));
        if (out.back().find('"') != std::string_view::npos)
            throw line.error("fields are not quoted", "leave the quotation marks out");
        if (comma == std::string_view::npos)
            return out;
        rest.remove_prefix(comma + 1);
    }
}

std::vector<Column> read_header(const Line& line) {
    std::vector<Column> out;
    std::array<bool, column_names.size()> seen{};
    for (const std::string_view name : fields_of(line)) {
        std::size_t i = 0;
        while (i < column_names.size() && column_names[i] != name)
            ++i;
        if (i == column_names.size()) {
            const std::string near = nearest_name(name, column_names);
            throw line.error(fmt::format("there is no column \"{}\"", printable(name)),
                             near.empty() ? fmt::format("columns are {}", fmt::join(column_names, ", "))
                                          : fmt::format("did you mean {}?", near));
        }
        if (seen[i])
            throw line.error(fmt::format("the column {} is there twice", name));
        seen[i] = true;
        out.push_back(static_cast<Column>(i));
    }
    for (std::size_t i = 0; i < needed_columns; ++i)
        if (!seen[i])
            throw line.error(fmt::format("the column {} is missing", column_names[i]),
                             "the first line names the columns: length_km,surface,speed_kmh and any of "
                             "grade_pct,air_c,sun,stop_min");
    return out;
}

double number_in(const Line& line, Column column, std::string_view text) {
    const std::string_view name = column_names[column];
    double v = 0;
    const char* end = text.data() + text.size();
    const auto [stop, code] = std::from_chars(text.data(), end, v);
    if (code != std::errc() || stop != end || !std::isfinite(v))
        throw line.error(fmt::format("{} \"{}\" is not a number", name, printable(text)),
                         "with a point for decimals");
    const Range range = ranges[column];
    if (v < range.low || v > range.high)
        throw line.error(fmt::format("{} {} is out of range", name, text),
                         fmt::format("{:g} to {:g}", range.low, range.high));
    return v;
}

void set_field(TripSegment& s, const Line& line, Column column, std::string_view text) {
    if (column == surface) {
        const auto ground = road_surface_named(text);
        if (!ground) {
            const std::string near = nearest_name(text, road_surface_names);
            throw line.error(fmt::format("there is no surface \"{}\"", printable(text)),
                             near.empty()
                                 ? fmt::format("one of hard, {}", fmt::join(road_surface_names, ", "))
                                 : fmt::format("did you mean {}?", near));
        }
        s.surface = *ground;
        return;
    }
    const double v = number_in(line, column, text);
    switch (column) {
        case length_km:
            s.length = Length::from_km(v);
            break;
        case speed_kmh:
            s.speed = Speed::from_kmh(v);
            break;
        case grade_pct:
            s.grade_pct = v;
            break;
        case air_c:
            s.air = Temperature::from_celsius(v);
            break;
        case sun:
            s.sun = v;
            break;
        case stop_min:
            s.stop = Duration::from_minutes(v);
            break;
        case surface:
            break;
    }
}

TripSegment read_segment(const Line& line, const std::vector<Column>& columns) {
    const std::vector<std::string_view> fields = fields_of(line);
    if (fields.size() != columns.size())
        throw line.error(
            fmt::format("{} fields, but the first line names {} columns", fields.size(), columns.size()),
            "separate the fields by commas");
    TripSegment out;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (!fields[i].empty())
            set_field(out, line, columns[i], fields[i]);
        else if (columns[i] < static_cast<int>(needed_columns))
            throw line.error(fmt::format("{} is empty", column_names[columns[i]]));
    }
    return out;
}

}  // namespace

std::vector<TripSegment> parse_trip_csv(std::string_view text, const std::string& file) {
    if (text.starts_with(byte_order_mark))
        text.remove_prefix(byte_order_mark.size());
    std::vector<Column> columns;
    std::vector<TripSegment> out;
    for (int number = 1; !text.empty(); ++number) {
        const auto end = text.find('\n');
        Line line{text.substr(0, end), number, file};
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (line.text.ends_with('\r'))
            line.text.remove_suffix(1);
        if (trimmed(line.text).empty())
            continue;
        if (columns.empty()) {
            columns = read_header(line);
            continue;
        }
        if (out.size() == most_segments)
            throw Error(ErrorKind::limit, fmt::format("more than {} segments", most_segments), {},
                        {file, number, {}});
        out.push_back(read_segment(line, columns));
    }
    if (out.empty())
        throw Error(ErrorKind::input, "there is no segment in it",
                    "a first line length_km,surface,speed_kmh and then a line for each segment",
                    {file, {}, {}});
    return out;
}

}  // namespace loamway
