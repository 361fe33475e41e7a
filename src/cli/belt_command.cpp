// SPDX-License-Identifier: Apache-2.0
// loamway belt: heat, wear, power and fuel along a trip
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/belt/trip.h"
#include "loamway/plan/cautions.h"
#include "loamway/profile/machine.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;
constexpr std::size_t largest_trip = std::size_t{16} << 20;
constexpr double coldest_air = -50, hottest_air = 60;

struct BeltFlags {
    std::string trip, machine, state, air;
    bool json = false;
};

/// A trip that was run, with what it was run for.
struct Run {
    Machine machine;
    WorkingState state;
    Conditions conditions;
    TripResult result;
};

constexpr std::string_view what_it_is = "estimate, not calibrated, no evidence of a belt's condition";

Conditions conditions_of(const BeltFlags& flags) {
    Conditions out;
    if (flags.air.empty())
        return out;
    const double air = flag_number("--air", flags.air, "degrees Celsius");
    if (air < coldest_air || air > hottest_air)
        throw Error(ErrorKind::input, fmt::format("--air {} is out of range", printable(flags.air)),
                    fmt::format("{:g} to {:g} degrees Celsius", coldest_air, hottest_air));
    out.air = Temperature::from_celsius(air);
    out.air_assumed = false;
    return out;
}

Run run_of(const BeltFlags& flags) {
    if (flags.trip == "-" && flags.machine == "-")
        throw Error(ErrorKind::input, "trip and machine cannot both come from standard input",
                    "name a file for one of them");
    require_readable(flags.trip);
    require_readable(flags.machine);
    Run out;
    out.conditions = conditions_of(flags);
    out.machine = read_machine(parse_toml(read_text_file(flags.machine, largest_profile), flags.machine),
                               flags.machine);
    out.state = out.machine.state(flags.state);
    const std::vector<TripSegment> trip =
        parse_trip_csv(read_text_file(flags.trip, largest_trip), flags.trip);
    try {
        out.result = run_trip(out.machine, out.state, out.conditions, trip);
    } catch (const Error& e) {
        throw in_file(e, flags.trip);
    }
    return out;
}

/// The cautions of a heat record; the standing ones for a move that is driven follow.
std::vector<std::string> cautions_of() {
    std::vector<std::string> out{
        "Without a reading the core may be 20 C hotter or cooler than the estimate. An infrared thermometer on "
        "the flank of a bar, half-way up and within two minutes of stopping, tells more. A cool tip is no proof: "
        "the inside is much hotter than the surface.",
        "Sharp turns, braking and loads that shift on grades are not in these figures. Belts of an unknown "
        "compound: keep to the lower temperature."};
    for (std::string& s : standard_cautions(false))
        out.push_back(std::move(s));
    return out;
}

// ---- text

