// SPDX-License-Identifier: Apache-2.0
#include "heat.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "loamway/belt/reduced_heat.h"

namespace loamway {

namespace {

constexpr double planning_margin_k = 3;  // of the reduced model against the full one, measured
constexpr double profile_step_m = 250;
// A machine far too heavy for its belts would heat them to hundreds of degrees, where the law of aging no
// longer holds and its figures have no end: more than two years are two years.
constexpr double most_aging_min = 1e6;

HeatParameters scaled(double heat_scale) {
    HeatParameters p;
    p.scales.heat = heat_scale;
    return p;
}

double tip_c(const ReducedBar<3>& bar) {
    return bar.a[0] + bar.a[1] + bar.a[2];
}

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

}  // namespace

// Regimes repeat along a road and from one way of driving it to the next: each is set up once. Air and sun
// are those of the half hour.
class Regimes {
public:
    Regimes(HeatModel model, const Weather& weather) : m_model(std::move(model)), m_weather(weather) {}
    const ReducedHeat<3>& at(RoadSurface surface, Speed v, double grade, Instant when) {
        // Hills give every road a speed and a grade of its own; steps of 0.2 km/h and 1 % change the core by
        // less than 0.1 K.
        const long speed_step = std::max(std::lround(v.kmh() * 5), v.mps() > 0 ? 1L : 0L);
        const long grade_step = std::lround(grade * 100);
        const std::tuple key(surface, speed_step, grade_step, m_weather.slot(when));
        auto found = m_known.find(key);
        if (found == m_known.end()) {
            Driving way = driving(surface, Speed::from_kmh(static_cast<double>(speed_step) / 5.0), when);
            way.grade = static_cast<double>(grade_step) / 100.0;
            found = m_known
                        .emplace(key, ReducedHeat<3>(m_model.belt(), m_model.parameters().rubber,
                                                     m_model.regime(way)))
                        .first;
        }
        return found->second;
    }
    [[nodiscard]] Driving driving(RoadSurface surface, Speed v, Instant when) {
        const std::int64_t slot = m_weather.slot(when);
        if (!m_slot || *m_slot != slot) {
            m_slot = slot;
            m_now = m_weather.in_slot(slot);
        }
        return {surface, v, m_now.air, m_now.sun, 0.0};
    }

private:
    HeatModel m_model;
    const Weather& m_weather;
    std::optional<std::int64_t> m_slot;
    AirAndSun m_now;
    std::map<std::tuple<RoadSurface, long, long, std::int64_t>, ReducedHeat<3>> m_known;
};

PlanHeat::PlanHeat(const Setting& setting)
    : m_setting(setting),
      m_limits(HeatLimits::for_belts(setting.in().belts.worked_hours())),
      m_model(setting.in().machine, setting.state(), {}, {}, setting.in().belts.bar_height),
      m_lug(m_model.belt()) {}

PlanHeat::~PlanHeat() = default;

Regimes& PlanHeat::regimes(double heat_scale) const {
    std::unique_ptr<Regimes>& kept = m_regimes[heat_scale];
    if (!kept)
        kept = std::make_unique<Regimes>(
            HeatModel(m_setting.in().machine, m_setting.state(),
                      scaled(heat_scale * m_setting.in().heat.scale), {}, m_setting.in().belts.bar_height),
            m_setting.weather());
    return *kept;
}

RoadSurface PlanHeat::ground(ArcId a, AssumedAs how) const {
    const SurfaceClass c = m_setting.surface(a, how);
    if (c == SurfaceClass::hard) {
        const auto tag = m_setting.graph().tags(m_setting.graph().edge_of(a)).get("surface");
        if (tag && tag->starts_with("concrete"))
            return RoadSurface::concrete;
    }
    return road_surface_of(c);
}

// Belts on their way along a path: what is driven and stood so far, and what it did to them.
class PlanHeat::Walk {
public:
    Walk(const PlanHeat& heat, double heat_scale, AssumedAs how, bool with_profile)
        : m_heat(heat),
          m_in(heat.m_setting.in()),
          m_how(how),
          m_with_profile(with_profile),
          m_regimes(heat.regimes(heat_scale)),
          // The belts start at air temperature, which may be below zero all the way.
          m_lug(heat.m_setting.weather_at(m_in.depart).air),
          m_bar(ReducedBar<3>::at(m_lug)) {
        m_out.bar_peak_c = m_out.guide_lug_peak_c = m_lug.celsius();
        const bool unlubricated = m_in.belts.condition == BeltsNow::Condition::washed;
        m_lug_state = {unlubricated ? std::optional<Length>() : std::optional(m_in.belts.since_lube),
                       m_in.belts.worked_hours(), m_in.conditions.ground};
    }

