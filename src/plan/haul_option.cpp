// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "corrections_used.h"
#include "directions.h"
#include "flags.h"
#include "haul_rules.h"
#include "landmarks.h"
#include "loamway/costs/costs.h"
#include "options.h"
#include "path.h"

namespace loamway {

namespace {

// How far the low-bed may stand from the machine's own place to load it there: a yard, not a walk.
const Length loading_reach = Length::from_metres(100);

struct Run {
    Length length;
    Duration time;
};

Path lay_truck_path(const Setting& setting, const VehicleRoads& roads, const Route& route, Speed top) {
    return lay_path(
        setting, route, {}, [&](ArcId a) { return setting.truck_speed(roads, a, top); }, false);
}

std::optional<Route> fastest(const Setting& setting, const VehicleRoads& roads, GeoPoint from, GeoPoint to,
                             Length reach, Speed top) {
    const auto a = snap(roads, from, reach), b = snap(roads, to, reach);
    if (!a || !b)
        return std::nullopt;
    return RouteFinder(roads).find(*a, *b, setting.truck_time_weights(roads, top));
}

// Empty running between the low-bed's base and a point: on the map when a base is named, else as assumed.
std::optional<Run> empty_run(const Setting& setting, const VehicleRoads& roads, GeoPoint from, GeoPoint to) {
    const LowBed& low_bed = setting.in().low_bed;
    const auto route = fastest(setting, roads, from, to, setting.in().snap_limit, low_bed.empty_speed);
    if (!route)
        return std::nullopt;
    const Path path = lay_truck_path(setting, roads, *route, low_bed.empty_speed);
    return Run{Length::from_decimetres(static_cast<std::int64_t>(path.length_dm)), path.driving};
}

std::string reach_text(const VehicleRoads& roads, const NamedPoint& end) {
    const auto near = distance_to_roads(roads, end.point);
    if (!near)
        return "no road in this region carries the loaded low-bed";
    return fmt::format("the loaded low-bed cannot come nearer to {} than {:.0f} m", end.name, near->metres());
}

}  // namespace

Option haul_option(const Setting& setting) {
    const PlanInputs& in = setting.in();
    const LowBed& low_bed = in.low_bed;
    const Moment moment = setting.moment(in.depart);
    const LoadingPlan loading = loading_of(setting);
    const VehicleRoads loaded(setting.graph(), loaded_vehicle(loading), moment);
    for (const NamedPoint* end : {&in.from, &in.to})
        if (!snap(loaded, end->point, loading_reach))
            return impossible_option("haul", Mode::haul,
                                     reach_text(loaded, *end) + "; name a loading place it can reach");
    const auto route =
        fastest(setting, loaded, in.from.point, in.to.point, loading_reach, low_bed.loaded_speed);
    if (!route)
        return impossible_option("haul", Mode::haul, "no way for the loaded low-bed within the map's limits");

    Option o;
    o.id = "haul";
    o.mode = Mode::haul;
    o.feasible = true;
    // A low-bed that nobody described is too little to say no by: only its load counts.
    for (const Finding& f : loading.findings)
        if (f.concern == Concern::stop && (!low_bed.assumed || f.kind == "overload")) {
            o.feasible = false;
            o.why_not.push_back(f.text);
        }
    const Path path = lay_truck_path(setting, loaded, *route, low_bed.loaded_speed);
    Run to_pickup{low_bed.empty_run, low_bed.empty_run / low_bed.empty_speed};
    Run back = to_pickup;
    if (in.low_bed_base) {
        const VehicleRoads empty(setting.graph(), low_bed.vehicle_empty(), moment);
        const auto out = empty_run(setting, empty, in.low_bed_base->point, in.from.point);
        const auto home = empty_run(setting, empty, in.to.point, in.low_bed_base->point);
        if (out && home) {
            to_pickup = *out;
            back = *home;
        } else {
            o.feasible = false;
            o.why_not.push_back(
                fmt::format("no way for the empty low-bed from or to its base {}", in.low_bed_base->name));
        }
    }
    HaulFigures f;
    f.to_pickup = to_pickup.length;
    f.to_pickup_time = to_pickup.time;
    f.loaded = Length::from_decimetres(static_cast<std::int64_t>(path.length_dm));
    f.loaded_time = path.driving;
    f.back = back.length;
    f.back_time = back.time;
    f.engine = in.machine.engine;
    o.cost = option_cost(haul_cost(f, in.rates), in.rates);

    o.length_m = o.hard_m = o.gravel_m = o.earth_m = o.assumed_m = o.hard_low_m = o.hard_high_m = 0;
    o.hauled_m = std::round(f.loaded.metres());
    o.ferry_m = 0;
    o.wear.share = o.wear.mm = o.wear.field_hours_equivalent = o.wear.low = o.wear.high = 0.0;
    o.sharp_turns_hard = 0;
    const Duration before = in.rates.load_time + in.rates.make_narrow_time;
    o.depart = in.depart;
    o.arrive = in.depart + before + path.driving + in.rates.unload_time;
    o.duration_s = (*o.arrive - in.depart).seconds();
    o.driving_s = path.driving.seconds();
    o.stopped_s = (before + in.rates.unload_time).seconds();

    Leg leg;
    leg.mode = Mode::haul;
    leg.from = in.from.name;
    leg.to = in.to.name;
    leg.length_m = f.loaded.metres();
    leg.duration_s = path.driving.seconds();
    leg.surface_runs = surface_runs(setting, path);
    leg.directions = directions(setting, path);
    o.legs.push_back(std::move(leg));
    o.flags = loading_flags(loading);
    std::vector<Flag> along = route_flags(setting, loaded, path, false);
    note_last_turns(turn_off_places(setting, loaded, path), along);
    std::move(along.begin(), along.end(), std::back_inserter(o.flags));
    Flag note;
    note.kind = "empty_run";
    note.severity = Severity::note;
    note.text =
        in.low_bed_base
            ? fmt::format("empty running from and back to {}: {:.1f} km and {:.1f} km", in.low_bed_base->name,
                          to_pickup.length.km(), back.length.km())
            : fmt::format(
                  "empty running assumed: {:.0f} km to the pick-up and {:.0f} km back (no base named)",
                  to_pickup.length.km(), back.length.km());
    o.flags.push_back(std::move(note));
    note_corrections(setting, path, {}, o);
    path_geometry(setting, path, o.geometry, o.geometry_at_m);
    return o;
}

}  // namespace loamway
