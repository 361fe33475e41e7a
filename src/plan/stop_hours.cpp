// SPDX-License-Identifier: Apache-2.0
#include "stop_hours.h"

#include <fmt/format.h>

namespace loamway {

namespace {

// School hours are Monday to Friday, 7 to 16 where the recipe names none (assumption; holidays are not known
// here).
constexpr DayHours usual_school_hours{7, 16};
// How long the way may take at most, for this alone: twice the crow's way at 10 km/h (assumption).
const Speed slow_journey = Speed::from_kmh(10);

}  // namespace

bool meets_school_hours(const Setting& setting) {
    const PlanInputs& in = setting.in();
    const Duration takes = 2.0 * distance(in.from.point, in.to.point) / slow_journey;
    const auto at = [&](Duration after) { return setting.zone().local(in.depart + after); };
    const DayHours school = in.recipe.school_hours.value_or(usual_school_hours);
    constexpr int step_min = 15;
    for (double minutes = 0; minutes <= takes.minutes() + step_min; minutes += step_min) {
        const LocalTime t = at(Duration::from_minutes(minutes));
        if (t.weekday >= 1 && t.weekday <= 5 && t.hour + t.minute / 60.0 >= school.from &&
            t.hour + t.minute / 60.0 < school.to)
            return true;
    }
    return false;
}

bool in_fire_season(const Setting& setting) {
    const PlanInputs& in = setting.in();
    const int month = setting.zone().local(in.depart).month;
    const bool dry = in.conditions.ground == Ground::dry || in.conditions.ground == Ground::dusty;
    return dry && (in.from.point.lat() >= 0 ? month >= 6 && month <= 9 : month == 12 || month <= 3);
}

std::string school_caution(const Setting& setting) {
    // As the region marks them.
    constexpr double near_school_m = 200;
    return fmt::format("School within {}: not in school hours", setting.words().short_length(near_school_m));
}

}  // namespace loamway
