// SPDX-License-Identifier: Apache-2.0
#include "manner.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace loamway {

namespace {

constexpr double cap_step_kmh = 5;
constexpr double slowest_cap_kmh = 10;
constexpr std::array<double, 4> pauses_min{0, 10, 20, 30};

// A dry start wants its first minutes slow; a top-up does not.
bool starts_dry(const PlanInputs& in) {
    return in.belts.condition != BeltsNow::Condition::run_in || (in.belts.hours && *in.belts.hours < 100) ||
           in.conditions.ground == Ground::frozen;
}

Value kmh_or_null(const std::optional<Speed>& v) { return v ? Value(std::round(v->kmh())) : Value(); }

// To so many decimals, as the shortest number that says it.
double rounded(double v, double per_one) { return std::round(v * per_one) / per_one; }

}  // namespace

MannerSearch::MannerSearch(const Setting& setting, const VehicleRoads& roads, const PlanHeat& heat,
                           const RoutePlan& chosen)
    : m_setting(setting), m_roads(roads), m_heat(heat), m_chosen(chosen) {}

Speed MannerSearch::cap_on(SurfaceClass c, const Manner& manner) const {
    Speed v = m_setting.cap_on(c);
    if (c == SurfaceClass::hard && manner.hard_cap)
        v = std::min(v, *manner.hard_cap);
    if (c == SurfaceClass::gravel && manner.gravel_cap)
        v = std::min(v, *manner.gravel_cap);
    return v;
}

Driven MannerSearch::drive(const Manner& manner) const {
    const PlanInputs& in = m_setting.in();
    Driven d;
    d.manner = manner;
    d.stops = m_chosen.stops.stops;
    for (ChosenStop& s : d.stops)
        if (s.kind == "relube")
            s.wait += manner.pause;
    const auto speed = [&](ArcId a) {
        return std::min(m_setting.machine_speed(m_roads, a), cap_on(m_setting.surface(a), manner));
    };
    d.path = lay_path(m_setting, m_chosen.route, d.stops, speed, m_chosen.stops.start_lube && starts_dry(in));
    d.wear_mm = m_heat.run(d.path, 1.0, AssumedAs::likeliest, false).wear_mm;
    for (const PathPiece& p : d.path.pieces) {
        d.wear_mm += p.turn.wear_mm;
        d.sharp_turns_hard += p.turn.sharp_hard ? 1 : 0;
    }
    d.wear_share = wear_share(d.wear_mm, in.machine.belts);
    Rates rates = in.rates;
    rates.escorts = m_setting.escorts();
    DriveFigures f;
    f.length = Length::from_decimetres(static_cast<std::int64_t>(d.path.length_dm));
    f.driving = d.path.driving;
    f.stopped = d.path.stopped;
    f.lubrications = static_cast<int>(std::count_if(d.path.stops.begin(), d.path.stops.end(),
                                                    [](const PathStop& stop) { return stop.lubricates; }));
    f.wear_share = d.wear_share;
    f.shuttle = rates.shuttle;
    f.fuel = d.path.fuel;
    d.cost = drive_cost(f, rates);
    d.fuel = drive_fuel(f, rates);
    d.upper_peak_c = m_heat.upper_peak_c(d.path);
    d.holds = d.upper_peak_c <= m_heat.limits().limit.celsius();
    return d;
}

const Driven& MannerSearch::attempt(const Manner& manner) {
    m_tried.push_back(drive(manner));
    return m_tried.back();
}

template <class WithCap>
bool MannerSearch::bisect(Speed top, WithCap&& with_cap) {
    int low = static_cast<int>(slowest_cap_kmh / cap_step_kmh);
    int high = static_cast<int>(std::ceil(top.kmh() / cap_step_kmh)) - 1;  // the highest cap below the top
    const auto holds = [&](int steps) { return attempt(with_cap(Speed::from_kmh(cap_step_kmh * steps))).holds; };
    if (high < low || !holds(low))
        return false;
    while (low < high) {
        const int middle = (low + high + 1) / 2;
        if (holds(middle))
            low = middle;
        else
            high = middle - 1;
    }
    return true;
}

void MannerSearch::attempt_pause(Duration pause) {
    Manner plain;
    plain.pause = pause;
    if (attempt(plain).holds)
        return;
    const bool hard_is_enough = bisect(m_setting.cap_on(SurfaceClass::hard), [&](Speed cap) {
        Manner m = plain;
        m.hard_cap = cap;
        return m;
    });
    if (!hard_is_enough)
        bisect(m_setting.cap_on(SurfaceClass::gravel), [&](Speed cap) {
            Manner m = plain;
            m.hard_cap = cap;
            m.gravel_cap = cap;
            return m;
        });
}

Driven MannerSearch::choose() {
    const bool stops = std::any_of(m_chosen.stops.stops.begin(), m_chosen.stops.stops.end(),
                                   [](const ChosenStop& s) { return s.kind == "relube"; });
    for (const double minutes : pauses_min) {
        if (minutes > 0 && (!stops || m_tried.front().holds))
            break;
        attempt_pause(Duration::from_minutes(minutes));
    }
    const auto better = [](const Driven& a, const Driven& b) {
        if (a.holds != b.holds)
            return a.holds;
        return a.holds ? a.cost.total() < b.cost.total() : a.upper_peak_c < b.upper_peak_c;
    };
    for (std::size_t i = 1; i < m_tried.size(); ++i)
        if (better(m_tried[i], m_tried[m_taken]))
            m_taken = i;
    return m_tried[m_taken];
}

Value MannerSearch::record() const {
    Value::Array tried;
    for (std::size_t i = 0; i < m_tried.size(); ++i) {
        const Driven& d = m_tried[i];
        Value v;
        v.set("hard_kmh", kmh_or_null(d.manner.hard_cap));
        v.set("gravel_kmh", kmh_or_null(d.manner.gravel_cap));
        v.set("pause_min", std::round(d.manner.pause.minutes()));
        v.set("bar_high_c", rounded(d.upper_peak_c, 10));
        v.set("cost", rounded(d.cost.total().units(), 100));
        v.set("holds", d.holds);
        v.set("taken", i == m_taken);
        tried.push_back(std::move(v));
    }
    Value out;
    out.set("option", m_chosen.id);
    out.set("cost_without_limit", rounded(m_tried.front().cost.total().units(), 100));
    out.set("tried", std::move(tried));
    return out;
}

}  // namespace loamway
