// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/trip.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/belt/bar_heat.h"
#include "trip_leg.h"

namespace loamway {
namespace {

constexpr double worn_share = 0.25;  // of a new bar's height: cord may be near

GuideLugState lug_state(const BeltsNow& belts, Ground ground) {
    GuideLugState out;
    out.ground = ground;
    out.belt_hours = belts.worked_hours();
    if (belts.condition != BeltsNow::Condition::washed)
        out.since_lube = belts.since_lube;
    return out;
}

/// Drives a trip leg by leg and keeps the books.
class TripRun {
public:
    TripRun(const Machine& machine, const WorkingState& state, const Conditions& conditions,
            const TripOptions& options, const HeatModel& model, Temperature start)
        : m_options(options),
          m_model(model),
          m_lug(model.belt(), options.guide_lug),
          m_load_ratio(load_ratio(machine, state)),
          m_bar(model.belt(), options.heat.rubber, start),
          m_low(m_bar),
          m_high(m_bar),
          m_lug_state(lug_state(options.belts, conditions.ground)),
          m_lug_temperature(start) {
        m_result.limits = HeatLimits::for_belts(options.belts.worked_hours());
        m_result.guide_lug_caution = options.guide_lug.caution;
        m_result.calibrated = options.calibrated;
        m_result.bar_peak = m_result.bar_peak_low = m_result.bar_peak_high = start;
        m_result.guide_lug_peak = start;
    }

    void drive(const TripSegment& segment, const TripLeg& leg) {
        SegmentRecord r;
        r.segment = segment;
        r.driven = leg.driven;
        r.cap = leg.cap;
        r.driving = leg.driving;
        r.bar_peak = m_bar.core();
        run(leg.way, leg.driving, r);
        r.bar_core = m_bar.core();
        r.bar_mean = m_bar.mean();
        r.bar_flank = m_bar.flank();
        r.bar_tip = m_bar.tip();
        r.guide_lug = m_lug_temperature;
        const FuelRate fuel = m_model.motion().fuel(segment.surface, leg.driven, leg.way.grade);
        r.fuel = Volume::from_litres(fuel.litres_per_hour * leg.driving.hours());
        r.fuel_upper = Volume::from_litres(fuel.upper_litres_per_hour * leg.driving.hours());
        r.energy_share = m_model.energy_share(leg.way);
        r.end = m_at;
        run(leg.still, segment.stop, r);
        r.bar_after_stop = m_bar.core();
        r.guide_lug_after_stop = m_lug_temperature;
        book(r);
    }

    [[nodiscard]] TripResult finish() {
        m_result.length = m_at;
        if (m_options.calibrated && m_options.core_sd_k > 0.0) {
            const Temperature sd = Temperature::from_celsius(m_options.core_sd_k);
            m_result.bar_peak_low = m_result.bar_peak - sd;
            m_result.bar_peak_high = m_result.bar_peak + sd;
        }
        m_result.bar_end = m_bar.core();
        m_result.bar_mean_end = m_bar.mean();
        m_result.bar_flank_end = m_bar.flank();
        m_result.bar_tip_end = m_bar.tip();
        m_result.guide_lug_end = m_lug_temperature;
        return std::move(m_result);
    }

private:
    void run(const Driving& way, Duration time, SegmentRecord& r) {
        const HeatRegime regime = m_model.regime(way);
        m_bar.run(regime, time, [&](Duration step) { after_step(way, step, r); });
        band(m_low, regime, time, std::exp(-m_options.heat_sd), m_result.bar_peak_low);
        band(m_high, regime, time, std::exp(m_options.heat_sd), m_result.bar_peak_high);
    }

    void after_step(const Driving& way, Duration step, SegmentRecord& r) {
        m_now += step;
        m_at += way.speed * step;
        const Temperature core = m_bar.core();
        r.aging_min += thermal_age_rate(core) * step.minutes();
        r.bar_peak = std::max(r.bar_peak, core);
        if (core > m_result.bar_peak) {
            m_result.bar_peak = core;
            m_result.bar_peak_at = m_at;
        }
        if (!m_result.to_caution && core >= m_result.limits.caution)
            m_result.to_caution = m_now;
        if (!m_result.to_limit && core >= m_result.limits.limit)
            m_result.to_limit = m_now;
        m_lug_temperature = m_lug.drive(m_lug_temperature, m_lug_state, way, step);
        m_result.guide_lug_peak = std::max(m_result.guide_lug_peak, m_lug_temperature);
        r.wear_mm += ground_wear_mm(way.surface, way.speed * step, way.speed, m_load_ratio, m_bar.tip(),
                                    m_options.wear);
    }

