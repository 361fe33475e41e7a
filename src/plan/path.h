// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_PATH_H
#define LOAMWAY_PLAN_PATH_H

// The whole way an option drives: its route with the detours into side ways where it stops, each piece with
// its place along the option and its time.

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/search/route.h"
#include "setting.h"
#include "turns.h"

namespace loamway {

/// A stop chosen on a route. For a side way the machine drives in along `spur` and comes out the same way.
struct ChosenStop {
    std::string kind;            // start, relube, check, cooling; handover: all the time on the low-bed
    std::uint64_t route_dm = 0;  // along the route without spurs
    std::optional<RoutePiece> spur;
    const StopPlaceRecord* place = nullptr;  // null: the start, or a point the user named
    std::uint32_t offer = 0;                 // its number among the offers of StopPlaces
    bool turns = false;                      // the machine leaves the way it came
    std::size_t piece = 0;  // of the route: the one it stands beside; for a side way, the one driven after it
    std::string name;
    GeoPoint point;
    std::string side;
    std::string why;
    Duration wait;
    std::vector<std::string> cautions;
};

struct PathPiece {
    RoutePiece piece;
    std::uint64_t at_dm = 0;     // along the whole option, where the piece begins
    std::uint64_t route_dm = 0;  // along the route without spurs
    bool spur = false;
    Duration begins;  // after departure, the turn onto it done
    Duration takes;
    Volume fuel, fuel_upper;  // without the turn onto it
    TurnEffect turn;          // onto it; the time lost counts as driving, before it begins
};

struct PathStop {
    std::size_t stop = 0;  // index among the stops laid
    Duration wait;
    bool lubricates = true;  // only start and relube do
    std::uint64_t at_dm = 0;
    std::uint64_t since_relube_dm = 0;
    Duration arrives, leaves;  // after departure
    std::size_t pieces = 0;    // driven up to it, spurs included
};

struct Path {
    std::vector<PathPiece> pieces;
    std::vector<PathStop> stops;
    std::uint64_t length_dm = 0;
    Duration driving, stopped, total;
    Volume fuel, fuel_upper;  // while driving; at turns the engine idles (assumption)
};

/// Into and out of a side way: walking pace.
[[nodiscard]] Speed spur_speed(const Setting& setting, const VehicleRoads& roads, ArcId spur);

/// How fast an arc may be driven; on a climb the engine may do less.
using SpeedOn = std::function<Speed(ArcId)>;

/// Lays stops (by route_dm, ascending) into the route. `slow_start`: the first minutes of driving are kept
/// slow, as the rates say.
[[nodiscard]] Path lay_path(const Setting& setting, const Route& route, std::span<const ChosenStop> stops,
                            const SpeedOn& speed, bool slow_start);

/// The path's line and, beside each point, metres driven so far.
void path_geometry(const Setting& setting, const Path& path, std::vector<GeoPoint>& points,
                   std::vector<double>& at_m);

/// Where its pace changes: metres along the option, seconds after departure.
[[nodiscard]] std::vector<std::array<double, 2>> path_clock(const Path& path);

/// The path's surface in runs of one class and confidence.
[[nodiscard]] std::vector<SurfaceRun> surface_runs(const Setting& setting, const Path& path);

}  // namespace loamway

#endif
