// SPDX-License-Identifier: Apache-2.0
#include "move_ends.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/base/unit_words.h"

namespace loamway {

namespace {

// Whether the point with its two numbers exchanged would lie on the map.
bool looks_swapped(const VehicleRoads& roads, GeoPoint p, Length limit) {
    if (std::abs(p.lon()) > 90)
        return false;
    return snap(roads, GeoPoint::from_degrees(p.lon(), p.lat()), limit).has_value();
}

RoadPoint require_near(const VehicleRoads& roads, const NamedPoint& end, Length limit,
                       const UnitWords& words) {
    if (const auto at = snap(roads, end.point, limit))
        return *at;
    const auto nearest = distance_to_roads(roads, end.point);
    throw Error(
        ErrorKind::not_found,
        nearest
            ? fmt::format("no road for this machine within {} of {}: the nearest is {} away",
                          words.exact(limit.metres()), printable(end.name), words.exact(nearest->metres()))
            : fmt::format("no road for this machine in the region near {}", printable(end.name)),
        looks_swapped(roads, end.point, limit) ? "latitude and longitude are swapped: write LAT,LON"
                                               : "give a point nearer to a road, or a region that holds it");
}

}  // namespace

MoveEnds find_ends(const VehicleRoads& roads, const PlanInputs& in) {
    MoveEnds ends;
    ends.nearest_from = require_near(roads, in.from, in.snap_limit, UnitWords(in.units));
    ends.nearest_to = require_near(roads, in.to, in.snap_limit, UnitWords(in.units));
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

const RoadPoint& joins_at_from(const MoveEnds& machine) {
    return machine.from ? *machine.from : machine.nearest_from;
}
const RoadPoint& joins_at_to(const MoveEnds& machine) {
    return machine.to ? *machine.to : machine.nearest_to;
}

HaulEnds find_haul_ends(const VehicleRoads& loaded, const MoveEnds& machine, const PlanInputs& in) {
    const auto reach = [&](const NamedPoint& end, const RoadPoint& road,
                           std::optional<std::uint32_t> part = std::nullopt) {
        const auto at = snap(loaded, end.point, loading_reach, part);
        return at ? at : snap(loaded, road.point, loading_reach, part);
    };
    const RoadPoint &road_from = joins_at_from(machine), &road_to = joins_at_to(machine);
    const HaulEnds nearest{reach(in.from, road_from), reach(in.to, road_to)};
    if (!nearest.from || !nearest.to || nearest.from->part == nearest.to->part)
        return nearest;
    for (const std::uint32_t part : {0u, nearest.from->part, nearest.to->part}) {
        HaulEnds joined{reach(in.from, road_from, part), reach(in.to, road_to, part)};
        if (joined.from && joined.to)
            return joined;
    }
    return nearest;
}

std::optional<Length> waits_off(const RoadPoint& low_bed, const NamedPoint& end) {
    const Length off = distance(low_bed.point, end.point);
    return off > loading_reach ? std::optional(off) : std::nullopt;
}

std::string island_text(const VehicleRoads& roads, const MoveEnds& ends, const PlanInputs& in) {
    const UnitWords words(in.units);
    return fmt::format("no road joins the two ends: {} lies on {} of connected road, {} on {}", in.from.name,
                       words.exact(roads.part_length(ends.nearest_from.part).metres()), in.to.name,
                       words.exact(roads.part_length(ends.nearest_to.part).metres()));
}

void flag_islands(const VehicleRoads& roads, const MoveEnds& ends, const PlanInputs& in,
                  const DrivenEnds& driven, Option& o) {
    const UnitWords words(in.units);
    const auto add = [&](const NamedPoint& end, const RoadPoint& nearest, const RoadPoint& used) {
        if (nearest.part == used.part)
            return;
        Flag f;
        f.kind = "island";
        f.severity = Severity::check;
        f.point = used.point;
        f.text = fmt::format(
            "the road nearest to {} ({}) is an island of {} that no open road reaches; the "
            "plan uses the road {} away",
            end.name, words.short_length(nearest.off_road.metres()),
            words.exact(roads.part_length(nearest.part).metres()),
            words.short_length(used.off_road.metres()));
        o.flags.push_back(std::move(f));
    };
    if (ends.from && driven.from)
        add(in.from, ends.nearest_from, *ends.from);
    if (ends.to && driven.to)
        add(in.to, ends.nearest_to, *ends.to);
}

}  // namespace loamway
