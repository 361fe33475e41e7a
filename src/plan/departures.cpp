// SPDX-License-Identifier: Apache-2.0
#include "departures.h"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>
#include <optional>

#include "drive_planner.h"
#include "flags.h"
#include "hauling.h"
#include "loamway/base/parallel.h"
#include "mixed_option.h"
#include "options.h"
#include "uncertainty.h"
#include "watch.h"

namespace loamway {

namespace {

constexpr int day_min = 24 * 60;

// Minutes after the midnight that begins the day of `at`; clock changes are the zone's matter.
Instant at_minute(const LocalTime& day, int minutes, const TimeZone& zone) {
    LocalTime noon = day;
    noon.hour = 12;
    noon.minute = noon.second = 0;
    const int days = minutes >= 0 ? minutes / day_min : -((day_min - 1 - minutes) / day_min);
    LocalTime t = zone.local(zone.instant(noon) + Duration::from_hours(24.0 * days));
    const int rest = minutes - days * day_min;
    t.hour = rest / 60;
    t.minute = rest % 60;
    t.second = 0;
    return zone.instant(t);
}

std::vector<Instant> window_hours(const WhenWindow& w, const LocalTime& day, int shift_days,
                                  const TimeZone& zone) {
    const int from = w.from_min + shift_days * day_min;
    const int to = w.to_min + (w.to_min < w.from_min ? day_min : 0) + shift_days * day_min;
    std::vector<Instant> hours;
    for (int m = from; m <= to; ++m)
        if (((m % 60) + 60) % 60 == 0)
            hours.push_back(at_minute(day, m, zone));
    if (hours.empty())
        hours.push_back(at_minute(day, from, zone));
    return hours;
}

// Where the clock jumps two hours of it are one.
void sort_once(std::vector<Instant>& hours) {
    std::sort(hours.begin(), hours.end());
    hours.erase(std::unique(hours.begin(), hours.end()), hours.end());
}

class Trial {
public:
    Trial(const PlanInputs& inputs, Instant depart) : m_in(inputs) {
        m_in.depart = depart;
        m_in.front = false;
        m_in.front_point.reset();
        m_in.when.reset();
        m_in.fields_at = nullptr;
    }

    Departure run() {
        const Setting setting(m_in);
        m_out.depart = m_in.depart;
        if (setting.weather().covers(m_in.depart)) {
            try_all(setting);
        } else {
            m_out.why_not.emplace_back("the table of the air does not reach this hour");
        }
        if (m_out.can_be_done)
            m_out.why_not.clear();
        look_at_the_clock(setting);
        return std::move(m_out);
    }

private:
    void try_all(const Setting& setting) {
        DrivePlanner driving(setting);
        if (m_in.drive)
            drive(setting, driving);
        if (!m_in.haul && !m_in.mixed)
            return;
        Hauling hauling(setting);
        const Option haul = haul_option(setting, hauling, driving.ends());
        if (m_in.haul)
            look_at(setting, haul);
        if (m_in.mixed)
            look_at(setting, mixed_option(setting, driving, hauling, haul));
    }

    void drive(const Setting& setting, DrivePlanner& planner) {
        planner.work_out();
        if (!planner.no_way().empty())
            m_out.why_not.push_back(planner.no_way());
        const WorkedWay* best = nullptr;
        for (const WorkedWay& w : planner.ways()) {
            if (!w.can_be_done())
                continue;
            const double judged =
                cost_at_means(setting, OptionFigures{{driven_figures(setting, w.driven)}, {}});
            if (best == nullptr || judged < m_judged) {
                best = &w;
                m_judged = judged;
            }
        }
        if (best == nullptr) {
            if (!planner.ways().empty())
                m_out.why_not = planner.ways().front().why_not;
            return;
        }
        const OptionHeat heat = planner.heat_of(*best);
        m_out.option = best->chosen.id;
        m_out.can_be_done = true;
        m_out.cost = best->cost();
        m_out.bar_peak_c = heat.bar_peak_c;
        m_out.bar_high_c = heat.bar_high_c;
        for (std::size_t c = 0; c < best->caps.size(); ++c)
            m_out.speed_caps_kmh[c] = best->caps[c].kmh();
        m_out.stops = stops_on_the_way(*best);
        m_out.arrive = m_in.depart + best->driven.path.total;
    }