    HeatRun along(const Path& path) {
        note(0);
        stand_until(path, 0);
        double last_note = 0;
        for (const PathPiece& p : path.pieces) {
            stand_until(path, p.at_dm);
            drive(p);
            const std::uint64_t end_dm = p.at_dm + p.piece.length_dm();
            if (metres(end_dm) - last_note >= profile_step_m || &p == &path.pieces.back()) {
                last_note = metres(end_dm);
                note(last_note);
            } else {
                m_out.bar_peak_c = std::max(m_out.bar_peak_c, m_bar.core().celsius());
            }
            stand_until(path, end_dm);
        }
        return std::move(m_out);
    }

private:
    void note(double at_m) {
        const double core = m_bar.core().celsius();
        m_out.bar_peak_c = std::max(m_out.bar_peak_c, core);
        if (m_lug.celsius() > m_out.guide_lug_peak_c) {
            m_out.guide_lug_peak_c = m_lug.celsius();
            m_out.guide_lug_peak_at_m = at_m;
        }
        if (m_with_profile)
            m_out.profile.push_back({at_m, core, m_lug.celsius()});
    }

    // The bars at the mean of the rates before and after.
    void pass_time(const ReducedHeat<3>& regime, Duration time) {
        const Temperature before = m_bar.core();
        regime.advance(m_bar, time);
        const double min = 0.5 * (thermal_age_rate(before) + thermal_age_rate(m_bar.core())) * time.minutes();
        m_out.aging_110c_min = std::min(most_aging_min, m_out.aging_110c_min + min);
    }

    void stand_until(const Path& path, std::uint64_t at_dm) {
        for (; m_next_stop < path.stops.size() && path.stops[m_next_stop].at_dm <= at_dm; ++m_next_stop) {
            const PathStop& stop = path.stops[m_next_stop];
            const Instant arrives = m_in.depart + stop.arrives;
            const Driving still = m_regimes.driving(RoadSurface::asphalt, Speed(), arrives);
            pass_time(m_regimes.at(RoadSurface::asphalt, Speed(), 0.0, arrives), stop.wait);
            m_lug = m_heat.m_lug.advance(m_lug, m_heat.m_lug.friction(m_lug_state), still, stop.wait);
            if (stop.lubricates)
                m_lug_state.since_lube = Length();
            note(metres(stop.at_dm));
        }
    }

    void drive(const PathPiece& p) {
        if (p.takes.seconds() <= 0)
            return;
        const Setting& setting = m_heat.m_setting;
        const Length length = Length::from_decimetres(p.piece.length_dm());
        const Speed v = Speed::from_mps(length.metres() / p.takes.seconds());
        const RoadSurface surface = m_heat.ground(p.piece.arc, m_how);
        const Instant now = m_in.depart + p.begins;
        pass_time(m_regimes.at(surface, v, setting.slope(p.piece.arc).net(), now), p.takes);
        m_lug = m_heat.m_lug.drive(m_lug, m_lug_state, m_regimes.driving(surface, v, now), p.takes);
        const double mm = ground_wear_mm(surface, length, v, setting.load_ratio(),
                                         Temperature::from_celsius(tip_c(m_bar)), m_in.wear.rates);
        m_out.wear_mm += mm;
        const SurfaceClass c = class_of(surface);
        m_out.weighted_km[static_cast<std::size_t>(c)] += mm / m_in.wear.rates.mm_per_km(c);
        if (c == SurfaceClass::hard)
            m_out.wear_paved_mm += mm;
    }

