// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_INPUTS_H
#define LOAMWAY_PLAN_INPUTS_H

// Everything a plan depends on. make_plan is a pure function of it: same inputs, same plan, on any machine
// and from any front end.

#include <cstdint>
#include <exception>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"
#include "loamway/belt/learnt_heat.h"
#include "loamway/belt/wear.h"
#include "loamway/graph/corrected_region.h"
#include "loamway/graph/kept_roads.h"
#include "loamway/haul/limits.h"
#include "loamway/plan/plan.h"
#include "loamway/profile/machine.h"
#include "loamway/profile/rates.h"
#include "loamway/profile/recipe.h"
#include "loamway/region/region.h"

namespace loamway {

struct NamedPoint {
    std::string name;
    GeoPoint point;
    std::string to_confirm = {};  // what about the point is a guess, and how to settle it; empty: nothing
};

/// Hours of the day to look at, minutes after midnight in the region's zone; an end before the beginning is
/// the next day's.
struct WhenWindow {
    int from_min = 0, to_min = 0;
};
/// How much of the departure was said: nothing (it is the time of asking), the day, or the hour too.
enum class DepartSaid { nothing, day, hour };

/// What has to get there besides the machine when that is hauled: an implement, a header, a second machine.
struct AlsoMoves {
    enum class How { same_deck, own_trip, stays };
    std::string name;
    How how = How::same_deck;
    Mass mass;                  // on the same deck
    Length length;              // on the same deck: what it takes of it
    Duration load_time;         // on the same deck: longer to load, and as much to unload
    std::optional<Money> cost;  // of its own trip; none: the low-bed comes a second time
};
[[nodiscard]] std::string_view name_of(AlsoMoves::How how);  // "same-deck", "own-trip", "stays"

/// Powder before leaving, beyond the rules that ask for it: where what is left of the interval is too short
/// to be driven otherwise; there, and where it costs less, because the machine has worked and there is time
/// for it; or in any case.
enum class PowderFirst { when_due, if_needed, if_cheaper, yes };

struct PlanInputs {
    const Region* region = nullptr;  // outlives the call
    /// Over that region, for `depart`; outlives the call; null: no corrections.
    const CorrectedRegion* corrections = nullptr;
    /// Roads read for earlier moves on that region, to which those of this one are added; without corrections
    /// only. Null: they are read for this move alone. The plan is the same.
    std::shared_ptr<KeptRoads> kept_roads;
    Recipe recipe;
    std::optional<LimitsTable> limits;  // published ones, from the region; none: only the recipe's widths
    NamedPoint from, to;
    Machine machine;
    std::string state;  // a working state's name; empty: the machine's first
    BeltsNow belts;
    PowderFirst powder_first = PowderFirst::when_due;
    KnownHeat heat;  // what infrared readings taught
    KnownWear wear;
    LowBed low_bed;
    std::optional<NamedPoint> low_bed_base;
    Rates rates;
    Conditions conditions;
    Instant depart;
    DepartSaid depart_said = DepartSaid::hour;
    std::optional<WhenWindow>
        when;                 // plans each whole hour of it too; without an hour said the best is taken
    double detour_cap = 0.6;  // a driven option may be this share longer than the shortest way
    bool drive = true, haul = true, mixed = false;  // modes asked for
    std::vector<NamedPoint> loading_places;         // points the user names as fit to load a low-bed
    std::optional<Instant> haul_from;               // when the low-bed can be there at all
    std::vector<AlsoMoves> also_moves;
    bool front = true;                     // the choices between length and paved length
    std::optional<int> front_point;        // a choice to plan in full, by its number from 1
    std::size_t front_labels = 4'000'000;  // the search for choices gives up beyond
    std::vector<NamedPoint> user_stops;    // points the user names as fit to stop
    int trials = 1000;                     // how often the options are priced with other inputs
    std::uint64_t seed = 1;                // of what is drawn for that
    bool return_trip = false;              // the machine comes home again: plan and price that too
    Length snap_limit = Length::from_km(1);
    std::string units = "metric";
    bool other_hours = true;  // where the bars stand no way of driving, look for an hour at which they do
    std::vector<MoveField> fields;  // what was given and what assumed, for the plan's "move"
    /// The same once the hour is settled, where the plan chooses it; empty: as above.
    std::function<std::vector<MoveField>(const PlanInputs&)> fields_at;

    /// Told between the steps of a plan what is done next and how much is done already, 0 to 1 and never
    /// falling; may be called from another thread, never by two at once. False ends the work: make_plan then
    /// throws Stopped. Empty: nobody asks.
    std::function<bool(std::string_view step, double share)> watch;

    /// The map to plan on.
    [[nodiscard]] const RegionView& view() const {
        return corrections != nullptr ? corrections->view() : region->view();
    }
};

/// Work that nobody waits for any longer was left undone.
class Stopped : public std::exception {
public:
    [[nodiscard]] const char* what() const noexcept override { return "stopped"; }
};

/// Plans one move. Throws Error for inputs that cannot be a question (no road near, from = to); a move
/// without any option that can be done comes back as a plan that says why.
[[nodiscard]] Plan make_plan(const PlanInputs& inputs);
/// Whether an option of that plan begins with powder that no rule asked for: powder_first found it better.
[[nodiscard]] bool powders_early(const PlanInputs& inputs, const Option& option);

}  // namespace loamway

#endif
