// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_MACHINE_H
#define LOAMWAY_PROFILE_MACHINE_H

// The machine that moves: engine, belts, speeds and working states; with what low_bed.h says of the low-bed
// that can carry it. Readers are strict (unknown key: error with the nearest known one) and check every
// range.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/surface.h"
#include "loamway/base/units.h"
#include "loamway/profile/heat_reading.h"
#include "loamway/profile/low_bed.h"
#include "loamway/profile/weather.h"
#include "loamway/tags/vehicle.h"
#include "loamway/text/value.h"

namespace loamway {

enum class Steering { differential, articulated, rear_wheel };
[[nodiscard]] std::string_view name_of(Steering s);  // "rear-wheel"

/// Heights and thicknesses of a new belt; `worn_height` is the bar height at which a belt is replaced.
struct BeltGeometry {
    int count = 2;
    Length belt_length, width, bar_height, bar_thickness, worn_height, carcass, ground_run;
    double fill = 0.35;  // tip area over gross area of the tread
    int mid_rollers = 4;
    Length contact;  // engaged length under one wheel
    Length gauge;    // middle of the left belt to middle of the right one
};

/// What hangs on the machine, or how full it is: each state has its own mass and size.
struct WorkingState {
    std::string name;
    Mass mass;
    std::vector<Mass> axles;    // per axle, front to rear; track axles and wheel axles
    std::vector<bool> tracked;  // beside axles: true where the axle runs on belts (default all)
    Length width, height, length;
    Mass towed;
    Length towed_length;
    // For decks and ramps.
    Length centre_height;                    // centre of mass over the ground
    Length centre_behind;                    // the same behind the front end of what stands on the ground
    Length front_overhang;                   // how far the machine reaches ahead of what stands on the ground
    Length front_clearance, rear_clearance;  // of the lowest parts of the overhangs over the ground
    [[nodiscard]] Length combination_length() const { return length + towed_length; }
    [[nodiscard]] Mass combination_mass() const { return mass + towed; }
    /// Load of the most loaded track axle; decides heat and wear.
    [[nodiscard]] Mass heaviest_track_axle() const;
};

struct Machine {
    std::string name;
    std::string file;  // where it was read from, for messages
    bool agricultural = true;
    Power engine;
    Steering steering = Steering::differential;
    Speed top, hard, gravel, earth;  // chosen driving speeds by surface
    BeltGeometry belts;
    Length wheelbase;                    // first to last axle; zero with one axle
    Length ground_clearance;             // of the lowest part between the axles
    std::vector<WorkingState> states;    // at least one; the first is the default
    std::vector<std::string> phones;     // printed on the sheet as given
    std::vector<NotedReading> readings;  // infrared, of the belts that are on it now
    /// Keys left out of the document, dotted ("belts.fill"), where defaults stand.
    std::vector<std::string> assumed;
    std::vector<std::string> assumed_for_loading;  // the same for what only decks and ramps ask for

    [[nodiscard]] Speed speed_on(SurfaceClass c) const;
    /// The empty name is the first state. Throws an input Error naming the known states.
    [[nodiscard]] const WorkingState& state(const std::string& wanted) const;
    /// Length of what stands on the ground, first to last touch. Wheels touch in a point.
    [[nodiscard]] Length standing_length(const WorkingState& s) const;
    /// The combination as road rules see it: machine and what it tows, with the heaviest track axle.
    [[nodiscard]] VehicleView vehicle(const WorkingState& s) const;
};

/// Reads a machine document. Needed: `[belts] count, length_mm, width_mm` and at least one `[[state]]` with
/// `mass_kg, width_m, height_m, length_m` (`name` from the second one on). Defaults, all assumptions:
///   name = the file's name, agricultural = true, steering = "differential", engine_kw = 15 per tonne of the
///   first state, phones = []
///   [speed_kmh] top = 40, hard = top, gravel = 30, earth = 15 (none above top)
///   [belts] bar_mm = 55, bar_thickness_mm = bar_mm, worn_mm = 0.27 bar_mm, carcass_mm = 30, fill = 0.35,
///           ground_run_mm = 0.28 length_mm, mid_rollers = 4, contact_mm = 150,
///           gauge_mm = the width of the first state less a belt's width
///   [loading] ground_clearance_m = 0.35, wheelbase_m = 0.5 of the first state's length (several axles only)
///   [[state]] name = "bare", axle_kg = the mass shared by the track axles (one for two belts), tracked = all
///             true, towed_kg = 0 and towed_length_m = 0 (both or none),
///             centre_height_m = 0.4 height_m, centre_behind_m = the middle of one axle's belts, or from
///             the axle loads, front_overhang_m = half of what is longer than what stands on the ground,
///             front_clearance_m = rear_clearance_m = ground_clearance_m
/// Any number of [[reading]], see heat_reading.h.
/// `axle_kg` adds up to the machine's own mass within 5 %; as many axles are tracked as there are pairs of
/// belts.
[[nodiscard]] Machine read_machine(const Value& document, const std::string& file);

/// What is known of the belts on this machine now.
struct BeltsNow {
    enum class Condition { not_run_in, run_in, washed };
    Condition condition = Condition::run_in;
    bool condition_assumed = true;
    std::optional<double> hours;  // unknown: run-in belts are taken as past the first hundred hours
    Length since_lube;            // driven since the last lubrication
    bool since_lube_assumed = true;
    bool preconditioned = false;
    /// For limits and friction: none where nothing was said, but belts not run in have not worked yet.
    [[nodiscard]] std::optional<double> worked_hours() const {
        return condition == Condition::not_run_in && !hours ? std::optional(0.0) : hours;
    }
    std::optional<Length> bar_height;  // measured now
    /// Under 100 h, washed, not run in: lubricate before the start. (Frozen ground asks for it too, but
    /// that is a matter of the conditions.)
    [[nodiscard]] bool needs_start_lube() const;
};

[[nodiscard]] std::string_view name_of(BeltsNow::Condition c);  // "new", "run-in", "washed"

}  // namespace loamway

#endif
