// SPDX-License-Identifier: Apache-2.0
#include "manner.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "worked_way.h"

namespace loamway {

namespace {

constexpr double cap_step_kmh = 5;
constexpr double slowest_cap_kmh = 10;
constexpr std::array<double, 4> pauses_min{0, 10, 20, 30};
constexpr std::array<double, 3> cooling_min{10, 20, 30};
// One more stop is looked for at the best place of each of so many equal parts of the route.
constexpr std::size_t cooling_parts = 8;
const Duration cooling_tried_with = Duration::from_minutes(20);

// A dry start wants its first minutes slow; a top-up does not.
bool starts_dry(const PlanInputs& in) {
    return in.belts.needs_start_lube() || in.conditions.ground == Ground::frozen;
}

Value kmh_or_null(const std::optional<Speed>& v) {
    return v ? Value(std::round(v->kmh())) : Value();
}

// To so many decimals, as the shortest number that says it.
double rounded(double v, double per_one) {
    return std::round(v * per_one) / per_one;
}

}  // namespace

DriveFigures second_preparation(const Setting& setting) {
    DriveFigures f;
    f.lubrications = 0;
    f.wash = f.shuttle = f.expect_delay = false;
    f.wide_escorts = setting.escorts();
    return f;
}

bool Driven::better_than(const Driven& other) const {
    if (holds != other.holds)
        return holds;
    return holds ? cost.total() < other.cost.total() : acted_on_c < other.acted_on_c;
}

MannerSearch::MannerSearch(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                           const PlanHeat& heat, const RoutePlan& chosen)
    : m_setting(setting), m_roads(roads), m_places(places), m_heat(heat), m_chosen(chosen) {}

Speed MannerSearch::cap_on(SurfaceClass c, const Manner& manner) const {
    Speed v = m_setting.cap_on(c);
    if (c == SurfaceClass::hard && manner.hard_cap)
        v = std::min(v, *manner.hard_cap);
    if (c == SurfaceClass::gravel && manner.gravel_cap)
        v = std::min(v, *manner.gravel_cap);
    return v;
}

std::vector<ChosenStop> MannerSearch::stops_of(const Manner& manner) const {
    std::vector<ChosenStop> stops = m_chosen.stops.stops;
    for (ChosenStop& s : stops)
        if (s.kind == "relube")
            s.wait += manner.pause;
    if (!manner.cooling)
        return stops;
    ChosenStop cooling = m_cooling_places[*manner.cooling];
    cooling.wait += manner.cooling_time;
    const auto at = std::find_if(stops.begin(), stops.end(),
                                 [&](const ChosenStop& s) { return s.route_dm > cooling.route_dm; });
    stops.insert(at, std::move(cooling));
    return stops;
}

Driven MannerSearch::drive(const Manner& manner) const {
    const PlanInputs& in = m_setting.in();
    Driven d;
    d.manner = manner;
    d.stops = stops_of(manner);
    const auto speed = [&](ArcId a) {
        return std::min(m_setting.machine_speed(m_roads, a), cap_on(m_setting.surface(a), manner));
    };
    d.path = lay_path(m_setting, m_chosen.route, d.stops, speed, m_chosen.stops.start_lube && starts_dry(in));
    const HeatRun run = m_heat.run(d.path, 1.0, AssumedAs::likeliest, false);
    d.wear_mm = run.wear_mm;
    d.wear_paved_mm = run.wear_paved_mm;
    for (const PathPiece& p : d.path.pieces) {
        d.wear_mm += p.turn.wear_mm;
        d.wear_paved_mm += p.turn.wear_mm;
        d.sharp_turns_hard += p.turn.sharp_hard ? 1 : 0;
    }
    d.wear_share = wear_share(d.wear_mm, in.machine.belts);
    price(d);
    d.acted_on_c = m_heat.acted_on_c(d.path);
    d.holds = d.acted_on_c <= m_heat.limits().limit.celsius();
    return d;
}

void MannerSearch::price(Driven& d) const {
    const PlanInputs& in = m_setting.in();
    const Rates& rates = in.rates;
    DriveFigures& f = d.figures;
    f.length = Length::from_decimetres(static_cast<std::int64_t>(d.path.length_dm));
    f.driving = d.path.driving;
    f.stopped = d.path.stopped;
    if (m_chosen.hand_over)
        f.stopped -= m_chosen.hand_over->takes;
    f.lubrications = static_cast<int>(std::count_if(d.path.stops.begin(), d.path.stops.end(),
                                                    [](const PathStop& stop) { return stop.lubricates; }));
    f.wear_share = d.wear_share;
    f.shuttle = rates.shuttle;
    f.fuel = d.path.fuel;
    f.wide_escorts = m_setting.escorts();
    f.wide_permit = m_setting.state().width >= in.recipe.permit_from_width;
    d.cost = drive_cost(f, rates);
    d.fuel = drive_fuel(f, rates);
    if (!m_chosen.hand_over)
        return;
    d.cost += hauled_cost(m_chosen.hand_over->hauled, rates);
    if (!drives_on_both_sides(m_chosen))
        return;
    const DriveFigures again = second_preparation(m_setting);
    d.cost += drive_cost(again, rates);
    d.fuel += drive_fuel(again, rates);
}

const Driven& MannerSearch::attempt(const Manner& manner) {
    m_tried.push_back(drive(manner));
    return m_tried.back();
}

template <class WithCap>
bool MannerSearch::bisect(Speed top, WithCap&& with_cap) {
    int low = static_cast<int>(slowest_cap_kmh / cap_step_kmh);
    int high = static_cast<int>(std::ceil(top.kmh() / cap_step_kmh)) - 1;  // the highest cap below the top
    const auto holds = [&](int steps) {
        return attempt(with_cap(Speed::from_kmh(cap_step_kmh * steps))).holds;
    };
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

void MannerSearch::attempt_caps(const Manner& plain) {
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

bool MannerSearch::keeps_interval(const Path& path) const {
    const std::uint64_t interval = m_setting.interval_dm();
    std::uint64_t last = 0, since = since_at_start_dm(m_setting.in());
    for (const PathStop& s : path.stops) {
        if (!s.lubricates)
            continue;
        if (since + s.at_dm - last > interval)
            return false;
        last = s.at_dm;
        since = 0;
    }
    return since + path.length_dm - last <= interval;
}

// The best place of each part of the route where the way into it leaves the interval kept.
void MannerSearch::find_cooling_places() {
    const std::vector<ChosenStop> along = places_along(m_places, m_chosen.route, hand_over_of(m_chosen));
    std::array<const ChosenStop*, cooling_parts> best{};
    for (const ChosenStop& s : along) {
        const bool taken = std::any_of(m_chosen.stops.stops.begin(), m_chosen.stops.stops.end(),
                                       [&](const ChosenStop& t) { return t.route_dm == s.route_dm; });
        if (taken || s.route_dm == 0 || s.route_dm >= m_chosen.route.length_dm)
            continue;
        const ChosenStop*& b = best[s.route_dm * cooling_parts / m_chosen.route.length_dm];
        if (b == nullptr || m_places.score(s) > m_places.score(*b))
            b = &s;
    }
    for (const ChosenStop* b : best) {
        if (b == nullptr)
            continue;
        ChosenStop stop = *b;
        stop.kind = "cooling";
        stop.why = "for the bars to cool";
        fill_stop(m_setting, stop);
        stop.wait = stop.spur ? m_setting.in().rates.turn_out : Duration();
        m_cooling_places.push_back(std::move(stop));
    }
}

Manner MannerSearch::one_step_faster(const Manner& manner) const {
    Manner m = manner;
    for (const auto& [cap, c] :
         {std::pair(&m.hard_cap, SurfaceClass::hard), std::pair(&m.gravel_cap, SurfaceClass::gravel)}) {
        if (!*cap)
            continue;
        *cap = Speed::from_kmh((*cap)->kmh() + cap_step_kmh);
        if (**cap >= m_setting.cap_on(c))
            cap->reset();
    }
    return m;
}

// Where a stop of middling length cools best: tried at the speed that just did not hold without it, so that
// what it gains there is speed.
std::optional<std::size_t> MannerSearch::best_cooling_place() {
    const Driven& best = m_tried[m_taken];
    Manner m = best.holds ? one_step_faster(best.manner) : best.manner;
    m.cooling_time = cooling_tried_with;
    std::optional<std::size_t> place;
    double coolest = 0;
    for (std::size_t i = 0; i < m_cooling_places.size(); ++i) {
        m.cooling = i;
        Driven d = drive(m);
        if (!keeps_interval(d.path))
            continue;
        if (!place || d.acted_on_c < coolest) {
            place = i;
            coolest = d.acted_on_c;
        }
        m_tried.push_back(std::move(d));
    }
    return place;
}

void MannerSearch::attempt_cooling() {
    // Where the stops cannot be placed, one more does not help.
    if (!m_chosen.stops.answer_needed.empty())
        return;
    find_cooling_places();
    const Duration pause = m_tried[m_taken].manner.pause;
    const std::optional<std::size_t> place = best_cooling_place();
    if (!place)
        return;
    for (const double minutes : cooling_min) {
        Manner m;
        m.cooling = place;
        m.cooling_time = Duration::from_minutes(minutes);
        attempt_caps(m);
        if (pause.seconds() > 0) {
            m.pause = pause;
            attempt_caps(m);
        }
    }
}

void MannerSearch::take_best() {
    for (std::size_t i = 0; i < m_tried.size(); ++i)
        if (m_tried[i].better_than(m_tried[m_taken]))
            m_taken = i;
}

// Whoever is to stand twice within a kilometre asks why not once and for longer.
std::string MannerSearch::without_cooling() const {
    const Driven* best = nullptr;
    for (const Driven& d : m_tried)
        if (!d.manner.cooling && d.holds && (best == nullptr || d.better_than(*best)))
            best = &d;
    return best == nullptr ? std::string("without this stop they get too hot in every manner tried")
                           : fmt::format("without this stop the best would be {}: it costs more",
                                         manner_text(*best, m_setting.words()));
}

Driven MannerSearch::choose() {
    const bool stops = std::any_of(m_chosen.stops.stops.begin(), m_chosen.stops.stops.end(),
                                   [](const ChosenStop& s) { return s.kind == "relube"; });
    for (const double minutes : pauses_min) {
        if (minutes > 0 && (!stops || m_tried.front().holds))
            break;
        Manner plain;
        plain.pause = Duration::from_minutes(minutes);
        attempt_caps(plain);
    }
    take_best();
    if (!m_tried.front().holds) {
        attempt_cooling();
        take_best();
    }
    Driven taken = m_tried[m_taken];
    if (taken.manner.cooling)
        taken.without_cooling = without_cooling();
    return taken;
}

double MannerSearch::lower_bound() const {
    const auto least = std::min_element(m_tried.begin(), m_tried.end(), [](const Driven& a, const Driven& b) {
        return a.cost.total() < b.cost.total();
    });
    return least->cost.total().units();
}

Value MannerSearch::record() const {
    Value::Array tried;
    for (std::size_t i = 0; i < m_tried.size(); ++i) {
        const Driven& d = m_tried[i];
        const auto metres = [](std::uint64_t dm) { return static_cast<std::int64_t>((dm + 5) / 10); };
        Value v;
        v.set("hard_kmh", kmh_or_null(d.manner.hard_cap));
        v.set("gravel_kmh", kmh_or_null(d.manner.gravel_cap));
        v.set("pause_min", std::round(d.manner.pause.minutes()));
        v.set("cooling_stop_m",
              d.manner.cooling ? Value(metres(m_cooling_places[*d.manner.cooling].route_dm)) : Value());
        v.set("cooling_min", std::round(d.manner.cooling_time.minutes()));
        v.set("bar_high_c", rounded(d.acted_on_c, 10));
        v.set("cost", rounded(d.cost.total().units(), 100));
        v.set("holds", d.holds);
        v.set("taken", i == m_taken);
        tried.push_back(std::move(v));
    }
    const Driven& taken = m_tried[m_taken];
    Value out;
    out.set("option", m_chosen.id);
    out.set("cost_without_limit", rounded(m_tried.front().cost.total().units(), 100));
    out.set("lower_bound", rounded(lower_bound(), 100));
    out.set("above_bound_at_most",
            taken.holds ? Value(rounded(taken.cost.total().units() - lower_bound(), 100)) : Value());
    out.set("tried", std::move(tried));
    return out;
}

}  // namespace loamway