    void look_at(const Setting& setting, const Option& o) {
        if (!o.feasible) {
            m_out.why_not.insert(m_out.why_not.end(), o.why_not.begin(), o.why_not.end());
            return;
        }
        const double judged = cost_at_means(setting, *o.figures);
        if (m_out.can_be_done && m_judged <= judged)
            return;
        m_judged = judged;
        const Instant depart = m_out.depart;
        m_out = {};
        m_out.depart = depart;
        m_out.option = o.id;
        m_out.can_be_done = true;
        m_out.cost = o.cost.total;
        m_out.stops = static_cast<int>(std::count_if(o.stops.begin(), o.stops.end(),
                                                     [](const PlanStop& s) { return s.kind != "start"; }));
        m_out.arrive = o.arrive;
        if (o.heat) {
            m_out.bar_peak_c = o.heat->bar_peak_c;
            m_out.bar_high_c = o.heat->bar_high_c;
        }
        m_out.speed_caps_kmh = o.speed_caps_kmh;
    }

    // A move without an end in time is judged by its departure.
    void look_at_the_clock(const Setting& setting) {
        const Instant arrive = m_out.arrive.value_or(m_out.depart);
        const auto begin = setting.moment(m_out.depart).daylight, end = setting.moment(arrive).daylight;
        if (begin && end)
            m_out.in_daylight = *begin && *end;
        const auto& from_width = m_in.recipe.daylight_from_width;
        const bool wide = from_width && setting.state().width >= *from_width;
        const bool dark = wide && !m_out.in_daylight.value_or(false);
        const std::string hours = outside_wide_move_hours(setting, m_out.depart, arrive);
        m_out.within_permitted_hours = !dark && hours.empty();
        if (m_out.can_be_done && dark)
            m_out.why_not.push_back(fmt::format("width {}: from {} on this region's recipe expects daylight",
                                                setting.words().size(setting.state().width.metres()),
                                                setting.words().size(from_width->metres())));
        if (m_out.can_be_done && !hours.empty())
            m_out.why_not.push_back(hours);
    }

