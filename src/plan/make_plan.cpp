// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/base/version.h"
#include "loamway/plan/cautions.h"
#include "loamway/plan/inputs.h"
#include "confirm.h"
#include "manner.h"
#include "options.h"
#include "route_choice.h"
#include "setting.h"
#include "verdict.h"

namespace loamway {

namespace {

// Ends nearer to each other than this are one place.
const Length same_place = Length::from_metres(1);

struct RouteEnds {
    std::optional<RoadPoint> from, to;  // on one connected part, when there is one
    RoadPoint nearest_from, nearest_to;
};

// Whether the point with its two numbers exchanged would lie on the map.
bool looks_swapped(const VehicleRoads& roads, GeoPoint p, Length limit) {
    if (std::abs(p.lon()) > 90)
        return false;
    return snap(roads, GeoPoint::from_degrees(p.lon(), p.lat()), limit).has_value();
}

RoadPoint require_near(const VehicleRoads& roads, const NamedPoint& end, Length limit) {
    if (const auto at = snap(roads, end.point, limit))
        return *at;
    const auto nearest = distance_to_roads(roads, end.point);
    throw Error(ErrorKind::not_found,
                nearest ? fmt::format("no road for this machine within {:.1f} km of {}: the nearest is {:.1f} km away",
                                      limit.km(), printable(end.name), nearest->km())
                        : fmt::format("no road for this machine in the region near {}", printable(end.name)),
                looks_swapped(roads, end.point, limit)
                    ? "latitude and longitude are swapped: write LAT,LON"
                    : "give a point nearer to a road, or a region that holds it");
}

RouteEnds find_ends(const VehicleRoads& roads, const PlanInputs& in) {
    RouteEnds ends;
    ends.nearest_from = require_near(roads, in.from, in.snap_limit);
    ends.nearest_to = require_near(roads, in.to, in.snap_limit);
    if (ends.nearest_from.part == ends.nearest_to.part) {
        ends.from = ends.nearest_from;
        ends.to = ends.nearest_to;
        return ends;
    }
    // The largest part of the network first: an island is seldom meant.
    for (const std::uint32_t part : {0u, ends.nearest_from.part, ends.nearest_to.part}) {
        ends.from = snap(roads, in.from.point, in.snap_limit, part);
        ends.to = snap(roads, in.to.point, in.snap_limit, part);
        if (ends.from && ends.to)
            return ends;
    }
    ends.from.reset();
    ends.to.reset();
    return ends;
}

std::string island_text(const VehicleRoads& roads, const RouteEnds& ends, const PlanInputs& in) {
    return fmt::format("no road joins the two ends: {} lies on {:.1f} km of connected road, {} on {:.1f} km",
                       in.from.name, roads.part_length(ends.nearest_from.part).km(), in.to.name,
                       roads.part_length(ends.nearest_to.part).km());
}

// Where the nearest road was an island and another was taken, people must know.
void flag_islands(const VehicleRoads& roads, const RouteEnds& ends, const PlanInputs& in, Option& o) {
    const auto add = [&](const NamedPoint& end, const RoadPoint& nearest, const RoadPoint& used) {
        if (nearest.part == used.part)
            return;
        Flag f;
        f.kind = "island";
        f.severity = Severity::check;
        f.point = used.point;
        f.text = fmt::format("the road nearest to {} ({:.0f} m) is an island of {:.1f} km that no open road reaches; the "
                             "plan uses the road {:.0f} m away",
                             end.name, nearest.off_road.metres(), roads.part_length(nearest.part).km(),
                             used.off_road.metres());
        o.flags.push_back(std::move(f));
    };
    add(in.from, ends.nearest_from, *ends.from);
    add(in.to, ends.nearest_to, *ends.to);
}

// What the route costs as surfaces are taken now; nothing when it cannot be done.
std::optional<double> cost_again(const Setting& setting, const VehicleRoads& roads, const RoutePlan& route) {
    const PlanInputs& in = setting.in();
    if (!route.stops.answer_needed.empty() ||
        (in.belts.condition == BeltsNow::Condition::not_run_in && !in.belts.preconditioned))
        return std::nullopt;
    const PlanHeat heat(setting);
    const Driven driven = MannerSearch(setting, roads, heat, route).choose();
    return driven.holds ? std::optional(driven.cost.total().units()) : std::nullopt;
}

// The ways by which options are driven.
std::vector<PricedWay> add_drive_options(const Setting& setting, Plan& plan) {
    const PlanInputs& in = setting.in();
    const auto shared_roads = std::make_shared<const VehicleRoads>(
        setting.graph(), in.machine.vehicle(setting.state()), setting.moment(in.depart));
    const VehicleRoads& roads = *shared_roads;
    const RouteEnds ends = find_ends(roads, in);
    const RoadPoint& from = ends.from ? *ends.from : ends.nearest_from;
    const RoadPoint& to = ends.to ? *ends.to : ends.nearest_to;
    plan.move.from_on_road = from.point;
    plan.move.to_on_road = to.point;
    plan.move.from_off_road_m = from.off_road.metres();
    plan.move.to_off_road_m = to.off_road.metres();
    if (!in.drive)
        return {};
    if (!ends.from) {
        plan.options.push_back(impossible_option("least-cost", Mode::drive, island_text(roads, ends, in)));
        return {};
    }
    const StopPlaces places(setting, roads);
    const std::vector<RoutePlan> routes = choose_routes(setting, roads, places, *ends.from, *ends.to);
    if (routes.empty())
        plan.options.push_back(impossible_option(
            "least-cost", Mode::drive,
            "no way for this machine within its limits, bans and one-way roads, without crossing private ground"));
    Value::Array heat_record;
    std::vector<PricedWay> ways;
    for (const RoutePlan& r : routes) {
        const auto path = std::make_shared<Path>();
        Option o = drive_option(setting, roads, places, r, &heat_record, path.get());
        flag_islands(roads, ends, in, o);
        ways.push_back({o.id, path, [&setting, shared_roads, r] { return cost_again(setting, *shared_roads, r); }});
        plan.options.push_back(std::move(o));
    }
    plan.heat_search.set("acts_on", "bar_high_c");
    plan.heat_search.set("calibrated", false);
    plan.heat_search.set("options", std::move(heat_record));
    return ways;
}

void describe_move(const Setting& setting, Plan& plan) {
    const PlanInputs& in = setting.in();
    const RegionMeta& meta = in.region->meta();
    plan.loamway_version = program_version();
    plan.region = {meta.name, in.region->digest(), meta.map_date, meta.time_zone, meta.attribution,
                   meta.time_zone_assumed, meta.elevation};
    plan.units = in.units;
    plan.move.from_name = in.from.name;
    plan.move.to_name = in.to.name;
    plan.move.from = in.from.point;
    plan.move.to = in.to.point;
    plan.move.machine = in.machine.name;
    plan.move.state = setting.state().name;
    plan.move.belts = in.belts.condition == BeltsNow::Condition::not_run_in ? "not run in"
                      : in.belts.condition == BeltsNow::Condition::washed  ? "washed, run in"
                                                                           : "run in";
    plan.move.fields = in.fields;
    plan.move.phones = in.machine.phones;
}

}  // namespace

Plan make_plan(const PlanInputs& inputs) {
    if (distance(inputs.from.point, inputs.to.point) < same_place)
        throw Error(ErrorKind::input, "the two ends of the move are the same place", "give another --to");
    Setting setting(inputs);
    Plan plan;
    describe_move(setting, plan);
    const std::vector<PricedWay> ways = add_drive_options(setting, plan);
    if (inputs.haul)
        plan.options.push_back(haul_option(setting));
    plan.verdict = make_verdict(plan.options, inputs.units);
    name_what_to_confirm(setting, ways, plan);
    plan.cautions = standard_cautions(inputs.haul);
    return plan;
}

}  // namespace loamway
