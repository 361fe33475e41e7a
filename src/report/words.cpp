// SPDX-License-Identifier: Apache-2.0
#include "words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "loamway/base/names.h"

namespace loamway {

namespace {

TimeZone zone_of(const Plan& plan) {
    return plan.region.time_zone.empty() ? TimeZone() : TimeZone(plan.region.time_zone);
}

}  // namespace

ClockWords::ClockWords(const Plan& plan, const std::optional<Instant>& depart)
    : m_zone(zone_of(plan)), m_assumed(plan.region.time_zone_assumed || plan.region.time_zone.empty()) {
    if (depart)
        m_depart = m_zone.local(*depart);
}

std::string ClockWords::clock(const std::optional<Instant>& t) const {
    if (!t)
        return "-";
    const LocalTime local = m_zone.local({t->unix_seconds + 30});  // the clock goes to the nearest minute
    const bool same_day =
        !m_depart || (local.year == m_depart->year && local.day_of_year == m_depart->day_of_year);
    const std::string hour = format_clock(*t, m_zone);
    return same_day ? hour : fmt::format("{:02d}-{:02d} {}", local.month, local.day, hour);
}

std::string ClockWords::date() const {
    return m_depart ? fmt::format("{:04d}-{:02d}-{:02d}", m_depart->year, m_depart->month, m_depart->day)
                    : std::string();
}

std::string ClockWords::zone_name() const {
    return m_assumed ? fmt::format("{}, not local time: the region names no zone", m_zone.name())
                     : m_zone.name();
}

std::string climb_words(const Option& o, const UnitWords& units) {
    if (!o.climb || !o.climb->ascent_m || !o.climb->descent_m)
        return {};
    const OptionClimb& c = *o.climb;
    std::string out =
        fmt::format("{} up, {} down", units.short_length(*c.ascent_m), units.short_length(*c.descent_m));
    if (c.steepest_pct && c.steepest_at_m && std::abs(*c.steepest_pct) >= 0.5)
        out += fmt::format("; steepest {:.0f} % {} at {}", std::abs(*c.steepest_pct),
                           *c.steepest_pct > 0 ? "up" : "down", units.exact(*c.steepest_at_m));
    if (c.flat_assumed_m.value_or(0) >= 50)
        out += fmt::format("; {} without heights, taken as flat", units.exact(*c.flat_assumed_m));
    return out;
}

std::string stop_words(const PlanStop& s) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 6> words{
        {{"start", "powder before leaving (dry, on the inside of the belt)"},
         {"relube", "re-lube stop (dry powder on the inside of the belt)"},
         {"check", "check stop"},
         {"cooling", "cooling stop"},
         {"handover", "hand-over to or from the low-bed"},
         {"turn", "turn round"}}};
    if (s.handover == "load" || s.handover == "unload")
        return s.handover == "load" ? "hand-over: onto the low-bed" : "hand-over: off the low-bed";
    for (const auto& [kind, text] : words)
        if (s.kind == kind)
            return std::string(text);
    return printable(s.kind);
}

std::string_view surface_words(SurfaceClass c) {
    return c == SurfaceClass::hard ? "paved" : name_of(c);
}

std::string certainty_words(const Plan& plan) {
    const Verdict& v = plan.verdict;
    if (!v.probability_cheapest)
        return {};
    const double hundred = *v.probability_cheapest * 100;
    std::string text = hundred >= 99.5 ? std::string("more than 99 in 100 that this is the cheapest")
                       : hundred < 0.5 ? std::string("less than 1 in 100 that this is the cheapest")
                                       : fmt::format("{:.0f} in 100 that this is the cheapest", hundred);
    if (v.too_close.value_or(false))
        text += ": too close to call";
    if (plan.uncertainty && plan.uncertainty->comparison &&
        plan.uncertainty->comparison->cost_of_being_wrong >= 0.5) {
        const Option* o = plan.find_option(v.option);
        text += fmt::format("; being wrong costs {:.0f} {}, averaged over all trials",
                            plan.uncertainty->comparison->cost_of_being_wrong,
                            o != nullptr ? printable(o->cost.currency) : std::string());
    }
    return text;
}

std::string where_words(const PlanStop& s) {
    // A description that begins with the place says it already.
    const bool says_place = !s.place.empty() && s.how_to_find.starts_with(s.place);
    std::string out = says_place ? std::string() : printable(s.place);
    const bool says_side = s.how_to_find.find(s.side) != std::string::npos;
    if (!s.side.empty() && !says_side)
        out += fmt::format("{}{}", out.empty() ? "" : ", ", printable(s.side));
    if (!s.how_to_find.empty())
        out += fmt::format("{}{}", out.empty() ? "" : ": ", printable(s.how_to_find));
    return out;
}

std::size_t stops_on_the_way(const Option& o) {
    return static_cast<std::size_t>(
        std::count_if(o.stops.begin(), o.stops.end(), [](const PlanStop& s) { return s.kind != "start"; }));
}

std::string map_words(const Plan& plan) {
    const auto known = [](const std::string& s, std::string_view otherwise) {
        return s.empty() ? std::string(otherwise) : printable(s);
    };
    // The hour of a map is of no use in a cab.
    const std::string date = plan.region.map_date.substr(0, plan.region.map_date.find('T'));
    return fmt::format("Map {} of {}. {}. loamway {}.", known(plan.region.name, "without a name"),
                       known(date, "unknown date"), known(plan.region.attribution, "No attribution"),
                       known(plan.loamway_version, "of unknown version"));
}

}  // namespace loamway
