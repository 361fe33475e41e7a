// SPDX-License-Identifier: Apache-2.0
// loamway belt: heat, wear, power and fuel along a trip
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>

#include "belt_request.h"
#include "command.h"
#include "console.h"
#include "loamway/base/names.h"
#include "loamway/belt/trip.h"
#include "loamway/plan/cautions.h"
#include "loamway/profile/machine.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

std::string what_it_is(const BeltRun& run) {
    if (!run.heat.calibrated())
        return "estimate, not calibrated, no evidence of a belt's condition";
    return fmt::format("estimate, calibrated by {} infrared reading{}, no evidence of a belt's condition",
                       run.heat.used, run.heat.used == 1 ? "" : "s");
}

/// The cautions of a heat record; the standing ones for a move that is driven follow.
std::vector<std::string> cautions_of(const BeltRun& run) {
    std::vector<std::string> out;
    if (!run.heat.calibrated())
        out.emplace_back(
            "Without a reading the core may be 20 °C hotter or cooler than the estimate. An infrared thermometer on "
            "the flank of a bar, half-way up and within two minutes of stopping, tells more. A cool tip is no proof: "
            "the inside is much hotter than the surface.");
    out.emplace_back(
        "Sharp turns, braking and loads that shift on grades are not in these figures. Belts of an unknown "
        "compound: keep to the lower temperature.");
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
        "  {:>7}  {:<8}  {:>5}  {:>5}  {:>5}  {:>5}  {:>5}  {:>5}  {:>10}  {:>6}  {:>6}  {:>6}\n", "to km",
        "surface", "km/h", "stop", "core", "peak", "flank", "tip", "guide lugs", "after", "mm", "litres");
    for (const SegmentRecord& s : r.segments) {
        const bool stop = s.segment.stop.seconds() > 0.0;
        out += fmt::format(
            "  {:>7.2f}  {:<8}  {:>4.1f}{}  {:>5}  {:>5.1f}  {:>5.1f}  {:>5.1f}  {:>5.1f}  {:>10.1f}  {:>6}  {:>6.4f}  {:>6.2f}\n",
            s.end.km(), name_of(s.segment.surface), s.driven.kmh(), s.cap == SpeedCap::none ? " " : "*",
            stop ? fmt::format("{:g}", s.segment.stop.minutes()) : "-", s.bar_core.celsius(),
            s.bar_peak.celsius(), s.bar_flank.celsius(), s.bar_tip.celsius(), s.guide_lug.celsius(),
            stop ? fmt::format("{:.1f}", s.bar_after_stop.celsius()) : "-", s.wear_mm, s.fuel.litres());
    }
    out +=
        "  core, flank and tip of a tread bar and guide lugs when the segment ends, in °C; after: core after the stop\n";
    for (const SpeedCap cap : {SpeedCap::power, SpeedCap::top_speed})
        for (const SegmentRecord& s : r.segments)
            if (s.cap == cap) {
                out += fmt::format("  * slower than asked: {}\n", name_of(cap));
                break;
            }
    return out;
}

std::string limits_text(const TripResult& r) {
    std::string out = fmt::format("  caution {:.0f} °C, limit {:.0f} °C", r.limits.caution.celsius(),
                                  r.limits.limit.celsius());
    if (r.to_caution)
        out += fmt::format("; caution passed after {}", minutes_text(*r.to_caution));
    if (r.to_limit)
        out += fmt::format(", limit after {}", minutes_text(*r.to_limit));
    return out + "\n";
}

/// What the readings at the trip's end say, line by line.
std::string readings_text(const BeltRun& run) {
    std::string out;
    for (std::size_t i = 0; run.calibration && i < run.readings.size(); ++i) {
        const HeatReading& r = run.readings[i];
        out += fmt::format(
            "  {} after {:.1f} min: read {:.1f} °C, expected {:.1f} °C before, {:.1f} °C after the update\n",
            r.place == ReadingPlace::tip ? "tip" : "flank", r.after_stop.minutes(), r.value.celsius(),
            run.calibration->predicted_before[i].celsius(), run.calibration->predicted_after[i].celsius());
    }
    if (run.heat.calibrated())
        out += fmt::format(
            "  bars make {:.3f} times the heat assumed; the core is known to {:.1f} °C (one standard "
            "deviation, conduction and cooling being as uncertain as before)\n",
            run.heat.scale, run.heat.core_sd_k);
    for (const std::string& why : run.heat.refused)
        out += fmt::format("  reading not used: {}\n", printable(why));
    for (const std::string& note : run.heat.notes)
        out += fmt::format("  {}\n", note);
    return out;
}