    const PlanHeat& m_heat;
    const PlanInputs& m_in;
    const AssumedAs m_how;
    const bool m_with_profile;
    Regimes& m_regimes;
    Temperature m_lug;
    ReducedBar<3> m_bar;
    GuideLugState m_lug_state;
    std::size_t m_next_stop = 0;
    HeatRun m_out;
};

HeatRun PlanHeat::run(const Path& path, double heat_scale, AssumedAs how, bool with_profile) const {
    return Walk(*this, heat_scale, how, with_profile).along(path);
}

double PlanHeat::lower_edge_c(const Path& path) const {
    const KnownHeat& known = m_setting.in().heat;
    if (known.calibrated())
        return run(path, 1.0, AssumedAs::soft, false).bar_peak_c - known.core_sd_k;
    return run(path, std::exp(-known.log_sd), AssumedAs::soft, false).bar_peak_c;
}

double PlanHeat::upper_edge_c(const Path& path) const {
    const KnownHeat& known = m_setting.in().heat;
    if (known.calibrated())
        return run(path, 1.0, AssumedAs::hard, false).bar_peak_c + known.core_sd_k;
    return run(path, std::exp(known.log_sd), AssumedAs::hard, false).bar_peak_c;
}

double PlanHeat::acted_on_c(const Path& path) const {
    if (!m_setting.in().heat.calibrated())
        return upper_edge_c(path);
    return run(path, 1.0, AssumedAs::likeliest, false).bar_peak_c + planning_margin_k;
}

std::string acted_on_is(bool calibrated, const UnitWords& words) {
    return calibrated
               ? fmt::format("calibrated estimate and {} for the model", words.warmer(planning_margin_k))
               : "upper edge of the estimate, not calibrated";
}

OptionHeat PlanHeat::describe(const Path& path) const {
    const KnownHeat& known = m_setting.in().heat;
    const HeatRun likely = run(path, 1.0, AssumedAs::likeliest, true);
    const double low = lower_edge_c(path), high = upper_edge_c(path);
    OptionHeat h;
    h.calibrated = known.calibrated();
    h.basis =
        known.calibrated()
            ? fmt::format(
                  "one standard deviation of the core after {} infrared reading{}, {}; roads of "
                  "assumed surface as soft and as paved",
                  known.used, known.used == 1 ? "" : "s", m_setting.words().warmer(known.core_sd_k))
            : fmt::format(
                  "assumption: one standard deviation of the heat scale, {:g} in its logarithm; roads of "
                  "assumed surface as soft and as paved",
                  known.log_sd);
    h.bar_peak_c = likely.bar_peak_c;
    h.bar_low_c = std::min(likely.bar_peak_c, low);
    h.bar_high_c = std::max(likely.bar_peak_c, high);
    h.acted_on_c = known.calibrated() ? likely.bar_peak_c + planning_margin_k : high;
    h.guide_lug_peak_c = likely.guide_lug_peak_c;
    h.guide_lug_peak_at_m = likely.guide_lug_peak_at_m;
    h.guide_lug_caution_c = m_lug.parameters().caution.celsius();
    h.limit_c = m_limits.limit.celsius();
    h.margin_c = *h.limit_c - *h.acted_on_c;
    h.aging_110c_min = likely.aging_110c_min;
    h.caution_c = m_limits.caution.celsius();
    h.profile = likely.profile;
    return h;
}

Length relube_interval(const PlanInputs& in, const WorkingState& state, const Weather& weather) {
    // Water lubricates and powder turns to paste.
    if (in.conditions.ground == Ground::wet)
        return no_relube_interval;
    // An interval so short that nobody could keep it is for the speed to answer, not for more powder.
    const Length shortest = Length::from_km(5);
    constexpr double detour = 1.5;
    const Speed v = std::min(in.machine.hard, in.machine.top);
    const Length way = distance(in.from.point, in.to.point) * detour;
    const Duration stops =
        in.rates.stop_time(in.machine.belts.count) * std::floor(way / in.rates.relube_interval);
    const Instant arrives = in.depart + (way / v + stops);
    const GuideLug lug(most_loaded_belt(in.machine, state, in.belts.bar_height));
    const GuideLugState fresh{Length(), in.belts.worked_hours(), in.conditions.ground};
    const Driving driving{RoadSurface::asphalt, v, weather.warmest(in.depart, arrives), 0.0, 0.0};
    return std::min(in.rates.relube_interval, std::max(shortest, lug.next_lube(fresh, driving)));
}

Temperature settled_tread(const PlanInputs& in, const WorkingState& state, const Weather& weather,
                          SurfaceClass surface, Speed v) {
    const HeatModel model(in.machine, state, scaled(in.heat.scale), {}, in.belts.bar_height);
    const AirAndSun now = weather.at(in.depart);
    const HeatRegime regime = model.regime({road_surface_of(surface), v, now.air, now.sun, 0.0});
    return SteadyBar(model.belt(), regime, model.parameters().rubber).at(1.0);
}

}  // namespace loamway