    static void band(BarHeat& bar, HeatRegime regime, Duration time, double factor, Temperature& peak) {
        regime.q0 *= factor;
        bar.run(regime, time, [&](Duration) { peak = std::max(peak, bar.core()); });
    }

    void book(const SegmentRecord& r) {
        m_result.driving += r.driving;
        m_result.stopped += r.segment.stop;
        m_result.wear_mm += r.wear_mm;
        m_result.fuel += r.fuel;
        m_result.fuel_upper += r.fuel_upper;
        m_result.aging_min += r.aging_min;
        m_result.segments.push_back(r);
    }

    const TripOptions& m_options;
    const HeatModel& m_model;
    GuideLug m_lug;
    double m_load_ratio;
    BarHeat m_bar, m_low, m_high;
    GuideLugState m_lug_state;
    Temperature m_lug_temperature;
    Length m_at;
    Duration m_now;
    TripResult m_result;
};

std::vector<std::string> notes_of(const TripResult& r, const Machine& machine, const BeltLoad& belt) {
    std::vector<std::string> out;
    if (r.bar_peak >= r.limits.limit)
        out.emplace_back(
            "The estimate passes the limit for tread bars: stop to cool before, drive slower or haul.");
    else if (r.bar_peak_high >= r.limits.limit)
        out.emplace_back("The upper edge of the band passes the limit for tread bars: measure at a stop.");
    if (r.bar_peak_high >= r.limits.reversion)
        out.emplace_back(
            "The upper edge of the band passes the temperature at which rubber softens for good.");
    if (r.guide_lug_peak >= r.guide_lug_caution)
        out.emplace_back("Guide lugs pass their caution temperature: powder earlier or drive slower.");
    if (r.aging_min > thermal_age_red_min)
        out.emplace_back("One such trip ages the bars like more than two hours at 110 °C.");
    else if (r.aging_min > thermal_age_flag_min)
        out.emplace_back("One such trip ages the bars like more than half an hour at 110 °C.");
    const auto capped = std::count_if(r.segments.begin(), r.segments.end(),
                                      [](const SegmentRecord& s) { return s.cap != SpeedCap::none; });
    if (capped > 0)
        out.push_back(
            fmt::format("{} of {} segments are driven slower than asked: the machine's power or top "
                        "speed does not allow it.",
                        capped, r.segments.size()));
    if (belt.bar_height < machine.belts.bar_height * worn_share)
        out.emplace_back(
            "Bars are under a quarter of their new height: cooler, but poor grip and braking, cord may be near.");
    if (std::any_of(r.segments.begin(), r.segments.end(),
                    [](const SegmentRecord& s) { return s.energy_share > HeatModel::doubtful_energy_share; }))
        out.emplace_back(
            "More than a third of the motion resistance would heat the bars: mass, belts or rubber data do not "
            "belong together.");
    return out;
}

}  // namespace

std::string_view name_of(SpeedCap c) {
    switch (c) {
        case SpeedCap::none:
            return "none";
        case SpeedCap::top_speed:
            return "top speed";
        case SpeedCap::power:
            return "power";
    }
    throw Error(ErrorKind::internal, "a speed cap without a name");
}

TripResult run_trip(const Machine& machine, const WorkingState& state, const Conditions& conditions,
                    const std::vector<TripSegment>& segments, const TripOptions& options) {
    const HeatModel model(machine, state, options.heat, options.motion, options.belts.bar_height);
    const std::vector<TripLeg> legs = plan_legs(machine, conditions, model.motion(), segments);
    TripRun run(machine, state, conditions, options, model, legs.front().way.air);
    for (std::size_t i = 0; i < segments.size(); ++i)
        run.drive(segments[i], legs[i]);
    TripResult out = run.finish();
    out.notes = notes_of(out, machine, model.belt());
    return out;
}

}  // namespace loamway