std::string minutes_text(Duration d) {
    const auto minutes = static_cast<long>(std::lround(d.minutes()));
    return minutes < 60 ? fmt::format("{} min", minutes)
                        : fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string table_text(const TripResult& r) {
    std::string out = fmt::format(
        "  {:>7}  {:<8}  {:>5}  {:>5}  {:>5}  {:>5}  {:>5}  {:>5}  {:>5}  {:>6}  {:>6}  {:>6}\n", "to km",
        "surface", "km/h", "stop", "core", "peak", "flank", "tip", "lugs", "after", "mm", "litres");
    for (const SegmentRecord& s : r.segments) {
        const bool stop = s.segment.stop.seconds() > 0.0;
        out += fmt::format(
            "  {:>7.2f}  {:<8}  {:>4.1f}{}  {:>5}  {:>5.1f}  {:>5.1f}  {:>5.1f}  {:>5.1f}  {:>5.1f}  {:>6}  {:>6.4f}  {:>6.2f}\n",
            s.end.km(), name_of(s.segment.surface), s.driven.kmh(), s.cap == SpeedCap::none ? " " : "*",
            stop ? fmt::format("{:g}", s.segment.stop.minutes()) : "-", s.bar_core.celsius(),
            s.bar_peak.celsius(), s.bar_flank.celsius(), s.bar_tip.celsius(), s.guide_lug.celsius(),
            stop ? fmt::format("{:.1f}", s.bar_after_stop.celsius()) : "-", s.wear_mm, s.fuel.litres());
    }
    out +=
        "  core, flank and tip of a tread bar and guide lugs when the segment ends, in C; after: core after the stop\n";
    for (const SpeedCap cap : {SpeedCap::power, SpeedCap::top_speed})
        for (const SegmentRecord& s : r.segments)
            if (s.cap == cap) {
                out += fmt::format("  * slower than asked: {}\n", name_of(cap));
                break;
            }
    return out;
}

std::string limits_text(const TripResult& r) {
    std::string out = fmt::format("  caution {:.0f} C, limit {:.0f} C", r.limits.caution.celsius(),
                                  r.limits.limit.celsius());
    if (r.to_caution)
        out += fmt::format("; caution passed after {}", minutes_text(*r.to_caution));
    if (r.to_limit)
        out += fmt::format(", limit after {}", minutes_text(*r.to_limit));
    return out + "\n";
}

std::string result_text(const Run& run) {
    const TripResult& r = run.result;
    const double air = run.conditions.air.celsius();
    std::string out = fmt::format("Tread bars reach {:.0f} C at km {:.1f}, band {:.0f} to {:.0f} C: {}.\n",
                                  r.bar_peak.celsius(), r.bar_peak_at.km(), r.bar_peak_low.celsius(),
                                  r.bar_peak_high.celsius(), what_it_is);
    out += limits_text(r);
    for (const std::string& note : r.notes)
        out += fmt::format("  {}\n", note);
    out += fmt::format("\n{}, {}; air {:.0f} C{}, sun {:g} unless the trip says otherwise\n",
                       printable(run.machine.name), printable(run.state.name), air,
                       run.conditions.air_assumed ? " (assumed)" : "", run.conditions.sun);
    out += table_text(r);
    out += fmt::format("  {:.2f} km, driven in {}, stopped {}\n", r.length.km(), minutes_text(r.driving),
                       minutes_text(r.stopped));
    out += fmt::format(
        "  at the end: core {:.1f} C, mean {:.1f} C, guide lugs {:.1f} C (highest {:.1f}, caution {:.0f})\n",
        r.bar_end.celsius(), r.bar_mean_end.celsius(), r.guide_lug_end.celsius(), r.guide_lug_peak.celsius(),
        r.guide_lug_caution.celsius());
    out += fmt::format("  wear {:.3f} mm, as {:.1f} hours of field work; sharp turns not counted\n",
                       r.wear_mm, field_hours_equivalent(r.wear_mm));
    out += fmt::format("  fuel {:.1f} l, upper line {:.1f} l; ages the bars like {:.1f} minutes at 110 C\n",
                       r.fuel.litres(), r.fuel_upper.litres(), r.aging_min);
    out += "\nCautions\n";
    for (const std::string& caution : cautions_of())
        out += fmt::format("- {}\n", caution);
    return out;
}

// ---- JSON

Value celsius(Temperature t) {
    return Value(std::round(t.celsius() * 100.0) / 100.0);
}
Value figure(double v, double per_unit) {
    return Value(std::round(v * per_unit) / per_unit);
}
Value maybe_minutes(const std::optional<Duration>& d) {
    return d ? figure(d->minutes(), 10) : Value();
}
Value texts_json(const std::vector<std::string>& list) {
    return Value::Array(list.begin(), list.end());
}

Value segment_json(const SegmentRecord& s) {
    return Value::Object{{"length_km", figure(s.segment.length.km(), 1e4)},
                         {"end_km", figure(s.end.km(), 1e4)},
                         {"surface", Value(name_of(s.segment.surface))},
                         {"asked_kmh", figure(s.segment.speed.kmh(), 100)},
                         {"driven_kmh", figure(s.driven.kmh(), 100)},
                         {"capped_by", s.cap == SpeedCap::none ? Value() : Value(name_of(s.cap))},
                         {"grade_pct", Value(s.segment.grade_pct)},
                         {"driving_s", figure(s.driving.seconds(), 10)},
                         {"stop_min", figure(s.segment.stop.minutes(), 100)},
                         {"bar_c", celsius(s.bar_core)},
                         {"bar_peak_c", celsius(s.bar_peak)},
                         {"bar_mean_c", celsius(s.bar_mean)},
                         {"bar_flank_c", celsius(s.bar_flank)},
                         {"bar_tip_c", celsius(s.bar_tip)},
                         {"bar_after_stop_c", celsius(s.bar_after_stop)},
                         {"guide_lug_c", celsius(s.guide_lug)},
                         {"guide_lug_after_stop_c", celsius(s.guide_lug_after_stop)},
                         {"wear_mm", figure(s.wear_mm, 1e6)},
                         {"fuel_l", figure(s.fuel.litres(), 1e4)},
                         {"fuel_upper_l", figure(s.fuel_upper.litres(), 1e4)},
                         {"aging_110c_min", figure(s.aging_min, 1e4)},
                         {"share_of_motion_power", figure(s.energy_share, 1e4)}};
}

Value result_json(const Run& run) {
    const TripResult& r = run.result;
    Value::Array segments;
    for (const SegmentRecord& s : r.segments)
        segments.push_back(segment_json(s));
    return Value::Object{{"schema", "loamway.belt/1"},
                         {"what", Value(what_it_is)},
                         {"machine", run.machine.name},
                         {"state", run.state.name},
                         {"air_c", Value(run.conditions.air.celsius())},
                         {"air_assumed", run.conditions.air_assumed},
                         {"calibrated", r.calibrated},
                         {"bar_end_c", celsius(r.bar_end)},
                         {"bar_peak_c", celsius(r.bar_peak)},
                         {"bar_peak_km", figure(r.bar_peak_at.km(), 1e4)},
                         {"bar_low_c", celsius(r.bar_peak_low)},
                         {"bar_high_c", celsius(r.bar_peak_high)},
                         {"bar_mean_end_c", celsius(r.bar_mean_end)},
                         {"bar_flank_end_c", celsius(r.bar_flank_end)},
                         {"bar_tip_end_c", celsius(r.bar_tip_end)},
                         {"caution_c", celsius(r.limits.caution)},
                         {"limit_c", celsius(r.limits.limit)},
                         {"minutes_to_caution", maybe_minutes(r.to_caution)},
                         {"minutes_to_limit", maybe_minutes(r.to_limit)},
                         {"guide_lug_end_c", celsius(r.guide_lug_end)},
                         {"guide_lug_peak_c", celsius(r.guide_lug_peak)},
                         {"guide_lug_caution_c", celsius(r.guide_lug_caution)},
                         {"wear_mm", figure(r.wear_mm, 1e6)},
                         {"field_hours_equivalent", figure(field_hours_equivalent(r.wear_mm), 1e3)},
                         {"fuel_l", figure(r.fuel.litres(), 1e4)},
                         {"fuel_upper_l", figure(r.fuel_upper.litres(), 1e4)},
                         {"aging_110c_min", figure(r.aging_min, 1e4)},
                         {"length_km", figure(r.length.km(), 1e4)},
                         {"driving_s", figure(r.driving.seconds(), 10)},
                         {"stopped_s", figure(r.stopped.seconds(), 10)},
                         {"segments", segments},
                         {"notes", texts_json(r.notes)},
                         {"cautions", texts_json(cautions_of())}};
}

int run_belt(const BeltFlags& flags) {
    const Run run = run_of(flags);
    print(flags.json ? to_json(result_json(run), 2) + "\n" : result_text(run));
    return 0;
}

}  // namespace

void add_belt_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("belt", "heat, wear and fuel of the belts along a trip");
    auto flags = std::make_shared<BeltFlags>();
    sub->add_option("trip", flags->trip,
                    "columns length_km,surface,speed_kmh and any of grade_pct,air_c,sun,stop_min; surface is "
                    "hard, asphalt, concrete, gravel, earth or field")
        ->required()
        ->type_name("TRIP.csv");
    sub->add_option("--machine", flags->machine, "machine profile")->required()->type_name("FILE");
    sub->add_option("--state", flags->state, "working state of the machine (its first one)")
        ->type_name("NAME");
    sub->add_option("--air", flags->air, "air temperature where the trip names none (20, assumed)")
        ->type_name("C");
    sub->add_flag("--json", flags->json, "print JSON");
    sub->footer("Example: loamway belt trip.csv --machine examples/profiles/medium.toml --air 30");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run_belt(*flags); }; });
}

}  // namespace loamway
