// SPDX-License-Identifier: Apache-2.0
#include "hauling.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "flags.h"
#include "landmarks.h"

namespace loamway {

namespace {

Mass mass_along(const std::vector<AlsoMoves>& all) {
    Mass m;
    for (const AlsoMoves& a : all)
        m = m + a.mass;
    return m;
}

Length length_along(const std::vector<AlsoMoves>& all) {
    Length l;
    for (const AlsoMoves& a : all)
        l += a.length;
    return l;
}

Rates with_what_else(Rates r, const std::vector<AlsoMoves>& all) {
    for (const AlsoMoves& a : all) {
        r.load_time = r.load_time + a.load_time;
        r.unload_time = r.unload_time + a.load_time;
    }
    return r;
}

// What else is on the deck stands over the trailer's axles (assumption).
VehicleView with_load(VehicleView v, const LoadingPlan& p, Mass more) {
    v.mass = v.mass + more;
    v.axle = v.axle + more / std::max(1, p.low_bed.axles.trailer_axles);
    return v;
}

Flag note_flag(std::string kind, std::string text) {
    Flag f;
    f.kind = std::move(kind);
    f.severity = Severity::note;
    f.text = std::move(text);
    return f;
}

// Too little to be seen in any sum.
RunPrices with_time(Money per_h, Money per_km) {
    return {std::max(per_h, Money::from_units(0.001)), per_km};
}

// Weights count ten-thousandths of a unit: where a run costs next to nothing they are rounded away, and any
// way were as good as another. It takes the quickest then; what it costs is as before.
bool too_cheap_to_weigh(const RunPrices& p) {
    return p.per_h < Money::from_units(1) && p.per_km < Money::from_units(0.1);
}

}  // namespace

Hauling::Hauling(const Setting& setting, Duration waited)
    : m_setting(setting),
      m_waited(waited),
      m_rates(with_what_else(setting.in().rates, setting.in().also_moves)),
      m_loading(loading_of(setting)),
      m_kept_loaded(setting.roads_for(
          with_load(loaded_vehicle(m_loading), m_loading, mass_along(setting.in().also_moves)))),
      m_kept_empty(setting.roads_for(setting.in().low_bed.vehicle_empty())),
      m_loaded(*m_kept_loaded),
      m_empty(*m_kept_empty),
      m_loaded_ways(m_loaded),
      m_empty_ways(m_empty),
      m_loaded_weights(setting.truck_weights(m_loaded, setting.in().low_bed.loaded_speed,
                                             loaded_prices().per_h, loaded_prices().per_km)),
      m_empty_weights(setting.truck_weights(m_empty, setting.in().low_bed.empty_speed, empty_prices().per_h,
                                            empty_prices().per_km)) {
    constexpr double time_only = 10;
    if (too_cheap_to_weigh(loaded_prices()))
        m_loaded_times = setting.truck_weights(m_loaded, setting.in().low_bed.loaded_speed,
                                               Money::from_units(time_only), Money());
    if (too_cheap_to_weigh(empty_prices()))
        m_empty_times = setting.truck_weights(m_empty, setting.in().low_bed.empty_speed,
                                              Money::from_units(time_only), Money());
    if (const auto& base = setting.in().low_bed_base)
        m_base = snap(m_empty, base->point, setting.in().snap_limit);
}

// What makes its own trip without a price of its own takes the low-bed once more.
double Hauling::trips() const {
    double n = 1;
    for (const AlsoMoves& a : m_setting.in().also_moves)
        n += a.how == AlsoMoves::How::own_trip && !a.cost ? 1 : 0;
    return n;
}

// As haul_cost adds a run up: the low-bed, and on the loaded run the crew and the escorts as well.
RunPrices Hauling::loaded_prices() const {
    const Rates& r = m_rates;
    const double cars = std::max(r.haul_escorts, wide_escorts());
    return with_time((r.truck_per_h + r.wage_per_h) * trips() + r.delay_per_h + r.escort_per_h * cars,
                     r.truck_per_km * trips() +
                         (r.escort_per_km * 2.0 + r.escort_per_h * (1.0 / r.car_speed.kmh())) * cars);
}

RunPrices Hauling::empty_prices() const {
    return with_time(m_rates.truck_per_h * trips() + m_rates.delay_per_h, m_rates.truck_per_km * trips());
}

int Hauling::wide_escorts() const {
    return m_loading.loaded.width >= m_setting.in().recipe.escort_from_width ? 1 : 0;
}

// What else goes on the deck is in no comparison with limits.
bool Hauling::load_is_unlike_the_limits() const {
    const std::vector<AlsoMoves>& all = m_setting.in().also_moves;
    return std::any_of(all.begin(), all.end(),
                       [](const AlsoMoves& a) { return a.how == AlsoMoves::How::same_deck; });
}

bool Hauling::asks_for_permit() const {
    return m_loading.over_a_limit || m_loading.limits_title.empty() || load_is_unlike_the_limits();
}

std::string Hauling::permit_text() const {
    const Rates& r = m_setting.in().rates;
    constexpr std::string_view decides = "whether one is needed, the road authority says";
    if (!asks_for_permit())
        return fmt::format("no permit is priced: nothing of the loaded low-bed is over a limit of {}; {}",
                           m_loading.limits_title, decides);
    return fmt::format("a permit of {:.0f} {} is priced: {}; {}", r.permit.units(), r.currency,
                       m_loading.over_a_limit ? "the loaded low-bed is over a limit (see its checks)"
                       : load_is_unlike_the_limits()
                           ? "what else goes on the deck was not compared with limits"
                           : "no table of limits is known for this region",
                       decides);
}

std::string Hauling::deck_trouble() const {
    const std::vector<AlsoMoves>& all = m_setting.in().also_moves;
    const LowBed& bed = m_setting.in().low_bed;
    const UnitWords words = m_setting.words();
    const Mass load = m_setting.state().mass + mass_along(all);
    const Length length = m_setting.state().length + length_along(all);
    if (mass_along(all).kg() > 0 && load > bed.max_load)
        return fmt::format("machine and what goes on the same deck weigh {}, the low-bed carries {}",
                           words.mass(load.tonnes()), words.mass(bed.max_load.tonnes()));
    if (length_along(all).metres() > 0 && length > bed.deck.length)
        return fmt::format(
            "machine and what goes on the same deck are {} long, the deck is {}; give it its own trip",
            words.size(length.metres()), words.size(bed.deck.length.metres()));
    return {};
}

std::vector<std::string> Hauling::why_not() const {
    std::vector<std::string> out;
    // A low-bed that nobody described is too little to say no by: only its load counts.
    for (const Finding& f : m_loading.findings)
        if (f.concern == Concern::stop && (!m_setting.in().low_bed.assumed || f.kind == "overload"))
            out.push_back(f.text);
    if (std::string trouble = deck_trouble(); !trouble.empty())
        out.push_back(std::move(trouble));
    if (const auto& base = m_setting.in().low_bed_base; base && !m_base)
        out.push_back(fmt::format("no way for the empty low-bed from or to its base {}", base->name));
    return out;
}

Path Hauling::lay(const VehicleRoads& roads, const Route& route, Speed top) const {
    return lay_path(
        m_setting, route, {}, [&](ArcId a) { return m_setting.truck_speed(roads, a, top); }, false);
}

std::optional<Hauling::Run> Hauling::empty_run(const RoadPoint& from, const RoadPoint& to) {
    const auto route = m_empty_ways.find(from, to, m_empty_times.empty() ? m_empty_weights : m_empty_times);
    if (!route)
        return std::nullopt;
    const Path path = lay(m_empty, *route, m_setting.in().low_bed.empty_speed);
    return Run{Length::from_decimetres(static_cast<std::int64_t>(path.length_dm)), path.driving};
}

HaulFigures Hauling::assumed_runs() const {
    const LowBed& bed = m_setting.in().low_bed;
    HaulFigures f;
    f.to_pickup = f.back = bed.empty_run;
    f.to_pickup_time = f.back_time = bed.empty_run / bed.empty_speed;
    f.engine = m_setting.in().machine.engine;
    f.wide_escorts = wide_escorts();
    f.permit = asks_for_permit();
    return f;
}

std::optional<HauledWay> Hauling::way(const RoadPoint& from, const RoadPoint& to, std::string& why) {
    const auto route =
        m_loaded_ways.find(from, to, m_loaded_times.empty() ? m_loaded_weights : m_loaded_times);
    if (!route) {
        why = "no way for the loaded low-bed within the map's limits";
        return std::nullopt;
    }
    HauledWay w;
    w.path = lay(m_loaded, *route, m_setting.in().low_bed.loaded_speed);
    w.figures = assumed_runs();
    w.figures.loaded = Length::from_decimetres(static_cast<std::int64_t>(w.path.length_dm));
    w.figures.loaded_time = w.path.driving;
    if (m_base) {
        const auto out = empty_run(*m_base, from), home = empty_run(to, *m_base);
        if (!out || !home) {
            why = fmt::format("no way for the empty low-bed from or to its base {}",
                              m_setting.in().low_bed_base->name);
            return std::nullopt;
        }
        w.figures.to_pickup = out->length;
        w.figures.to_pickup_time = out->time;
        w.figures.back = home->length;
        w.figures.back_time = home->time;
    }
    w.cost = cost(w.figures);
    return w;
}

HauledFigures Hauling::figures_of(const HaulFigures& f) const {
    HauledFigures out;
    out.haul = f;
    out.waits = m_waited;
    for (const AlsoMoves& a : m_setting.in().also_moves) {
        out.more_loading += a.load_time;
        if (a.how != AlsoMoves::How::own_trip)
            continue;
        if (a.cost)
            out.own_trips += *a.cost;
        else
            ++out.more_trips;
    }
    return out;
}

CostParts Hauling::cost(const HaulFigures& f) const {
    return hauled_cost(figures_of(f), m_setting.in().rates);
}

Money Hauling::plain_cost(const HaulFigures& f) const {
    Rates plain = m_setting.in().rates;
    plain.truck_minimum = Money();
    HauledFigures all = figures_of(f);
    CostParts parts = hauled_cost(all, plain);
    parts.truck = all.own_trips + (m_rates.truck_per_h * haul_time(f, m_rates).hours() +
                                   m_rates.truck_per_km * (f.to_pickup + f.loaded + f.back).km()) *
                                      trips();
    return parts.total();
}

std::vector<Flag> Hauling::flags(const HauledWay& w) const {
    const PlanInputs& in = m_setting.in();
    const UnitWords words = m_setting.words();
    std::vector<Flag> out = loading_flags(m_loading);
    std::vector<Flag> along = route_flags(m_setting, m_loaded, w.path, false);
    note_last_turns(turn_off_places(m_setting, m_loaded, w.path), along);
    std::move(along.begin(), along.end(), std::back_inserter(out));
    const HaulFigures& f = w.figures;
    out.push_back(note_flag(
        "empty_run", in.low_bed_base
                         ? fmt::format("empty running from and back to {}: {} and {}", in.low_bed_base->name,
                                       words.exact(f.to_pickup.metres()), words.exact(f.back.metres()))
                         : fmt::format("empty running assumed: {} to the pick-up and {} back (no base named)",
                                       words.exact(f.to_pickup.metres()), words.exact(f.back.metres()))));
    if (in.rates.permit > Money())
        out.push_back(note_flag("permit_priced", permit_text()));
    for (const AlsoMoves& a : in.also_moves) {
        std::string text;
        if (a.how == AlsoMoves::How::same_deck)
            text = fmt::format(
                "{} goes on the same deck: {} and {} more, tied down by itself; axle "
                "loads and the place on the deck are worked out without it",
                a.name, words.mass(a.mass.tonnes()), words.size(a.length.metres()));
        else if (a.how == AlsoMoves::How::own_trip)
            text = a.cost ? fmt::format("{} makes its own trip: {:.0f} {}, among the low-bed's cost", a.name,
                                        a.cost->units(), in.rates.currency)
                          : fmt::format(
                                "{} makes its own trip: the low-bed comes a second time at the same price",
                                a.name);
        else
            text = fmt::format("{} stays where it is", a.name);
        out.push_back(note_flag("what_else", std::move(text)));
    }
    return out;
}

}  // namespace loamway
