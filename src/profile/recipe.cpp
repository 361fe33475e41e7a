// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/recipe.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/time.h"
#include "loamway/tags/road_classes.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

std::string read_zone(Table& t) {
    const std::string zone = t.text("time_zone").value_or("");
    if (zone.empty())
        return zone;
    // Opening the zone now turns a slip of the pen into a message about this line, not about a plan.
    try {
        return TimeZone(zone).name();
    } catch (const Error& e) {
        throw t.error_at("time_zone", e.message(), e.what_to_do());
    }
}

std::string read_limits_name(Table& t) {
    const std::string name = t.text("limits").value_or("");
    // A bare name: the table stands in the folder limits beside the recipe.
    if (name.find_first_of("/\\.") != std::string::npos)
        throw t.error_at("limits", "limits is a name, not a file",
                         "limits = \"eu-96-53\" for limits/eu-96-53.toml");
    return name;
}

constexpr Range odds_range{0.05, 20};

/// Two hours of the day, [from, to].
std::optional<DayHours> read_hours(Table& t, std::string_view key) {
    const auto hours = t.numbers(key, {0, 24});
    if (!hours)
        return std::nullopt;
    if (hours->size() != 2 || (*hours)[0] == (*hours)[1])
        throw t.error_at(key, "these are no two hours of a day", fmt::format("{} = [6, 20]", key));
    return DayHours{(*hours)[0], (*hours)[1]};
}

std::optional<DayHours> read_school_hours(Table& t) {
    const auto hours = read_hours(t, "school_hours");
    if (hours && hours->from > hours->to)
        throw t.error_at("school_hours",
                         "these are no two hours of a school day, the first before the second",
                         "school_hours = [7.5, 16]");
    return hours;
}

void read_class_odds(Table& t, Recipe& r) {
    auto table = t.table("odds_factors");
    if (!table)
        return;
    for (const std::string_view road : classes_with_odds())
        if (const auto factor = table->number(road, odds_range))
            r.class_odds_factors.emplace(road, *factor);
    table->finish();
}

}  // namespace

double Recipe::odds_factor_of(std::optional<std::string_view> highway) const {
    if (!highway)
        return odds_factor;
    const auto found = class_odds_factors.find(without_link(*highway));
    return found == class_odds_factors.end() ? odds_factor : found->second;
}

std::string hour_words(double hour) {
    const auto minutes = static_cast<int>(std::lround(hour * 60));
    return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

Recipe read_recipe(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::recipe);
    Table t(document, file);
    Recipe r;
    r.name = t.require_text("name");
    r.time_zone = read_zone(t);
    r.attribution = t.text("attribution").value_or("");
    r.odds_factor = t.number_or("odds_factor", r.odds_factor, odds_range);
    read_class_odds(t, r);
    r.drives_on_right = t.boolean("drives_on_right").value_or(r.drives_on_right);
    if (const auto units = t.word("units", {"metric", "imperial"}))
        r.units = *units == 0 ? "metric" : "imperial";
    const Range widths{1, 12};
    const auto metres = [&t](std::string_view key, Length& l, Range range) {
        l = Length::from_metres(t.number_or(key, l.metres(), range));
    };
    metres("permit_from_width_m", r.permit_from_width, widths);
    metres("escort_from_width_m", r.escort_from_width, widths);
    if (const auto m = t.number("daylight_from_width_m", widths))
        r.daylight_from_width = Length::from_metres(*m);
    metres("national_height_m", r.national_height, {2, 8});
    r.limits = read_limits_name(t);
    r.currency = t.text("currency").value_or("");
    if (r.currency.size() > 16)
        throw t.error_at("currency", "the currency is a label of 1 to 16 bytes", "currency = \"EUR\"");
    r.wide_move_hours = read_hours(t, "wide_move_hours");
    r.school_hours = read_school_hours(t);
    t.finish();
    return r;
}

}  // namespace loamway
