// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/recipe.h"

#include "loamway/base/error.h"
#include "loamway/base/time.h"
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
        throw t.error_at("limits", "limits is a name, not a file", "limits = \"eu-96-53\" for limits/eu-96-53.toml");
    return name;
}

}  // namespace

Recipe read_recipe(const Value& document, const std::string& file) {
    Table t(document, file);
    Recipe r;
    r.name = t.require_text("name");
    r.time_zone = read_zone(t);
    r.attribution = t.text("attribution").value_or("");
    r.odds_factor = t.number_or("odds_factor", r.odds_factor, {0.05, 20});
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
    t.finish();
    return r;
}

}  // namespace loamway
