// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_MACHINE_H
#define LOAMWAY_PROFILE_MACHINE_H

// The machine that moves: engine, belts, speeds and working states; and the low-bed that can carry it.
// Readers are strict (unknown key: error with the nearest known one) and check every range.

#include <optional>
#include <string>
#include <vector>

#include "loamway/base/surface.h"
#include "loamway/base/units.h"
#include "loamway/tags/vehicle.h"
#include "loamway/text/value.h"

namespace loamway {

enum class Steering { differential, articulated, rear_wheel };
[[nodiscard]] std::string_view name_of(Steering s);  // "rear-wheel"

struct BeltGeometry {
    int count = 2;
    Length belt_length, width, bar_height, bar_thickness, worn_height, carcass, ground_run;
    double fill = 0.35;    // tip area over gross area of the tread
    int mid_rollers = 4;
    Length contact;        // engaged length under one wheel (models/belt.md l_c)
};

/// What hangs on the machine, or how full it is: each state has its own mass and size.
struct WorkingState {
    std::string name;
    Mass mass;
    std::vector<Mass> axles;   // per axle, front to rear; track axles and wheel axles
    std::vector<bool> tracked; // beside axles: true where the axle runs on belts (default all)
    Length width, height, length;
    Mass towed;
    Length towed_length;
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
    Speed top, hard, gravel, earth;   // chosen driving speeds by surface
    BeltGeometry belts;
    std::vector<WorkingState> states;  // at least one; the first is the default
    std::vector<std::string> phones;   // printed on the sheet as given

    [[nodiscard]] Speed speed_on(SurfaceClass c) const;
    /// Throws an input Error naming the known states.
    [[nodiscard]] const WorkingState& state(const std::string& name) const;
    [[nodiscard]] VehicleView vehicle(const WorkingState& s) const;
};
[[nodiscard]] Machine read_machine(const Value& document, const std::string& file);

/// Truck and low-bed as one combination: what it weighs and measures empty; what it may carry.
struct LowBed {
    std::string name = "assumed low-bed";
    Mass empty_mass = Mass::from_tonnes(18.5);
    Length length = Length::from_metres(16.5), width = Length::from_metres(2.55);
    Length height_empty = Length::from_metres(3.6);   // the truck's own cab
    Length deck_height = Length::from_metres(0.9);
    Mass max_load = Mass::from_tonnes(30);
    Mass axle_limit = Mass::from_tonnes(10);
    std::optional<std::string> base;   // place name or LAT,LON; empty running is routed from there
    Length empty_run = Length::from_km(20);  // to the pick-up and back from the drop, each, when no base is named
    Speed empty_speed = Speed::from_kmh(65), loaded_speed = Speed::from_kmh(55);
    bool assumed = true;
    [[nodiscard]] VehicleView vehicle_empty() const;
    /// Loaded: own and machine mass, larger width, machine height on the deck.
    [[nodiscard]] VehicleView vehicle_loaded(const WorkingState& s) const;
};
[[nodiscard]] LowBed read_low_bed(const Value& document, const std::string& file);

/// What is known of the belts on this machine now.
struct BeltsNow {
    enum class Condition { not_run_in, run_in, washed };
    Condition condition = Condition::run_in;
    bool condition_assumed = true;
    std::optional<double> hours;       // unknown: run-in belts are taken as past the first hundred hours
    Length since_lube;                 // driven since the last lubrication
    bool since_lube_assumed = true;
    bool preconditioned = false;
    std::optional<Length> bar_height;  // measured now
    /// Under 100 h, washed, not run in: lubricate before the start.
    [[nodiscard]] bool needs_start_lube() const;
};

enum class Ground { dry, dusty, moist, wet, frozen };
[[nodiscard]] std::string_view name_of(Ground g);
struct Conditions {
    Temperature air = Temperature::from_celsius(20);
    bool air_assumed = true;
    Ground ground = Ground::dry;
    bool ground_assumed = true;
    double sun = 0.5;   // 0 night or overcast .. 1 clear noon
    bool sun_assumed = true;
};

}  // namespace loamway

#endif
