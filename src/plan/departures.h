// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_DEPARTURES_H
#define LOAMWAY_PLAN_DEPARTURES_H

// The same move at other hours: what each departure costs, how hot the bars get, whether it is day.

#include <vector>

#include "loamway/plan/inputs.h"
#include "setting.h"

namespace loamway {

/// The whole hours of the window around a departure in its zone, ascending; the window's beginning where no
/// whole hour lies in it. A fixed departure is one of them. With a departure that is only "not before", hours
/// that have passed are left out, and when all have, the window is the next day's.
[[nodiscard]] std::vector<Instant> hours_to_try(const PlanInputs& in, const TimeZone& zone);
/// The whole hours of the departure's day.
[[nodiscard]] std::vector<Instant> hours_of_day(Instant at, const TimeZone& zone);

/// Each departure worked out, without the choices of the front.
[[nodiscard]] std::vector<Departure> try_departures(const PlanInputs& in, const std::vector<Instant>& hours);

/// Says which other hour of the day, in the weather given, lets the machine be driven, when one does.
void add_cooler_hour(const PlanInputs& in, const Setting& setting, Verdict& verdict);

/// The hour a plan is for when none was said: the cheapest, or else the first permitted, or the first.
[[nodiscard]] Instant hour_to_take(const std::vector<Departure>& departures);
/// Marks the plan's own hour, with what the whole plan found for it.
void mark_taken(std::vector<Departure>& departures, Instant depart, const Plan& plan);
/// Names the best hour among the plan's departures.
void add_hours_to_verdict(Plan& plan, const TimeZone& zone);

/// The cheapest that can be done at a permitted hour, the earliest among equals; none: null.
[[nodiscard]] const Departure* cheapest_departure(const std::vector<Departure>& departures,
                                                  bool by_daylight = false);

}  // namespace loamway

#endif