    PlanInputs m_in;
    Departure m_out;
    double m_judged = 0;  // what is kept so far, by what the verdict goes by
};

}  // namespace

std::vector<Instant> hours_to_try(const PlanInputs& in, const TimeZone& zone) {
    const WhenWindow& w = *in.when;
    const LocalTime day = zone.local(in.depart);
    const bool across = w.to_min < w.from_min;
    // The small hours of a window that begins in the evening belong to the day before.
    const bool late = across && in.depart_said != DepartSaid::day && day.hour * 60 + day.minute <= w.to_min;
    const int shift = late ? -1 : 0;
    std::vector<Instant> hours = window_hours(w, day, shift, zone);
    if (in.depart_said == DepartSaid::hour)
        hours.push_back(in.depart);
    if (in.depart_said == DepartSaid::nothing) {
        std::erase_if(hours, [&](Instant t) { return t < in.depart; });
        if (hours.empty())
            hours = window_hours(w, day, shift + 1, zone);
    }
    sort_once(hours);
    return hours;
}

std::vector<Instant> hours_of_day(Instant at, const TimeZone& zone) {
    std::vector<Instant> hours = window_hours({0, day_min - 60}, zone.local(at), 0, zone);
    sort_once(hours);
    return hours;
}

std::vector<Departure> try_departures(const PlanInputs& in, const std::vector<Instant>& hours) {
    std::vector<Departure> out(hours.size());
    WorkerPool pool(
        static_cast<unsigned>(std::min<std::size_t>(hours.size(), std::thread::hardware_concurrency())));
    std::mutex telling;
    std::size_t done = 0;
    pool.run(hours.size(), [&](std::size_t i, unsigned) {
        {
            const std::lock_guard lock(telling);
            tell(in, "hours", static_cast<double>(done++) / static_cast<double>(hours.size()));
        }
        out[i] = Trial(in, hours[i]).run();
    });
    return out;
}

const Departure* cheapest_departure(const std::vector<Departure>& departures, bool by_daylight) {
    const Departure* best = nullptr;
    for (const Departure& d : departures)
        // To the cent, as costs are printed: what is left is no reason to leave later.
        if (d.can_be_done && d.within_permitted_hours && (!by_daylight || d.in_daylight.value_or(true)) &&
            (best == nullptr || *d.cost < *best->cost - 0.005))
            best = &d;
    return best;
}

Instant hour_to_take(const std::vector<Departure>& departures) {
    // Nobody drives in the dark for less than the estimate can tell apart.
    constexpr double as_good = 1.01;
    if (const Departure* best = cheapest_departure(departures)) {
        const Departure* in_light = cheapest_departure(departures, true);
        return in_light != nullptr && *in_light->cost <= as_good * *best->cost ? in_light->depart
                                                                               : best->depart;
    }
    for (const Departure& d : departures)
        if (d.within_permitted_hours)
            return d.depart;
    return departures.front().depart;
}

void mark_taken(std::vector<Departure>& departures, Instant depart, const Plan& plan) {
    const auto d = std::find_if(departures.begin(), departures.end(),
                                [&](const Departure& other) { return other.depart == depart; });
    if (d == departures.end())
        return;
    d->taken = true;
    const Option* o = plan.find_option(plan.verdict.option);
    if (o == nullptr)
        return;
    d->option = o->id;
    d->can_be_done = true;
    d->cost = o->cost.total;
    d->bar_peak_c = o->heat ? o->heat->bar_peak_c : std::nullopt;
    d->bar_high_c = o->heat ? o->heat->bar_high_c : std::nullopt;
    d->speed_caps_kmh = o->speed_caps_kmh;
    d->stops = static_cast<int>(
        std::count_if(o->stops.begin(), o->stops.end(), [](const PlanStop& s) { return s.kind != "start"; }));
    d->arrive = o->arrive;
}

void add_hours_to_verdict(Plan& plan, const TimeZone& zone) {
    const std::vector<Departure>& all = *plan.departures;
    const auto clock = [&](const Departure& d) { return format_clock(d.depart, zone); };
    const Departure* best = cheapest_departure(all);
    if (best == nullptr) {
        plan.verdict.reasons.push_back(
            fmt::format("At none of the {} departures from {} to {} can it be done at a permitted "
                        "hour",
                        all.size(), clock(all.front()), clock(all.back())));
        return;
    }
    const Departure* dearest = best;
    const Departure* taken = nullptr;
    for (const Departure& d : all) {
        if (d.can_be_done && d.within_permitted_hours && *d.cost > *dearest->cost)
            dearest = &d;
        if (d.taken)
            taken = &d;
    }
    std::string text =
        fmt::format("Best hour: of {} departures from {} to {}, {} is the cheapest: {:.0f} ({})", all.size(),
                    clock(all.front()), clock(all.back()), clock(*best), *best->cost, best->option);
    if (best->bar_high_c)
        text +=
            fmt::format(", bars up to {} (upper edge)", UnitWords(plan.units).temperature(*best->bar_high_c));
    if (*dearest->cost > *best->cost + 0.5)
        text += fmt::format("; the dearest that can be done is {}: {:.0f} ({})", clock(*dearest),
                            *dearest->cost, dearest->option);
    if (taken != nullptr && taken != best && taken->cost)
        text += fmt::format("; this plan leaves at {}{}: {:.0f}", clock(*taken),
                            taken->in_daylight.value_or(false) && !best->in_daylight.value_or(true)
                                ? " and drives in daylight"
                                : "",
                            *taken->cost);
    plan.verdict.reasons.push_back(std::move(text));
}

void add_cooler_hour(const PlanInputs& in, const Setting& setting, Verdict& verdict) {
    if (!in.haul)
        verdict.would_flip.emplace_back("hauling: it was not looked at");
    std::vector<Instant> hours = hours_of_day(in.depart, setting.zone());
    const Weather& weather = setting.weather();
    // Where the weather never changes every hour is as hot.
    const bool changes = std::any_of(hours.begin(), hours.end(),
                                     [&](Instant t) { return weather.slot(t) != weather.slot(in.depart); });
    if (!changes)
        return;
    std::erase_if(hours, [&](Instant t) { return t == in.depart || !weather.covers(t); });
    PlanInputs driven = watched_part(in, 0.95, 1);
    driven.haul = driven.mixed = false;
    const std::vector<Departure> departures = try_departures(driven, hours);
    if (const Departure* best = cheapest_departure(departures))
        verdict.would_flip.push_back(fmt::format(
            "another hour: leaving at {} it can be driven ({}), about {:.0f} {}, bars up to {} "
            "(upper edge of the estimate{}) in the weather given",
            format_clock(best->depart, setting.zone()), best->option, *best->cost, in.rates.currency,
            setting.words().temperature(*best->bar_high_c), in.heat.calibrated() ? "" : ", not calibrated"));
}

}  // namespace loamway
