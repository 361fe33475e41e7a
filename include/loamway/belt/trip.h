// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_TRIP_H
#define LOAMWAY_BELT_TRIP_H

// Heat, wear, power and fuel along a given trip, with the full heat solver. The trip starts with everything
// at the first segment's air temperature. Speeds the machine cannot reach are lowered and said to be. Sharp
// turns and braking are not in a trip and not in its wear or heat. A pure function of its inputs. Everything
// here is an estimate, not calibrated unless options say so, and no evidence of a belt's condition.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/belt/guide_lug.h"
#include "loamway/belt/heat_model.h"
#include "loamway/belt/motion.h"
#include "loamway/belt/road_surface.h"
#include "loamway/belt/wear.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct TripSegment {
    Length length;
    RoadSurface surface = RoadSurface::asphalt;
    Speed speed;
    double grade_pct = 0.0;          // rise per hundred of run, negative downhill
    std::optional<Temperature> air;  // that of the conditions when absent
    std::optional<double> sun;       // likewise
    Duration stop;                   // at the segment's end, engine off
};

struct TripOptions {
    BeltsNow belts;
    HeatParameters heat;
    /// Standard deviation of ln(heat.scales.heat): 0.4 until a reading has calibrated it.
    double heat_sd = 0.4;
    bool calibrated = false;
    /// Of the core, from the joint analysis: the band of a calibrated result. Zero: from heat_sd.
    double core_sd_k = 0.0;
    MotionParameters motion;
    GuideLugParameters guide_lug;
    WearRates wear;
};

enum class SpeedCap { none, top_speed, power };
[[nodiscard]] std::string_view name_of(SpeedCap c);  // "top speed", "power"

struct SegmentRecord {
    TripSegment segment;
    Length end;  // from the trip's start
    Speed driven;
    SpeedCap cap = SpeedCap::none;
    Duration driving;
    Temperature bar_core, bar_mean, bar_flank, bar_tip;  // at the end of driving
    Temperature bar_after_stop;                          // core; as bar_core without a stop
    Temperature bar_peak;                                // core, within the segment
    Temperature guide_lug, guide_lug_after_stop;
    double wear_mm = 0.0;
    Volume fuel, fuel_upper;
    double aging_min = 0.0;     // minutes at 110 C that would age the rubber as much
    double energy_share = 0.0;  // of the motion resistance's power that heats the bars
};

struct TripResult {
    std::vector<SegmentRecord> segments;
    Length length;
    Duration driving, stopped;
    Temperature bar_end, bar_peak, bar_mean_end, bar_flank_end, bar_tip_end;  // after the last stop
    /// Peak with a heat scale one standard deviation lower and higher.
    Temperature bar_peak_low, bar_peak_high;
    Length bar_peak_at;
    Temperature guide_lug_end, guide_lug_peak;
    double wear_mm = 0.0;
    Volume fuel, fuel_upper;
    double aging_min = 0.0;
    HeatLimits limits;  // those that hold for these belts
    Temperature guide_lug_caution;
    bool calibrated = false;
    std::optional<Duration> to_caution, to_limit;  // from the start, stops included; bar core
    /// What a person must be told about this trip beyond the standing cautions.
    std::vector<std::string> notes;
};

/// Input Error for an empty trip, a machine too weak to move on one of its grades or a duration over 30 days.
[[nodiscard]] TripResult run_trip(const Machine& machine, const WorkingState& state,
                                  const Conditions& conditions, const std::vector<TripSegment>& segments,
                                  const TripOptions& options = {});

/// Reads a trip as comma-separated text. The first line names the columns: length_km, surface and speed_kmh,
/// and any of grade_pct, air_c, sun and stop_min, in any order. Fields are not quoted; an optional field may
/// be left empty; empty lines are skipped. Every fault is an input Error with file and line.
[[nodiscard]] std::vector<TripSegment> parse_trip_csv(std::string_view text, const std::string& file);

}  // namespace loamway

#endif
