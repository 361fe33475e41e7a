// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_HAULING_H
#define LOAMWAY_PLAN_HAULING_H

// The low-bed of a plan: where it may go loaded and empty, which way it takes, what it costs, and what else
// it has to move. Whatever is hauled, from door to door or between loading places, is worked out here.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haul_rules.h"
#include "loamway/costs/option_figures.h"
#include "path.h"

namespace loamway {

/// What the low-bed pays by the hour and by the km on one run; an hour counts at least a thousandth of a
/// unit, so that time can be told from the price.
struct RunPrices {
    Money per_h, per_km;
};

struct HauledWay {
    Path path;  // of the loaded low-bed
    HaulFigures figures;
    CostParts cost;
};

class Hauling {
public:
    /// Keeps a reference to the setting. `waited`: how long the move has been put off until the low-bed can
    /// come; delay is paid for it.
    explicit Hauling(const Setting& setting, Duration waited = {});

    [[nodiscard]] const LoadingPlan& loading() const { return m_loading; }
    [[nodiscard]] Duration waited() const { return m_waited; }
    [[nodiscard]] const VehicleRoads& loaded() const { return m_loaded; }
    [[nodiscard]] const VehicleRoads& empty() const { return m_empty; }
    /// Loading times with what else goes on the deck.
    [[nodiscard]] const Rates& rates() const { return m_rates; }
    /// What stands against hauling at all, whatever the way: the machine on this low-bed, what else moves.
    [[nodiscard]] std::vector<std::string> why_not() const;

    [[nodiscard]] RunPrices loaded_prices() const;
    [[nodiscard]] RunPrices empty_prices() const;
    /// One weight an arc, 1e-4 units.
    [[nodiscard]] const std::vector<std::uint32_t>& loaded_weights() const { return m_loaded_weights; }
    [[nodiscard]] const std::vector<std::uint32_t>& empty_weights() const { return m_empty_weights; }

    /// The low-bed's base on the roads; nothing when none is named, or it stands away from every road.
    [[nodiscard]] const std::optional<RoadPoint>& base() const { return m_base; }
    /// Loaded from one point to the other, empty to the first and from the second; nothing when there is no
    /// way, and then `why` says which.
    [[nodiscard]] std::optional<HauledWay> way(const RoadPoint& from, const RoadPoint& to, std::string& why);
    /// Of these runs, with what else moves.
    [[nodiscard]] CostParts cost(const HaulFigures& f) const;
    [[nodiscard]] HauledFigures figures_of(const HaulFigures& f) const;
    /// The same without minimum and billing steps: never more, and linear in the runs.
    [[nodiscard]] Money plain_cost(const HaulFigures& f) const;
    /// The low-bed's runs when no base is named.
    [[nodiscard]] HaulFigures assumed_runs() const;

    /// Of a hauled way that begins at path.pieces.front().at_dm: loading, roads with the last place to turn
    /// off, empty runs, what else moves.
    [[nodiscard]] std::vector<Flag> flags(const HauledWay& w) const;

private:
    struct Run {
        Length length;
        Duration time;
    };
    [[nodiscard]] Path lay(const VehicleRoads& roads, const Route& route, Speed top) const;
    [[nodiscard]] std::optional<Run> empty_run(const RoadPoint& from, const RoadPoint& to);
    [[nodiscard]] std::string deck_trouble() const;
    [[nodiscard]] int wide_escorts() const;
    [[nodiscard]] bool load_is_unlike_the_limits() const;
    [[nodiscard]] bool asks_for_permit() const;
    [[nodiscard]] std::string permit_text() const;
    [[nodiscard]] double trips() const;

    const Setting& m_setting;
    Duration m_waited;
    Rates m_rates;
    LoadingPlan m_loading;
    std::shared_ptr<const VehicleRoads> m_kept_loaded, m_kept_empty;
    const VehicleRoads &m_loaded, &m_empty;
    RouteFinder m_loaded_ways, m_empty_ways;
    std::vector<std::uint32_t> m_loaded_weights, m_empty_weights;
    std::vector<std::uint32_t> m_loaded_times, m_empty_times;  // of runs too cheap to be weighed by price
    std::optional<RoadPoint> m_base;
};

}  // namespace loamway

#endif
