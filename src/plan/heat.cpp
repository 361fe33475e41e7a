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

HeatRun PlanHeat::run(const Path& path, double heat_scale, AssumedAs how, bool with_profile) const {
    const PlanInputs& in = m_setting.in();
    Regimes& regimes = this->regimes(heat_scale);
    HeatRun out;
    // The belts start at air temperature, which may be below zero all the way.
    const Temperature cold = m_setting.weather_at(in.depart).air;
    out.bar_peak_c = out.guide_lug_peak_c = cold.celsius();
    ReducedBar<3> bar = ReducedBar<3>::at(cold);
    Temperature lug = cold;
    const bool unlubricated = in.belts.condition == BeltsNow::Condition::washed;
    GuideLugState lug_state{unlubricated ? std::optional<Length>() : std::optional(in.belts.since_lube),
                            in.belts.worked_hours(), in.conditions.ground};
    const auto note = [&](double at_m) {
        const double core = bar.core().celsius();
        out.bar_peak_c = std::max(out.bar_peak_c, core);
        if (lug.celsius() > out.guide_lug_peak_c) {
            out.guide_lug_peak_c = lug.celsius();
            out.guide_lug_peak_at_m = at_m;
        }
        if (with_profile)
            out.profile.push_back({at_m, core, lug.celsius()});
    };
    // At the mean of the rates before and after.
    const auto age = [&](Temperature before, Duration time) {
        const double min = 0.5 * (thermal_age_rate(before) + thermal_age_rate(bar.core())) * time.minutes();
        out.aging_110c_min = std::min(most_aging_min, out.aging_110c_min + min);
    };
    note(0);
    std::size_t next_stop = 0;
    const auto stand_at = [&](std::uint64_t at_dm) {
        while (next_stop < path.stops.size() && path.stops[next_stop].at_dm <= at_dm) {
            const Instant arrives = in.depart + path.stops[next_stop].arrives;
            const Duration wait = path.stops[next_stop].wait;
            const Driving still = regimes.driving(RoadSurface::asphalt, Speed(), arrives);
            const Temperature hot = bar.core();
            regimes.at(RoadSurface::asphalt, Speed(), 0.0, arrives).advance(bar, wait);
            age(hot, wait);
            lug = m_lug.advance(lug, m_lug.friction(lug_state), still, wait);
            if (path.stops[next_stop].lubricates)
                lug_state.since_lube = Length();
            note(metres(path.stops[next_stop].at_dm));
            ++next_stop;
        }
    };
    double last_note = 0;
    stand_at(0);
    for (const PathPiece& p : path.pieces) {
        const Length length = Length::from_decimetres(p.piece.length_dm());
        stand_at(p.at_dm);
        if (p.takes.seconds() > 0) {
            const Speed v = Speed::from_mps(length.metres() / p.takes.seconds());
            const RoadSurface surface = ground(p.piece.arc, how);
            const Instant now = in.depart + p.begins;
            const Temperature before = bar.core();
            regimes.at(surface, v, m_setting.slope(p.piece.arc).net(), now).advance(bar, p.takes);
            age(before, p.takes);
            lug = m_lug.drive(lug, lug_state, regimes.driving(surface, v, now), p.takes);
            const double mm = ground_wear_mm(surface, length, v, m_setting.load_ratio(),
                                             Temperature::from_celsius(tip_c(bar)), in.wear.rates);
            out.wear_mm += mm;
            const SurfaceClass c = class_of(surface);
            out.weighted_km[static_cast<std::size_t>(c)] += mm / in.wear.rates.mm_per_km(c);
            if (c == SurfaceClass::hard)
                out.wear_paved_mm += mm;
        }
        const std::uint64_t end_dm = p.at_dm + p.piece.length_dm();
        if (metres(end_dm) - last_note >= profile_step_m || &p == &path.pieces.back()) {
            last_note = metres(end_dm);
            note(last_note);
        } else {
            out.bar_peak_c = std::max(out.bar_peak_c, bar.core().celsius());
        }
        stand_at(end_dm);
    }
    return out;
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
