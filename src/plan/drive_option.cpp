// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "corrections_used.h"
#include "directions.h"
#include "flags.h"
#include "hills.h"
#include "landmarks.h"
#include "loamway/base/error.h"
#include "loamway/belt/break_in.h"
#include "loamway/costs/option_figures.h"
#include "loamway/plan/cautions.h"
#include "options.h"
#include "path.h"

namespace loamway {

namespace {

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

struct Surfaces {  // decimetres x probability_steps
    std::uint64_t hard = 0, gravel = 0, earth = 0, assumed = 0, known_hard = 0, known_soft = 0, all = 0;
};

Surfaces add_up(const Setting& setting, const Path& path) {
    Surfaces s;
    for (const PathPiece& p : path.pieces) {
        const SurfaceOdds odds = setting.graph().edge(p.piece.arc).odds;
        const std::uint64_t dm = p.piece.length_dm();
        s.all += dm * probability_steps;
        s.hard += dm * odds.hard;
        s.gravel += dm * odds.gravel;
        s.earth += dm * odds.earth;
        if (!setting.known(p.piece.arc))
            s.assumed += dm * probability_steps;
        else if (odds.likeliest() == SurfaceClass::hard)
            s.known_hard += dm * probability_steps;
        else
            s.known_soft += dm * probability_steps;
    }
    return s;
}

void set_lengths(Option& o, const Surfaces& s) {
    // Whole metres that add up: the three classes are parts of the rounded length.
    const auto whole = [](std::uint64_t v) {
        return std::round(static_cast<double>(v) / (10.0 * probability_steps));
    };
    o.length_m = whole(s.all);
    o.hard_m = whole(s.hard);
    o.gravel_m = std::min(whole(s.gravel), *o.length_m - *o.hard_m);
    o.earth_m = *o.length_m - *o.hard_m - *o.gravel_m;
    o.assumed_m = whole(s.assumed);
    o.hard_low_m = whole(s.known_hard);
    o.hard_high_m = whole(s.all - s.known_soft);
    o.hauled_m = 0;
    o.ferry_m = 0;
}

// The same in other lights.
void add_wear_band(const Setting& setting, const PlanHeat& heat, const Driven& d, WearBand& w) {
    const double sd = setting.in().heat.log_sd;
    const double turns_mm = d.wear_mm - heat.run(d.path, 1.0, AssumedAs::likeliest, false).wear_mm;
    const auto in_light = [&](double heat_scale, AssumedAs how) {
        return wear_share(turns_mm + heat.run(d.path, heat_scale, how, false).wear_mm,
                          setting.in().machine.belts);
    };
    w.assumed_soft = in_light(1.0, AssumedAs::soft);
    w.assumed_paved = in_light(1.0, AssumedAs::hard);
    w.cooler = in_light(std::exp(-sd), AssumedAs::likeliest);
    w.hotter = in_light(std::exp(sd), AssumedAs::likeliest);
}

// The band of the wear takes assumed stretches as the softest and the hardest they may be, and the rates one
// standard deviation lower and higher.
void set_wear(Option& o, const Setting& setting, const PlanHeat& heat, const WearBand& band,
              const Driven& d) {
    o.wear.mm = d.wear_mm;
    o.wear.share = d.wear_share;
    const KnownWear& known = setting.in().wear;
    o.wear.field_hours_equivalent = field_hours_equivalent(d.wear_mm, known.rates);
    const HeatRun run = heat.run(d.path, 1.0, AssumedAs::likeliest, false);
    std::copy(run.weighted_km.begin(), run.weighted_km.end(), o.wear.weighted_km.begin());
    o.wear.low = std::min(*o.wear.share, band.assumed_soft) * std::max(0.0, 1 - known.sd_share);
    o.wear.high = std::max(*o.wear.share, band.assumed_paved) * (1 + known.sd_share);
    o.wear.calibrated = known.calibrated;
    o.wear.basis = fmt::format(
        "{}: one standard deviation of the wear rates, {:.0f} %; roads of assumed surface as soft "
        "and as paved",
        known.calibrated ? "calibrated by heights measured" : "assumption", known.sd_share * 100);
    o.sharp_turns_hard = d.sharp_turns_hard;
}

PlanStop plan_stop(const Setting& setting, const Path& path, const PathStop& at, const ChosenStop& s,
                   const std::vector<Instruction>& instructions) {
    PlanStop out;
    out.kind = s.kind;
    out.at_m = metres(at.at_dm);
    out.since_relube_m = metres(at.since_relube_dm);
    out.point = s.point;
    out.place = s.name;
    out.how_to_find = how_to_find(setting, path, at, s, instructions);
    out.side = s.side;
    out.why = s.why;
    const int belts = setting.in().machine.belts.count;
    out.to_do = s.kind == "check"     ? check_steps(belts)
                : s.kind == "cooling" ? cooling_steps()
                                      : relube_steps(belts);
    out.wait_s = s.wait.seconds();
    out.arrive = setting.in().depart + at.arrives;
    out.leave = setting.in().depart + at.leaves;
    out.cautions = s.cautions;
    return out;
}

void explain_manner(Option& o, const Setting& setting, const Driven& d, const PlanHeat& heat) {
    const bool calibrated = setting.in().heat.calibrated();
    const UnitWords words = setting.words();
    if (!d.holds || d.manner.plain())
        return;
    Flag f;
    f.kind = "heat";
    f.severity = Severity::check;
    f.text = fmt::format("for the sake of the bars: {}; so they may reach {} ({}), the limit is {}",
                         manner_text(d, words), words.temperature(d.acted_on_c),
                         acted_on_is(calibrated, words), words.temperature(heat.limits().limit.celsius()));
    o.flags.push_back(std::move(f));
}

// After readings the estimate and a margin count, and the band around them may reach over the limit.
void note_band_over_limit(Option& o, const UnitWords& words) {
    if (!o.heat)
        return;
    const OptionHeat& h = *o.heat;
    if (!h.calibrated || *h.bar_high_c <= *h.limit_c || *h.acted_on_c > *h.limit_c)
        return;
    Flag f;
    f.kind = "heat";
    f.severity = Severity::check;
    f.text = fmt::format(
        "bars: the band of the estimate reaches {}, over the limit of {}; after readings the estimate and its "
        "margin count, {}. Measure them at the first stop, and where they are warmer than that wait and drive slower",
        words.temperature(*h.bar_high_c), words.temperature(*h.limit_c), words.temperature(*h.acted_on_c));
    o.flags.push_back(std::move(f));
}

// What the interval between lubrications cannot answer is for the driver to know.
void note_guide_lugs_and_age(Option& o, const UnitWords& words) {
    if (!o.heat)
        return;
    const OptionHeat& h = *o.heat;
    if (*h.guide_lug_peak_c > *h.guide_lug_caution_c) {
        Flag f;
        f.kind = "guide_lug_heat";
        f.severity = Severity::check;
        f.at_m = h.guide_lug_peak_at_m;
        f.text = fmt::format(
            "guide lugs may reach {}, over the {} at which to be careful (assumption): powder, drive slower, look at "
            "both sides at the next stop",
            words.temperature(*h.guide_lug_peak_c), words.temperature(*h.guide_lug_caution_c));
        o.flags.push_back(std::move(f));
    }
    if (*h.aging_110c_min > thermal_age_flag_min) {
        Flag f;
        f.kind = "heat_age";
        f.severity = Severity::check;
        f.text =
            fmt::format("the bars age as in {:.0f} min at {}{}; estimate, no evidence of a belt's condition",
                        *h.aging_110c_min, words.temperature(110),
                        *h.aging_110c_min > thermal_age_red_min
                            ? ": too much for one move, drive slower or haul (assumption)"
                            : " (30 min deserve a word, assumption)");
        o.flags.push_back(std::move(f));
    }
}

// Their speed and their limit are lower than the machine's and the rubber's own: whoever wonders reads why.
void note_young_belts(Option& o, const Setting& setting) {
    const std::optional<Speed> cap = young_paved_cap(setting.in().belts);
    if (!cap || !o.heat || *cap >= setting.in().machine.speed_on(SurfaceClass::hard))
        return;
    const UnitWords words = setting.words();
    Flag f;
    f.kind = "young_belts";
    f.severity = Severity::note;
    f.text = fmt::format(
        "belts with {:.0f} h run: at most {} on paved roads, bars held to {} (assumptions); `loamway breakin` has "
        "the stages and how much of the time may be road",
        *setting.in().belts.worked_hours(), words.speed_cap(cap->kmh()), words.temperature(*o.heat->limit_c));
    o.flags.push_back(std::move(f));
}

// Grip, braking and cords are no part of any estimate (belt model, section 7).
void note_worn_bars(Option& o, const Setting& setting) {
    std::string text = worn_bars_text(setting.in());
    if (text.empty())
        return;
    Flag f;
    f.kind = "worn_bars";
    f.severity = Severity::check;
    f.text = std::move(text);
    o.flags.push_back(std::move(f));
}

void set_times(Option& o, const WorkedWay& way, Instant depart) {
    const Path& path = way.driven.path;
    o.depart = depart;
    o.arrive = depart + path.total;
    o.duration_s = path.total.seconds();
    o.driving_s = path.driving.seconds();
    o.stopped_s = path.stopped.seconds();
    for (std::size_t c = 0; c < way.caps.size(); ++c)
        o.speed_caps_kmh[c] = way.caps[c].kmh();
}

void add_stops(Option& o, const Setting& setting, const Path& path, const Driven& driven,
               const std::vector<Instruction>& directions) {
    const double pause = driven.manner.pause.minutes();
    for (const PathStop& s : path.stops) {
        PlanStop stop = plan_stop(setting, path, s, driven.stops[s.stop], directions);
        if (stop.kind == "relube" && pause > 0) {
            stop.why += fmt::format("; {:.0f} min of it for the bars to cool", pause);
            // Before the last step, which is to drive on.
            stop.to_do.insert(
                stop.to_do.end() - 1,
                fmt::format("Wait {:.0f} min more, away from the belts, for the bars to cool; no water on "
                            "hot rubber",
                            pause));
        }
        if (stop.kind == "cooling" && !driven.without_cooling.empty())
            stop.why += "; " + driven.without_cooling;
        o.stops.push_back(std::move(stop));
    }
}

}  // namespace

std::string worn_bars_text(const PlanInputs& in) {
    const BeltGeometry& belts = in.machine.belts;
    if (!in.belts.bar_height)
        return {};
    const bool inches = UnitWords(in.units).imperial();
    const auto height = [inches](Length l) {
        return inches ? fmt::format("{:.2f} in", l.metres() / 0.0254) : fmt::format("{:g} mm", l.mm());
    };
    const Length now = *in.belts.bar_height;
    constexpr std::string_view means =
        "poor grip and braking, cord may be near; look at them before any road. A worn bar runs cooler: a low heat "
        "estimate says nothing of their condition";
    if (now <= belts.worn_height)
        return fmt::format("bars of {} are worn out (a belt is replaced at {}): {}", height(now),
                           height(belts.worn_height), means);
    // A quarter of the new height (assumption).
    if (now < belts.bar_height * 0.25)
        return fmt::format("bars of {} are under a quarter of their new height: {}", height(now), means);
    return {};
}

Option impossible_option(std::string id, Mode mode, std::string why_not) {
    Option o;
    o.id = std::move(id);
    o.mode = mode;
    o.why_not.push_back(std::move(why_not));
    return o;
}

DrivenFigures driven_figures(const Setting& setting, const Driven& d) {
    const BeltGeometry& belts = setting.in().machine.belts;
    DrivenFigures f;
    f.drive = d.figures;
    f.fuel_upper = d.path.fuel_upper;
    f.wear.paved = wear_share(d.wear_paved_mm, belts);
    f.wear.soft = wear_share(d.wear_mm - d.wear_paved_mm, belts);
    f.wear.assumed_soft = f.wear.assumed_paved = f.wear.cooler = f.wear.hotter = d.wear_share;
    return f;
}

OptionCost option_cost(const CostParts& parts, const Rates& rates) {
    // A tenth of what plan JSON takes; the upper edges of bands lie above.
    constexpr double most_units = 1e8;
    if (parts.total().units() > most_units)
        throw Error(ErrorKind::limit, "a way of making this move costs more than can be added up",
                    "write prices in a unit of money worth more, such as thousands");
    OptionCost c;
    c.total = parts.total().units();
    c.labour = parts.labour.units();
    c.fuel = (parts.fuel + parts.oil).units();
    c.belts = parts.belts.units();
    c.machine = (parts.ownership + parts.repair).units();
    c.lubricant = parts.lubricant.units();
    c.escort = parts.escort.units();
    c.truck = parts.truck.units();
    c.permit = parts.permit.units();
    c.other = (parts.toll + parts.delay + parts.shuttle).units();
    c.basis = name_of(rates.basis);
    c.currency = rates.currency;
    return c;
}

void set_driven_figures(Option& o, const Setting& setting, const PlanHeat& heat, const WorkedWay& way) {
    const PlanInputs& in = setting.in();
    const Driven& driven = way.driven;
    o.id = way.chosen.id;
    o.also = way.chosen.also;
    o.feasible = way.can_be_done();
    o.why_not = way.why_not;
    o.exact = way.chosen.exact;
    o.gap_m = way.chosen.gap_m;
    o.answer_needed = way.chosen.stops.answer_needed;
    set_lengths(o, add_up(setting, driven.path));
    DrivenFigures figures = driven_figures(setting, driven);
    add_wear_band(setting, heat, driven, figures.wear);
    set_wear(o, setting, heat, figures.wear, driven);
    o.heat = heat.describe(driven.path);
    set_times(o, way, in.depart);
    if (in.conditions.ground != Ground::wet)
        o.relube_interval_m = static_cast<double>(setting.interval_dm()) / 10.0;
    o.cost = option_cost(driven.cost, in.rates);
    o.figures = std::make_shared<const OptionFigures>(OptionFigures{{figures}, {}});
    o.fuel_l = driven.fuel.litres();
    o.fuel_high_l = (driven.fuel + driven.path.fuel_upper - driven.path.fuel).litres();
}

void add_driven_leg(Option& o, const Setting& setting, const Path& path, const Driven& driven,
                    std::string from, std::string to) {
    Leg leg;
    leg.from = std::move(from);
    leg.to = std::move(to);
    for (const PathPiece& p : path.pieces)
        leg.length_m += metres(p.piece.length_dm());
    leg.duration_s = path.total.seconds();
    leg.surface_runs = surface_runs(setting, path);
    leg.directions = directions(setting, path);
    add_stops(o, setting, path, driven, leg.directions);
    o.legs.push_back(std::move(leg));
}

void add_driven_flags(Option& o, const Setting& setting, const PlanHeat& heat, const WorkedWay& way) {
    explain_manner(o, setting, way.driven, heat);
    note_band_over_limit(o, setting.words());
    note_guide_lugs_and_age(o, setting.words());
    note_young_belts(o, setting);
    note_worn_bars(o, setting);
    for (Flag& f : machine_flags(setting, *o.arrive))
        o.flags.push_back(std::move(f));
}

void add_stop_flags(Option& o, const WorkedWay& way) {
    for (const std::string& text : way.chosen.stops.cautions) {
        Flag f;
        f.kind = "relube";
        f.severity = Severity::check;
        f.text = text;
        o.flags.push_back(std::move(f));
    }
}

void note_end_of_weather(Option& o, const Setting& setting) {
    if (setting.weather().covers(*o.arrive))
        return;
    Flag f;
    f.kind = "weather";
    f.severity = Severity::check;
    f.text =
        "the table of the air does not reach to the end of this option; the last line is taken to hold from there on";
    o.flags.push_back(std::move(f));
}

Option drive_option(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                    const PlanHeat& heat, const WorkedWay& way) {
    const PlanInputs& in = setting.in();
    const Path& path = way.driven.path;
    Option o;
    o.mode = Mode::drive;
    set_driven_figures(o, setting, heat, way);
    add_driven_leg(o, setting, path, way.driven, in.from.name, in.to.name);
    add_driven_flags(o, setting, heat, way);
    for (Flag& f : route_flags(setting, roads, path, true))
        o.flags.push_back(std::move(f));
    add_stop_flags(o, way);
    note_corrections(setting, path, way.driven.stops, o);
    note_end_of_weather(o, setting);
    set_hills(o, setting, path);
    note_last_turns(turn_places(setting, places, way.chosen.route, path), o.flags);
    path_geometry(setting, path, o.geometry, o.geometry_at_m);
    o.clock = path_clock(path);
    return o;
}

}  // namespace loamway
