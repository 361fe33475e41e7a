// SPDX-License-Identifier: Apache-2.0
#include "season_hours.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "budget_words.h"
#include "loamway/base/names.h"
#include "loamway/plan/cautions.h"
#include "work_day.h"

namespace loamway {

namespace {

std::string plural(std::size_t n, const char* one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

HourKind kind_of(Mode mode) {
    return mode == Mode::drive ? HourKind::driven : mode == Mode::haul ? HourKind::hauled : HourKind::mixed;
}

/// Work goes over evenings: one piece a day.
void add_work(const Season& s, const SeasonEntry& e, std::vector<Hours>& out) {
    const TimeZone zone = zone_of_season(s);
    const WorkDay day(zone, s.list.day_from_min, s.list.day_to_min);
    const ListedJob& job = s.list.jobs[*e.job];
    for (Instant t = day.next_begin(e.begin); t < e.end;) {
        const Instant to = std::min(e.end, day.evening(t));
        out.push_back({t,
                       to,
                       HourKind::work,
                       fmt::format("{} at {}{}", job.field.name, e.move.to, to < e.end ? ", goes on" : ""),
                       job.field.name,
                       {}});
        t = day.next_begin(to);
        if (t <= out.back().from)
            break;
    }
}

}  // namespace

TimeZone zone_of_season(const Season& s) {
    return s.time_zone.empty() ? TimeZone() : TimeZone(s.time_zone);
}

std::string day_words(const Season& s, Instant t) {
    constexpr std::array<const char*, 7> days{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
    const TimeZone zone = zone_of_season(s);
    return fmt::format("{} {}", days[static_cast<std::size_t>(zone.local(t).weekday)],
                       format_rfc3339(t, zone).substr(0, 10));
}

std::string way_words(const SeasonMove& m) {
    const std::string stops =
        m.stops == 0 ? "" : fmt::format(", {} re-lube stop{}", m.stops, m.stops == 1 ? "" : "s");
    const char* powder = m.powder_first ? "powder, then " : "";
    switch (m.mode) {
        case Mode::drive:
            return fmt::format("{}drive {:.0f} km ({:.0f} paved){}", powder, m.driven_m / 1000,
                               m.paved_m / 1000, stops);
        case Mode::haul:
            return fmt::format("haul {:.0f} km", m.hauled_m / 1000);
        case Mode::mixed:
            return fmt::format("{}drive {:.0f} km and haul {:.0f}{}", powder, m.driven_m / 1000,
                               m.hauled_m / 1000, stops);
        case Mode::none:
            break;
    }
    return m.plan == nullptr ? "stays" : "cannot be done";
}

std::vector<Hours> hours_of_machine(const Season& s, std::size_t machine) {
    std::vector<Hours> out;
    for (const SeasonEntry& e : s.entries) {
        if (e.machine != machine)
            continue;
        const SeasonMove& m = e.move;
        if (m.plan != nullptr) {
            Hours h{m.leave, m.arrive, kind_of(m.mode), {}, {}, {}};
            if (e.trip)
                h.low_bed = s.trips[*e.trip].low_bed;
            h.text = fmt::format("{}{}: {} to {}", way_words(m),
                                 h.low_bed ? " on " + s.list.low_beds[*h.low_bed].name : "", m.from, m.to);
            h.brief = fmt::format("{:.0f} km", (m.driven_m + m.hauled_m) / 1000);
            out.push_back(std::move(h));
        }
        if (e.job)
            add_work(s, e, out);
    }
    return out;
}

std::vector<Hours> hours_of_low_bed(const Season& s, std::size_t bed) {
    std::vector<Hours> out;
    for (const LowBedTrip& t : s.trips) {
        if (t.low_bed != bed)
            continue;
        if (t.there > t.leaves)
            out.push_back({t.leaves, t.there, HourKind::empty_run,
                           fmt::format("empty, {} to {}", t.from, t.entry ? t.pick_up : t.drop), "empty",
                           bed});
        if (!t.entry)
            continue;
        const SeasonEntry& e = s.entries[*t.entry];
        const std::string& machine = s.list.machines[e.machine].name;
        out.push_back({t.busy_from, t.free, HourKind::hauled,
                       fmt::format("load {}, {} to {}, unload", machine, t.pick_up, t.drop), machine, bed});
    }
    return out;
}

std::string season_headline(const Season& s) {
    std::size_t done = 0;
    for (const SeasonEntry& e : s.entries)
        done += e.job ? 1 : 0;
    std::string out = fmt::format("{}, {}", plural(done, "job"), plural(s.list.machines.size(), "machine"));
    if (!s.list.low_beds.empty())
        out += ", " + plural(s.list.low_beds.size(), "low-bed");
    const TimeZone zone = zone_of_season(s);
    out += fmt::format(
        ", {} {} to {} {}: {} cost {:.0f} {}, of which {:.0f} in the field, {:.0f} moves, {:.0f} low-beds",
        day_words(s, s.begins), format_clock(s.begins, zone), day_words(s, s.ends),
        format_clock(s.ends, zone), s.basis, s.total, printable(s.currency), s.field, s.moves, s.low_beds);
    if (!s.left_out.empty())
        out += fmt::format(". {} cannot be done", plural(s.left_out.size(), "job"));
    return out;
}

std::string bound_words(const Season& s) {
    if (!s.bound)
        return "Not all jobs can be done; how near the rest is to the least cost is not worked out.";
    if (s.exact)
        return "No season of these moves costs less: all were compared.";
    return fmt::format(
        "No season of these moves costs less than {:.0f} {}: at most {:.1f} % of the cost could be saved.",
        *s.bound, printable(s.currency), 100 * *s.gap);
}

std::vector<std::string> season_basis(const Season& s) {
    std::vector<std::string> out{
        basis_words(s.basis) +
            ". A season's cost is marginal unless it or its rates say basis = \"full\", a "
            "budget's full unless it says \"marginal\": compare like with like.",
        fmt::format(
            "{} moves were planned to choose from; those of the season again at their own hours, belts as "
            "they are by then ({}).",
            s.moves_planned, plural(static_cast<std::size_t>(s.rounds), "round")),
        "A low-bed's trip costs at least the rates' minimum, its empty run to the machine included; it stays where it "
        "unloaded until its next trip and goes back to its base at the end.",
        "Moves that were not chosen were looked at for the first morning only; in the heat of a day they may cost "
        "more."};
    if (s.pairs_left_out > 0)
        out.push_back(
            fmt::format("{} moves between far places were not looked at; bound and least cost are those "
                        "without them.",
                        s.pairs_left_out));
    return out;
}

std::vector<std::string> season_cautions(const Season& s) {
    std::vector<std::string> out{
        "Plan each move again on its day: weather, ground, closures and the belts' state decide. Drivers need "
        "breaks and the law's hours of rest, which this season does not count."};
    for (std::string& c : standard_cautions(!s.trips.empty()))
        out.push_back(std::move(c));
    return out;
}

std::vector<std::pair<std::string, std::vector<Plan>>> day_plans(const Season& s) {
    std::vector<const SeasonMove*> moves;
    for (const SeasonEntry& e : s.entries)
        if (e.move.plan != nullptr && e.move.mode != Mode::none)
            moves.push_back(&e.move);
    std::stable_sort(moves.begin(), moves.end(),
                     [](const SeasonMove* a, const SeasonMove* b) { return a->leave < b->leave; });
    const TimeZone zone = zone_of_season(s);
    std::vector<std::pair<std::string, std::vector<Plan>>> out;
    for (const SeasonMove* m : moves) {
        const std::string day = format_rfc3339(m->leave, zone).substr(0, 10);
        if (out.empty() || out.back().first != day)
            out.emplace_back(day, std::vector<Plan>());
        out.back().second.push_back(*m->plan);
    }
    return out;
}

}  // namespace loamway
