// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_PLAN_H
#define LOAMWAY_PLAN_PLAN_H

// The answer to one move, as reports and files use it. The structure follows the plan JSON
// ("loamway.plan/1", src/plan/METHODS.md) field by field; what is not computed is empty here and null
// there, never zero. Lengths in driven metres unless they say otherwise; at_m runs along the whole option.

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/surface.h"
#include "loamway/base/time.h"
#include "loamway/plan/plan_uncertainty.h"
#include "loamway/text/value.h"

namespace loamway {

/// One line of "what was understood": a field of the move and whether it was given or assumed.
struct MoveField {
    std::string key;    // "air_c"
    std::string value;  // as printed: "20 °C"
    bool assumed = false;
};

struct MoveUnderstood {
    std::string from_name, to_name;  // name or "LAT,LON"
    GeoPoint from, to;               // as asked
    GeoPoint from_on_road, to_on_road;
    double from_off_road_m = 0, to_off_road_m = 0;
    std::string machine, state, belts;
    std::vector<MoveField> fields;
    std::vector<std::string> phones;
};

struct RegionStamp {
    std::string name, digest, map_date, time_zone, attribution;
    bool time_zone_assumed = false;
    std::string elevation;  // where heights come from; empty: the region has none, flat is assumed
};

enum class Mode { drive, haul, mixed, none };
[[nodiscard]] std::string_view name_of(Mode m);

struct Verdict {
    std::string option;  // id of an option; empty: none can be done
    Mode mode = Mode::none;
    std::string sentence;
    std::vector<std::string> reasons;
    std::optional<double> probability_cheapest;
    std::optional<bool> too_close;
    std::vector<std::string> would_flip;
};

struct OptionCost {
    std::optional<double> total, labour, fuel, belts, machine, lubricant, escort, truck, permit, other, low,
        high;
    std::string basis, currency;
    std::string low_high_basis = {};               // what low and high stand for
    std::optional<double> mean = {};               // over the trials: what the verdict goes by
    std::optional<double> other_basis_total = {};  // on the basis that is not `basis`
};

struct OptionWear {
    std::optional<double> share, mm, field_hours_equivalent, low, high;
    bool calibrated = false;
    std::string basis = {};  // what low and high stand for
    /// Kilometres by surface class weighted by speed, load and temperature (factor F of belt/wear.h).
    std::array<std::optional<double>, 3> weighted_km = {};
};

struct HeatPoint {
    double at_m = 0, bar_c = 0, guide_lug_c = 0;
};
struct OptionHeat {
    bool calibrated = false;
    std::optional<double> bar_peak_c, bar_low_c, bar_high_c, guide_lug_peak_c, limit_c, caution_c;
    std::vector<HeatPoint> profile;
    std::optional<double> acted_on_c = {};  // what has to stay at or below the limit
    std::optional<double> margin_c = {};    // the limit less that
    std::optional<double> guide_lug_peak_at_m = {}, guide_lug_caution_c = {};
    std::optional<double> aging_110c_min = {};  // minutes at 110 C that age the bars as much as the move
    std::string basis = {};                     // what low and high stand for
};

struct PlanStop {
    std::string kind;  // start, relube, check, cooling, handover, turn
    double at_m = 0;
    double since_relube_m = 0;  // on arrival
    GeoPoint point;
    std::string place;        // name or kind of place: "lay-by", "mouth of a farm track"
    std::string how_to_find;  // "left, 40 m up the track, 1.2 km after the level crossing"
    std::string side;         // left, right, ahead
    std::string why;
    std::vector<std::string> to_do;
    double wait_s = 0;
    std::optional<Instant> arrive, leave;
    std::vector<std::string> cautions;
    std::string handover = {};  // of such a stop: "load" or "unload"
};

struct SurfaceRun {
    double from_m = 0, to_m = 0;
    SurfaceClass surface = SurfaceClass::hard;
    bool known = false;
};
struct Instruction {
    double at_m = 0;
    std::string text;
    std::string road;     // name; may be empty
    double turn_deg = 0;  // positive to the right
};
struct Leg {
    Mode mode = Mode::drive;
    std::string from, to;
    double length_m = 0, duration_s = 0;
    std::vector<SurfaceRun> surface_runs;
    std::vector<Instruction> directions;
};

enum class Severity { note, check, stop };
[[nodiscard]] std::string_view name_of(Severity s);
struct Flag {
    std::string kind;  // bridge, limit, access, barrier, level_crossing, ford, surface, assumed, island ...
    Severity severity = Severity::note;
    std::optional<double> at_m;
    std::optional<GeoPoint> point;
    std::string text;
    std::optional<std::int64_t> osm_way;
    std::optional<double> last_turn_round_m;
    std::vector<double> again_at_m = {};  // the same once more; the text ends with again_words()
};

/// Up and down along an option; reversals under 1 m do not count.
struct OptionClimb {
    std::optional<double> ascent_m, descent_m;
    std::optional<double> steepest_pct, steepest_at_m;  // over 100 m; negative downhill
    std::optional<double> flat_assumed_m;               // driven where heights are not known
};

struct OptionFigures;  // costs

struct Option {
    std::string id;                 // least-hard, least-cost, least-time, haul, mixed, front-K
    std::vector<std::string> also;  // ids of options that turned out the same
    Mode mode = Mode::drive;
    bool feasible = false;
    std::vector<std::string> why_not, answer_needed;
    bool exact = true;
    std::optional<double> gap_m;
    std::optional<double> length_m, hard_m, gravel_m, earth_m, assumed_m, hard_low_m, hard_high_m, hauled_m,
        ferry_m;
    std::optional<Instant> depart, arrive;
    std::optional<double> duration_s, driving_s, stopped_s, fuel_l, fuel_high_l;
    std::optional<int> sharp_turns_hard;
    std::array<std::optional<double>, 3> speed_caps_kmh;  // by surface class
    OptionCost cost;
    OptionWear wear;
    std::optional<OptionHeat> heat;
    std::optional<double> relube_interval_m;
    std::vector<PlanStop> stops;
    std::vector<Leg> legs;
    std::vector<Flag> flags;
    std::optional<std::vector<std::array<double, 2>>> elevation;  // at_m, metres
    std::optional<OptionClimb> climb;
    std::vector<std::string> corrections;
    std::vector<GeoPoint> geometry;     // the whole option, spurs to stops included
    std::vector<double> geometry_at_m;  // beside geometry: driven or hauled metres so far
    /// Where the pace changes: metres along the option, seconds after departure; twice the same metres where
    /// it stands or turns. Even pace between two. Empty in plans of older programs.
    std::vector<std::array<double, 2>> clock = {};
    std::shared_ptr<const OptionFigures> figures = {};  // what it was priced by; not in the JSON
};

/// One choice between length and paved length. Lengths are those of the road alone, without ways into stop
/// places.
struct FrontPoint {
    int k = 0;  // from 1: the least paved, up to the shortest
    double hard_m = 0, length_m = 0;
    std::optional<double> cost;  // with its stops and in the manner the bars allow; empty: cannot be driven
    std::optional<bool> stops_ok;
    std::optional<int> stops;  // on the way
    std::optional<double> duration_s, bar_high_c;
    std::string option;  // the option along this way; may be empty
    std::vector<std::string> why_not;
};

/// The move at another hour, worked out without the choices of the front.
struct Departure {
    Instant depart;
    std::string option;  // what would be advised; empty: nothing can be done
    bool can_be_done = false;
    std::optional<double> cost, bar_peak_c, bar_high_c;
    std::array<std::optional<double>, 3> speed_caps_kmh;  // by surface class
    std::optional<int> stops;                             // on the way
    std::optional<Instant> arrive;
    std::optional<bool> in_daylight;  // from leaving to arriving
    bool within_permitted_hours = true;
    bool taken = false;  // the hour of the plan
    std::vector<std::string> why_not;
};

/// The way home, planned by itself from the other end at the same hour of departure.
struct ReturnTrip {
    std::string option;  // advised; empty: nothing can be done
    Mode mode = Mode::none;
    std::string sentence;
    std::optional<double> cost, length_m, hauled_m, duration_s;
    std::optional<double> both_ways;  // cost there and back, as advised
};

struct Plan {
    std::string loamway_version;
    RegionStamp region;
    MoveUnderstood move;
    Verdict verdict;
    std::vector<Option> options;
    std::optional<std::vector<FrontPoint>> front;  // at most a dozen, both ends among them
    std::optional<bool> front_exact;               // false: the search ran out of room, and front is empty
    std::optional<std::vector<Departure>> departures;  // when other hours were asked for
    Value heat_search;                                 // null until computed
    std::optional<PlanBreakEven> break_even;           // where both driving and hauling can be done
    std::optional<PlanUncertainty> uncertainty;        // where something can be done
    std::optional<ReturnTrip> return_trip;             // when asked for
    std::vector<std::string> cautions;
    std::string units = "metric";

    [[nodiscard]] const Option* find_option(std::string_view id) const;
    /// The option a sheet or track is made of: `id`, or with an empty id the verdict's option, else the first
    /// drive option that has a geometry. Throws not_found naming the ids there are.
    [[nodiscard]] const Option& option_for_output(std::string_view id) const;
};

/// Plan JSON, schema loamway.plan/1, both ways. Reading is strict about the schema number and types, and
/// lets additional keys pass. `file` is for messages.
[[nodiscard]] Value plan_to_json(const Plan& plan);
[[nodiscard]] Plan plan_from_json(const Value& document, const std::string& file);

}  // namespace loamway

#endif
