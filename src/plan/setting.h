// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_SETTING_H
#define LOAMWAY_PLAN_SETTING_H

// The inputs of a plan, resolved once: graph, what each vehicle may use, speeds, the hour, the sun.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loamway/base/unit_words.h"
#include "loamway/belt/wear.h"
#include "loamway/graph/road_graph.h"
#include "loamway/graph/vehicle_roads.h"
#include "loamway/plan/inputs.h"
#include "loamway/search/route.h"
#include "stretch.h"

namespace loamway {

/// How sure a surface must be taken: as likeliest, or with every assumed stretch as hard (upper edge of
/// bands), or as the softest it may be (lower edge).
enum class AssumedAs { likeliest, hard, soft };

class Turns;

class Setting {
public:
    explicit Setting(const PlanInputs& inputs);
    ~Setting();
    Setting(const Setting&) = delete;
    Setting& operator=(const Setting&) = delete;

    [[nodiscard]] const PlanInputs& in() const { return m_in; }
    [[nodiscard]] const RegionView& region() const { return graph().region(); }
    [[nodiscard]] const RoadGraph& graph() const { return m_roads->graph(); }
    [[nodiscard]] const ArcBearings& bearings() const { return m_roads->bearings(); }
    /// The roads as a vehicle may use them at departure.
    [[nodiscard]] std::shared_ptr<const VehicleRoads> roads_for(const VehicleView& vehicle) const {
        return m_roads->roads(vehicle, moment(m_in.depart));
    }
    [[nodiscard]] const WorkingState& state() const { return *m_state; }
    /// For sentences, in the units of the plan.
    [[nodiscard]] UnitWords words() const { return UnitWords(m_in.units); }
    [[nodiscard]] const TimeZone& zone() const { return m_zone; }
    [[nodiscard]] Moment moment(Instant at) const;
    /// Air and sun of the move; everything that asks for them asks here.
    [[nodiscard]] const Weather& weather() const { return m_weather; }
    [[nodiscard]] AirAndSun weather_at(Instant at) const { return m_weather.at(at); }
    [[nodiscard]] std::optional<Instant> sunset() const { return m_sunset; }
    [[nodiscard]] std::optional<Instant> sunrise() const { return m_sunrise; }

    /// Between lubrications: practice, or less where the guide lugs ask for it; one for the whole plan.
    [[nodiscard]] std::uint64_t interval_dm() const { return m_interval_dm; }
    [[nodiscard]] double load_ratio() const { return m_load_ratio; }
    [[nodiscard]] int escorts() const;
    /// Highest driving speed by surface once break-in rules are applied.
    [[nodiscard]] Speed cap_on(SurfaceClass c) const;
    /// As fast as surface, posted limit and break-in rules allow; hills may ask for less.
    [[nodiscard]] Speed machine_speed(const VehicleRoads& roads, ArcId a) const;
    /// A length on an arc, driven at most that fast, with its share of the arc's hills.
    [[nodiscard]] Stretch drive(ArcId a, Length length, Speed allowed) const;
    [[nodiscard]] Slope slope(ArcId a) const;
    [[nodiscard]] Speed truck_speed(const VehicleRoads& roads, ArcId a, Speed top) const;
    [[nodiscard]] SurfaceClass surface(ArcId a, AssumedAs how = AssumedAs::likeliest) const;
    /// From now on surface() takes assumed roads among these edges (ascending) as paved, or as gravel or
    /// earth, whichever is likelier there. What was worked out before is not touched. No edges: nothing is
    /// supposed.
    void suppose(std::vector<EdgeId> edges, bool hard);
    [[nodiscard]] bool known(ArcId a) const { return (graph().edge(a).flags & edge_flag::known) != 0; }
    [[nodiscard]] Money belt_set_value() const;
    [[nodiscard]] const Turns& turns() const { return *m_turns; }
    /// Everything that is paid by the hour while the machine drives, without fuel.
    [[nodiscard]] Money driving_cost_per_hour() const;
    [[nodiscard]] Money fuel_cost(Volume used) const;  // with the oil
    /// What a stretch costs while it is driven, as drive_cost adds it up: fuel, everything by the hour and
    /// the km, and the belts. Bars wear here as they do at the surface temperature that the stretch would
    /// settle at; the printed sums take the temperature along the way, which starts at the air's.
    [[nodiscard]] Money driving_cost(const Stretch& stretch) const;

    // Weights for the searches, one an arc.
    [[nodiscard]] std::vector<std::uint32_t> length_weights() const;
    [[nodiscard]] std::vector<std::uint32_t> hard_weights() const;  // decimetres x 200
    [[nodiscard]] std::vector<std::uint32_t> time_weights(const VehicleRoads& roads) const;  // ms
    [[nodiscard]] std::vector<std::uint32_t> cost_weights(const VehicleRoads& roads) const;  // 1e-4 units
    /// 1e-4 units; closed arcs weigh nothing.
    [[nodiscard]] std::vector<std::uint32_t> truck_weights(const VehicleRoads& roads, Speed top, Money per_h,
                                                           Money per_km) const;

    [[nodiscard]] GeoPoint point_on(ArcId a, std::uint32_t along_dm) const;
    [[nodiscard]] std::string road_name(ArcId a) const;

private:
    template <class Weigh>
    [[nodiscard]] std::vector<std::uint32_t> drive_weights(const VehicleRoads& roads,
                                                           const Weigh& weigh) const;
    PlanInputs m_in;
    std::shared_ptr<KeptRoads> m_roads;
    const WorkingState* m_state;
    TimeZone m_zone;
    Weather m_weather;
    RoadMotion m_motion;
    std::array<Temperature, 3> m_tread;  // by surface class: of the bars' tips, once settled
    double m_load_ratio = 1.0;
    std::uint64_t m_interval_dm = 0;
    std::optional<Instant> m_sunrise, m_sunset;
    std::unique_ptr<const Turns> m_turns;
    std::vector<EdgeId> m_supposed;
    bool m_supposed_hard = false;
};

}  // namespace loamway

#endif
