// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_HEAT_H
#define LOAMWAY_PLAN_HEAT_H

// Bar and guide-lug temperature along a path.

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loamway/belt/guide_lug.h"
#include "loamway/belt/heat_model.h"
#include "loamway/plan/plan.h"
#include "path.h"

namespace loamway {

struct HeatRun {
    double bar_peak_c = 0;
    double guide_lug_peak_c = 0;
    double guide_lug_peak_at_m = 0;
    double aging_110c_min = 0;            // minutes at 110 C that age the bars as much
    double wear_mm = 0;                   // without turns
    std::array<double, 3> weighted_km{};  // by surface class, times the wear factor F
    double wear_paved_mm = 0;             // of the wear, on paved ground
    std::vector<HeatPoint> profile;
};

class Regimes;

/// The models for one plan. Not calibrated, the heat scale is known to a standard deviation of 0.4 in its
/// logarithm and the upper edge of the band has to stay below the limit; once calibrated, the estimate with a
/// margin for the reduced model has to. For one thread: what was set up for a run is kept for the next one.
class PlanHeat {
public:
    explicit PlanHeat(const Setting& setting);
    ~PlanHeat();
    PlanHeat(const PlanHeat&) = delete;
    PlanHeat& operator=(const PlanHeat&) = delete;

    /// `heat_scale` multiplies the heat made in the bars on top of what readings taught; 1 is the estimate.
    [[nodiscard]] HeatRun run(const Path& path, double heat_scale, AssumedAs how, bool with_profile) const;
    /// What has to stay at or below the limit.
    [[nodiscard]] double acted_on_c(const Path& path) const;
    /// The upper edge of the band.
    [[nodiscard]] double upper_edge_c(const Path& path) const;
    [[nodiscard]] OptionHeat describe(const Path& path) const;
    [[nodiscard]] const HeatLimits& limits() const { return m_limits; }

private:
    class Walk;
    [[nodiscard]] double lower_edge_c(const Path& path) const;
    [[nodiscard]] RoadSurface ground(ArcId a, AssumedAs how) const;
    [[nodiscard]] Regimes& regimes(double heat_scale) const;

    const Setting& m_setting;
    HeatLimits m_limits;
    HeatModel m_model;
    GuideLug m_lug;
    mutable std::map<double, std::unique_ptr<Regimes>> m_regimes;  // by heat scale: three of them, as a rule
};

/// What is acted on, in words: "upper edge of the estimate, not calibrated".
[[nodiscard]] std::string acted_on_is(bool calibrated, const UnitWords& words);

/// Longer than any move: on a wet road nobody lubricates.
constexpr Length no_relube_interval = Length::from_km(5000);
/// The interval between lubrications for this plan: practice, or less where the guide lugs ask for it in the
/// warmest air of the move. How long that takes is estimated: half as far again as the crow flies
/// (assumption).
[[nodiscard]] Length relube_interval(const PlanInputs& in, const WorkingState& state, const Weather& weather);

/// Surface temperature of the bars' tips at which driving on and on at that speed settles, in the air at
/// departure: what the searches take for wear.
[[nodiscard]] Temperature settled_tread(const PlanInputs& in, const WorkingState& state,
                                        const Weather& weather, SurfaceClass surface, Speed v);

}  // namespace loamway

#endif
