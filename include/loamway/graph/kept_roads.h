// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_KEPT_ROADS_H
#define LOAMWAY_GRAPH_KEPT_ROADS_H

// Roads as vehicles may use them, kept from one move to the next where many are planned on one map. Most
// moves share their vehicles, and the hour changes little: roads are read again only where a condition
// written on one of them turns out otherwise. Thread-safe.

#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "loamway/graph/arc_bearings.h"
#include "loamway/graph/road_graph.h"
#include "loamway/graph/vehicle_roads.h"

namespace loamway {

class KeptRoads {
public:
    /// Keeps views into the region, which must outlive it.
    explicit KeptRoads(const RegionView& region);
    KeptRoads(const KeptRoads&) = delete;
    KeptRoads& operator=(const KeptRoads&) = delete;

    [[nodiscard]] const RoadGraph& graph() const { return m_graph; }
    [[nodiscard]] const ArcBearings& bearings() const { return m_bearings; }
    /// The same as VehicleRoads(graph(), vehicle, moment); must not outlive this object.
    [[nodiscard]] std::shared_ptr<const VehicleRoads> roads(const VehicleView& vehicle, const Moment& moment);
    /// How often roads had to be read, for tests.
    [[nodiscard]] std::size_t readings() const;

private:
    struct Entry {
        std::string key;
        std::shared_ptr<const VehicleRoads> roads;
    };
    [[nodiscard]] std::string key_of(const VehicleView& vehicle, const Moment& moment) const;
    [[nodiscard]] std::shared_ptr<const VehicleRoads> find(const std::string& key);

    RoadGraph m_graph;
    ArcBearings m_bearings;
    std::vector<TagSetId> m_conditional;  // of roads and turn restrictions
    std::size_t m_most;
    mutable std::mutex m_mutex;
    std::list<Entry> m_entries;  // the one asked for last first
    std::size_t m_readings = 0;
};

}  // namespace loamway

#endif