std::string result_text(const BeltRun& run) {
    const TripResult& r = run.result;
    const double air = run.conditions.air.celsius();
    std::string out = fmt::format("Tread bars reach {:.0f} °C at km {:.1f}, band {:.0f} to {:.0f} °C: {}.\n",
                                  r.bar_peak.celsius(), r.bar_peak_at.km(), r.bar_peak_low.celsius(),
                                  r.bar_peak_high.celsius(), what_it_is(run));
    out += limits_text(r);
    out += readings_text(run);
    for (const std::string& note : r.notes)
        out += fmt::format("  {}\n", note);
    out += fmt::format("\n{}, {}; air {:.0f} °C{}, sun {:g} unless the trip says otherwise\n",
                       printable(run.machine.name), printable(run.state.name), air,
                       run.conditions.air_assumed ? " (assumed)" : "", run.conditions.sun);
    out += table_text(r);
    out += fmt::format("  {:.2f} km, driven in {}, stopped {}\n", r.length.km(), minutes_text(r.driving),
                       minutes_text(r.stopped));
    out += fmt::format(
        "  at the end: core {:.1f} °C, mean {:.1f} °C, guide lugs {:.1f} °C (highest {:.1f}, caution {:.0f})\n",
        r.bar_end.celsius(), r.bar_mean_end.celsius(), r.guide_lug_end.celsius(), r.guide_lug_peak.celsius(),
        r.guide_lug_caution.celsius());
    out += fmt::format("  wear {:.3f} mm, as {:.1f} hours of field work; sharp turns not counted\n",
                       r.wear_mm, field_hours_equivalent(r.wear_mm));
    out += fmt::format("  fuel {:.1f} l, upper line {:.1f} l; ages the bars like {:.1f} minutes at 110 °C\n",
                       r.fuel.litres(), r.fuel_upper.litres(), r.aging_min);
    out += "\nCautions\n";
    for (const std::string& caution : cautions_of(run))
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

Value readings_json(const BeltRun& run) {
    Value::Array out;
    for (std::size_t i = 0; run.calibration && i < run.readings.size(); ++i) {
        const HeatReading& r = run.readings[i];
        out.push_back(Value::Object{{"place", r.place == ReadingPlace::tip ? "tip" : "flank"},
                                    {"minutes_after_stop", figure(r.after_stop.minutes(), 100)},
                                    {"read_c", celsius(r.value)},
                                    {"expected_c", celsius(run.calibration->predicted_before[i])},
                                    {"after_update_c", celsius(run.calibration->predicted_after[i])}});
    }
    return out;
}

Value result_json(const BeltRun& run) {
    const TripResult& r = run.result;
    Value::Array segments;
    for (const SegmentRecord& s : r.segments)
        segments.push_back(segment_json(s));
    return Value::Object{{"schema", "loamway.belt/1"},
                         {"what", what_it_is(run)},
                         {"machine", run.machine.name},
                         {"state", run.state.name},
                         {"air_c", Value(run.conditions.air.celsius())},
                         {"air_assumed", run.conditions.air_assumed},
                         {"calibrated", r.calibrated},
                         {"heat_scale", figure(run.heat.scale, 1e4)},
                         {"core_sd_c", run.heat.calibrated() ? figure(run.heat.core_sd_k, 100) : Value()},
                         {"readings", readings_json(run)},
                         {"readings_refused", texts_json(run.heat.refused)},
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
                         {"cautions", texts_json(cautions_of(run))}};
}

int run_belt(const BeltFlags& flags) {
    const BeltRun run = run_of(flags);
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
    sub->add_option("--belts", flags->belts, "new, run-in or washed (run-in)")->type_name("WORD");
    sub->add_option("--belt-hours", flags->hours, "hours the belts have worked")->type_name("H");
    sub->add_option("--since-lube", flags->since_lube, "km driven since the last powder (0)")
        ->type_name("KM");
    sub->add_option("--bar", flags->bar_mm, "height of the bars now, mm (as new)")->type_name("MM");
    sub->add_option("--ground", flags->ground, "dry, dusty, moist, wet or frozen (dry)")->type_name("WORD");
    sub->add_option(
           "--flank", flags->flank,
           "infrared reading of a bar's flank, half-way up, when the trip is over: minutes after the stop "
           "and °C, such as 1,59; may be given again")
        ->type_name("MIN,C");
    sub->add_option("--tip", flags->tip, "the same for a bar's tip; not within 10 min of a paved road")
        ->type_name("MIN,C");
    sub->add_flag("--json", flags->json, "print JSON");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run_belt(*flags); }; });
}

}  // namespace loamway
