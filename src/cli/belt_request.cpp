// SPDX-License-Identifier: Apache-2.0
#include "belt_request.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>

#include "command.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;
constexpr std::size_t largest_trip = std::size_t{16} << 20;

double number_within(std::string_view flag, const std::string& text, std::string_view unit, Range range) {
    const double v = flag_number(flag, text, unit);
    if (v < range.low || v > range.high)
        throw Error(ErrorKind::input, fmt::format("{} {} is out of range", flag, printable(text)),
                    fmt::format("{:g} to {:g} {}", range.low, range.high, unit));
    return v;
}

/// The value with that name.
template <class Value, std::size_t N>
Value named(std::string_view flag, const std::string& text, const std::array<Value, N>& values) {
    std::vector<std::string_view> words;
    for (const Value v : values) {
        if (text == name_of(v))
            return v;
        words.push_back(name_of(v));
    }
    throw Error(ErrorKind::input, fmt::format("{} does not know \"{}\"", flag, printable(text)),
                fmt::format("one of {}", fmt::join(words, ", ")));
}

Conditions conditions_of(const BeltFlags& flags) {
    Conditions out;
    if (!flags.air.empty()) {
        out.air = Temperature::from_celsius(number_within("--air", flags.air, "degrees Celsius", {-50, 60}));
        out.air_assumed = false;
    }
    if (!flags.ground.empty()) {
        out.ground =
            named("--ground", flags.ground,
                  std::array{Ground::dry, Ground::dusty, Ground::moist, Ground::wet, Ground::frozen});
        out.ground_assumed = false;
    }
    return out;
}

BeltsNow belts_of(const BeltFlags& flags) {
    using Condition = BeltsNow::Condition;
    BeltsNow out;
    if (!flags.belts.empty()) {
        out.condition = named("--belts", flags.belts,
                              std::array{Condition::not_run_in, Condition::run_in, Condition::washed});
        out.condition_assumed = false;
    }
    if (!flags.hours.empty())
        out.hours = number_within("--belt-hours", flags.hours, "hours", {0, 30000});
    if (!flags.since_lube.empty()) {
        out.since_lube =
            Length::from_km(number_within("--since-lube", flags.since_lube, "kilometres", {0, 1000}));
        out.since_lube_assumed = false;
    }
    if (!flags.bar_mm.empty())
        out.bar_height = Length::from_mm(number_within("--bar", flags.bar_mm, "millimetres", {2, 200}));
    return out;
}

void add_readings(std::string_view flag, ReadingPlace place, const std::vector<std::string>& texts,
                  std::vector<HeatReading>& out) {
    for (const std::string& text : texts) {
        const std::vector<std::string> parts = flag_list(flag, text);
        if (parts.size() != 2)
            throw Error(ErrorKind::input, fmt::format("{} \"{}\" is no reading", flag, printable(text)),
                        "minutes after the stop and degrees Celsius, such as 1,59");
        out.push_back(
            {place, Duration::from_minutes(number_within(flag, parts[0], "minutes", {0, 1440})),
             Temperature::from_celsius(number_within(flag, parts[1], "degrees Celsius", {-40, 200})),
             HeatReading{}.sd_k});
    }
}

void calibrate(BeltRun& run, const std::vector<TripSegment>& trip, const TripOptions& options) {
    if (run.readings.empty()) {
        run.heat = learn_heat(run.machine, run.machine.readings);
        return;
    }
    // Readings of this very trip tell more than older ones in the profile, which are left aside.
    run.calibration = calibrate_heat(run.machine, run.state, run.conditions, trip, run.readings, options);
    const HeatCalibration& c = *run.calibration;
    if (c.refused) {
        run.heat.refused.push_back(*c.refused);
        return;
    }
    run.heat.scale = c.scale;
    run.heat.log_sd = c.log_scale_sd;
    run.heat.core_sd_k = c.core_sd_k;
    run.heat.used = static_cast<int>(run.readings.size());
}

}  // namespace

BeltRun run_of(const BeltFlags& flags) {
    if (flags.trip == "-" && flags.machine == "-")
        throw Error(ErrorKind::input, "trip and machine cannot both come from standard input",
                    "name a file for one of them");
    require_readable(flags.trip);
    require_readable(flags.machine);
    BeltRun out;
    out.conditions = conditions_of(flags);
    out.belts = belts_of(flags);
    add_readings("--flank", ReadingPlace::flank, flags.flank, out.readings);
    add_readings("--tip", ReadingPlace::tip, flags.tip, out.readings);
    out.machine = read_machine(
        parse_document(read_text_file(flags.machine, largest_profile), flags.machine, DocumentKind::machine),
        flags.machine);
    out.state = out.machine.state(flags.state);
    const std::vector<TripSegment> trip =
        parse_trip_csv(read_text_file(flags.trip, largest_trip), flags.trip);
    TripOptions options;
    options.belts = out.belts;
    try {
        calibrate(out, trip, options);
        options.heat.scales.heat = out.heat.scale;
        options.heat_sd = out.heat.log_sd;
        options.calibrated = out.heat.calibrated();
        options.core_sd_k = out.heat.core_sd_k;
        out.result = run_trip(out.machine, out.state, out.conditions, trip, options);
    } catch (const Error& e) {
        throw in_file(e, flags.trip);
    }
    return out;
}

}  // namespace loamway
