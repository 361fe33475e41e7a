// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <memory>

#include "corrections_used.h"
#include "directions.h"
#include "hauling.h"
#include "loamway/costs/option_figures.h"
#include "options.h"

namespace loamway {

namespace {

// What keeps the loaded low-bed off the road beside a point that the empty one may use; may be empty.
std::string denied_by(const Setting& setting, const Hauling& hauling, GeoPoint point) {
    const auto at = snap(hauling.empty(), point, loading_reach);
    if (!at)
        return {};
    const ArcId arc = setting.graph().arc_of(at->edge, false);
    for (const LimitFinding& f : hauling.loaded().reading(arc).limits)
        if (f.passage == Passage::deny)
            return fmt::format(": {} (way {})", f.text, setting.region().edge_way[at->edge.index()]);
    return {};
}

std::string reach_text(const Setting& setting, const Hauling& hauling, const NamedPoint& end,
                       const RoadPoint& road) {
    const VehicleRoads& roads = hauling.loaded();
    const UnitWords words = setting.words();
    const bool off = road.off_road > loading_reach;
    const auto near = distance_to_roads(roads, off ? road.point : end.point);
    if (!near)
        return "no road in this region carries the loaded low-bed";
    const std::string what = off ? fmt::format("the road that the machine comes out on ({} from {})",
                                               words.short_length(road.off_road.metres()), end.name)
                                 : end.name;
    return fmt::format("the loaded low-bed cannot come nearer to {} than {}{}", what,
                       words.short_length(near->metres()), denied_by(setting, hauling, road.point));
}

// Driving does not count these metres either.
Flag off_road_flag(const Setting& setting, std::string_view does, const RoadPoint& at, const NamedPoint& end,
                   Length off) {
    Flag f;
    f.kind = "loading_place";
    f.severity = Severity::check;
    f.point = at.point;
    f.text = fmt::format(
        "{} at the road, {} from {}: look whether the low-bed can stand there clear of the traffic; what the "
        "machine drives between the two is in no figure",
        does, setting.words().short_length(off.metres()), end.name);
    return f;
}

// Nothing is driven.
void set_nothing_driven(Option& o) {
    o.length_m = o.hard_m = o.gravel_m = o.earth_m = o.assumed_m = o.hard_low_m = o.hard_high_m = 0;
    o.ferry_m = 0;
    o.wear.share = o.wear.mm = o.wear.field_hours_equivalent = o.wear.low = o.wear.high = 0.0;
    o.sharp_turns_hard = 0;
}

Duration time_to_load(const Rates& rates) {
    return rates.load_time + rates.make_narrow_time;
}

void set_times(Option& o, const Setting& setting, const Rates& rates, const HauledWay& w) {
    const Duration before = time_to_load(rates);
    o.depart = setting.in().depart;
    o.arrive = *o.depart + before + w.path.driving + rates.unload_time;
    o.duration_s = (*o.arrive - *o.depart).seconds();
    o.driving_s = w.path.driving.seconds();
    o.stopped_s = (before + rates.unload_time).seconds();
}

}  // namespace

Duration wait_for_low_bed(const PlanInputs& in, Instant at) {
    return in.haul_from && *in.haul_from > at ? *in.haul_from - at : Duration();
}

Flag haul_from_flag(const Setting& setting, Duration waits, std::string_view what_waits) {
    Flag f;
    f.kind = "haul_from";
    f.severity = Severity::note;
    f.text = fmt::format("the low-bed can be there from {}: {} {} later than the departure asked for",
                         format_clock(*setting.in().haul_from, setting.zone()), what_waits,
                         format_duration(waits));
    return f;
}

void flag_loading_off_road(const Setting& setting, const HaulEnds& ends, bool at_from, bool at_to,
                           Option& o) {
    const PlanInputs& in = setting.in();
    if (at_from)
        if (const auto off = waits_off(*ends.from, in.from)) {
            o.flags.push_back(off_road_flag(setting, "the low-bed loads", *ends.from, in.from, *off));
            o.flags.back().at_m = 0;
        }
    if (at_to)
        if (const auto off = waits_off(*ends.to, in.to))
            o.flags.push_back(off_road_flag(setting, "the low-bed unloads", *ends.to, in.to, *off));
}

Leg hauled_leg(const Setting& setting, const Path& path, std::string from, std::string to) {
    Leg leg;
    leg.mode = Mode::haul;
    leg.from = std::move(from);
    leg.to = std::move(to);
    leg.length_m = 0;
    for (const PathPiece& p : path.pieces)
        leg.length_m += static_cast<double>(p.piece.length_dm()) / 10.0;
    leg.duration_s = path.driving.seconds();
    leg.surface_runs = surface_runs(setting, path);
    leg.directions = directions(setting, path);
    return leg;
}

namespace {

// Loading begins at the departure.
Option option_leaving_at(const Setting& setting, Hauling& hauling, const MoveEnds& machine) {
    const PlanInputs& in = setting.in();
    const HaulEnds ends = find_haul_ends(hauling.loaded(), machine, in);
    if (!ends.from || !ends.to)
        return impossible_option("haul", Mode::haul,
                                 (ends.from ? reach_text(setting, hauling, in.to, joins_at_to(machine))
                                            : reach_text(setting, hauling, in.from, joins_at_from(machine))) +
                                     "; name a loading place it can reach");
    std::string why;
    auto way = hauling.way(*ends.from, *ends.to, why);
    if (!way)
        return impossible_option("haul", Mode::haul, why);
    Option o;
    o.id = "haul";
    o.mode = Mode::haul;
    o.why_not = hauling.why_not();
    o.feasible = o.why_not.empty();
    for (PathPiece& p : way->path.pieces)
        p.begins += time_to_load(hauling.rates());
    o.figures = std::make_shared<const OptionFigures>(OptionFigures{{}, {hauling.figures_of(way->figures)}});
    o.cost = option_cost(option_parts(*o.figures, in.rates), in.rates);
    set_nothing_driven(o);
    o.hauled_m = std::round(way->figures.loaded.metres());
    set_times(o, setting, hauling.rates(), *way);
    o.legs.push_back(hauled_leg(setting, way->path, in.from.name, in.to.name));
    std::vector<Flag> flags = hauling.flags(*way);
    std::move(flags.begin(), flags.end(), std::back_inserter(o.flags));
    flag_loading_off_road(setting, ends, true, true, o);
    note_corrections(setting, way->path, {}, o);
    path_geometry(setting, way->path, o.geometry, o.geometry_at_m);
    o.clock = path_clock(way->path);
    return o;
}

}  // namespace

// What the map says of an hour, it says of the one at which the low-bed goes.
Option haul_option(const Setting& setting, Hauling& hauling, const MoveEnds& machine) {
    const PlanInputs& in = setting.in();
    const Duration waits = wait_for_low_bed(in, in.depart);
    if (!(waits.seconds() > 0))
        return option_leaving_at(setting, hauling, machine);
    PlanInputs later = in;
    later.depart = in.depart + waits;
    const Setting then(later);
    Hauling hauling_then(then, waits);
    Option o = option_leaving_at(then, hauling_then, machine);
    o.flags.push_back(haul_from_flag(setting, waits, "loading begins"));
    return o;
}

}  // namespace loamway
