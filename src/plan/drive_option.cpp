// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "directions.h"
#include "flags.h"
#include "loamway/costs/costs.h"
#include "loamway/plan/cautions.h"
#include "options.h"
#include "path.h"

namespace loamway {

namespace {

// Turns this sharp scrub the bars; gentler ones are driven in a curve (assumption).
constexpr double scrub_from_deg = 20;
constexpr double sharp_from_deg = 60;

double metres(std::uint64_t dm) { return static_cast<double>(dm) / 10.0; }

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

struct Wear {
    double mm = 0;
    int sharp_hard = 0;
};

Wear wear_of(const Setting& setting, const VehicleRoads& roads, const Path& path, AssumedAs how) {
    Wear w;
    const PathPiece* before = nullptr;
    for (const PathPiece& p : path.pieces) {
        const Length length = Length::from_decimetres(p.piece.length_dm());
        w.mm += setting.wear_on(p.piece.arc, length, setting.machine_speed(roads, p.piece.arc), how);
        if (before != nullptr && before->piece.arc != p.piece.arc) {
            const bool back = setting.graph().twin(before->piece.arc) == p.piece.arc;
            // Out of a side way the machine backs; that is no turn on the spot.
            const double turn =
                back ? 0 : std::abs(turn_between(setting.graph(), before->piece.arc, p.piece.arc));
            const SurfaceClass c = setting.surface(before->piece.arc, how);
            if (turn > scrub_from_deg)
                w.mm += turn_wear_mm(c, setting.in().machine, setting.load_ratio()) * turn / 90.0;
            if (turn > sharp_from_deg && c == SurfaceClass::hard)
                ++w.sharp_hard;
        }
        before = &p;
    }
    return w;
}

void set_wear(Option& o, const Setting& setting, const VehicleRoads& roads, const Path& path) {
    const BeltGeometry& belts = setting.in().machine.belts;
    const Wear likely = wear_of(setting, roads, path, AssumedAs::likeliest);
    o.wear.mm = likely.mm;
    o.wear.share = wear_share(likely.mm, belts);
    o.wear.field_hours_equivalent = field_hours_equivalent(likely.mm);
    o.wear.low = std::min(*o.wear.share, wear_share(wear_of(setting, roads, path, AssumedAs::soft).mm, belts));
    o.wear.high = std::max(*o.wear.share, wear_share(wear_of(setting, roads, path, AssumedAs::hard).mm, belts));
    o.sharp_turns_hard = likely.sharp_hard;
}

PlanStop plan_stop(const Setting& setting, const PathStop& at, const std::vector<Instruction>& instructions) {
    const ChosenStop& s = *at.stop;
    PlanStop out;
    out.kind = s.kind;
    out.at_m = metres(at.at_dm);
    out.since_relube_m = metres(at.since_relube_dm);
    out.point = s.point;
    out.place = s.name;
    out.how_to_find = how_to_find(at, instructions);
    out.side = s.side;
    out.why = s.why;
    out.to_do = relube_steps(setting.in().machine.belts.count);
    out.wait_s = s.wait.seconds();
    out.arrive = setting.in().depart + at.arrives;
    out.leave = setting.in().depart + at.leaves;
    out.cautions = s.cautions;
    return out;
}

void set_cost(Option& o, const Setting& setting, const Path& path, int lubrications) {
    Rates rates = setting.in().rates;
    rates.escorts = setting.escorts();
    DriveFigures f;
    f.length = Length::from_decimetres(static_cast<std::int64_t>(path.length_dm));
    f.driving = path.driving;
    f.stopped = path.stopped;
    f.lubrications = lubrications;
    f.wear_share = *o.wear.share;
    f.shuttle = rates.shuttle;
    f.engine = setting.in().machine.engine;
    o.cost = option_cost(drive_cost(f, rates), rates);
    o.fuel_l = drive_fuel(f, rates).litres();
}

// A dry start wants its first minutes slow; a top-up does not.
bool starts_dry(const PlanInputs& in) {
    return in.belts.condition != BeltsNow::Condition::run_in || (in.belts.hours && *in.belts.hours < 100) ||
           in.conditions.ground == Ground::frozen;
}

}  // namespace

Option impossible_option(std::string id, Mode mode, std::string why_not) {
    Option o;
    o.id = std::move(id);
    o.mode = mode;
    o.why_not.push_back(std::move(why_not));
    return o;
}

OptionCost option_cost(const CostParts& parts, const Rates& rates) {
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

Option drive_option(const Setting& setting, const VehicleRoads& roads, const RoutePlan& chosen) {
    const PlanInputs& in = setting.in();
    const StopPlan& stops = chosen.stops;
    const bool slow_start = stops.start_lube && starts_dry(in);
    const Path path = lay_path(setting, chosen.route, stops.stops,
                               [&](ArcId a) { return setting.machine_speed(roads, a); }, slow_start);
    Option o;
    o.id = chosen.id;
    o.also = chosen.also;
    o.mode = Mode::drive;
    o.exact = chosen.exact;
    o.gap_m = chosen.gap_m;
    o.answer_needed = stops.answer_needed;
    if (!stops.answer_needed.empty())
        o.why_not.emplace_back("no fit place to re-lube in time");
    if (in.belts.condition == BeltsNow::Condition::not_run_in && !in.belts.preconditioned)
        o.why_not.emplace_back(
            "the belts are not run in: precondition them before they see a road (powder, slow work on soil)");
    o.feasible = o.why_not.empty();

    set_lengths(o, add_up(setting, path));
    set_wear(o, setting, roads, path);
    o.depart = in.depart;
    o.arrive = in.depart + path.total;
    o.duration_s = path.total.seconds();
    o.driving_s = path.driving.seconds();
    o.stopped_s = path.stopped.seconds();
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        o.speed_caps_kmh[static_cast<std::size_t>(c)] = setting.cap_on(c).kmh();
    o.relube_interval_m = in.rates.relube_interval.metres();
    set_cost(o, setting, path, static_cast<int>(stops.stops.size()));

    Leg leg;
    leg.from = in.from.name;
    leg.to = in.to.name;
    leg.length_m = metres(path.length_dm);
    leg.duration_s = path.total.seconds();
    leg.surface_runs = surface_runs(setting, path);
    leg.directions = directions(setting, path);
    for (const PathStop& s : path.stops)
        o.stops.push_back(plan_stop(setting, s, leg.directions));
    o.legs.push_back(std::move(leg));
    o.flags = machine_flags(setting, *o.arrive);
    for (Flag& f : route_flags(setting, roads, path, true))
        o.flags.push_back(std::move(f));
    for (const std::string& text : stops.cautions) {
        Flag f;
        f.kind = "relube";
        f.severity = Severity::check;
        f.text = text;
        o.flags.push_back(std::move(f));
    }
    path_geometry(setting, path, o.geometry, o.geometry_at_m);
    return o;
}

}  // namespace loamway
