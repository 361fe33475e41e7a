// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/kept_roads.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "loamway/tags/conditions.h"

namespace loamway {

namespace {

// A handful of machines and low-beds, loaded and empty; on the map of a country less, for the memory.
std::size_t most_kept(const RegionView& region) {
    constexpr std::size_t most = 32, least = 4, arcs_together = 32'000'000;
    return std::clamp(arcs_together / std::max<std::size_t>(region.arcs.size(), 1), least, most);
}

}  // namespace

KeptRoads::KeptRoads(const RegionView& region)
    : m_graph(region), m_bearings(m_graph), m_most(most_kept(region)) {
    for (std::size_t s = 0; s < region.tag_set_count(); ++s)
        if (has_conditions(m_graph.tags(TagSetId{s})))
            m_conditional.push_back(TagSetId{s});
}

std::string KeptRoads::key_of(const VehicleView& v, const Moment& moment) const {
    std::string key =
        fmt::format("{} {} {} {} {} {} {} {} {} {} ", static_cast<int>(v.kind), v.agricultural,
                    v.width.metres(), v.height.metres(), v.length.metres(), v.mass.kg(), v.axle.kg(),
                    v.top_speed.mps(), v.height_margin.metres(), v.width_margin.metres());
    for (const TagSetId set : m_conditional)
        add_conditions(key, m_graph.tags(set), v, moment);
    return key;
}

std::shared_ptr<const VehicleRoads> KeptRoads::find(const std::string& key) {
    const auto found =
        std::find_if(m_entries.begin(), m_entries.end(), [&](const Entry& e) { return e.key == key; });
    if (found == m_entries.end())
        return nullptr;
    m_entries.splice(m_entries.begin(), m_entries, found);
    return found->roads;
}

// Two threads may read the same roads at once: the first to end is kept.
std::shared_ptr<const VehicleRoads> KeptRoads::roads(const VehicleView& vehicle, const Moment& moment) {
    std::string key = key_of(vehicle, moment);
    {
        const std::lock_guard lock(m_mutex);
        if (auto known = find(key))
            return known;
    }
    auto made = std::make_shared<const VehicleRoads>(m_graph, vehicle, moment);
    const std::lock_guard lock(m_mutex);
    ++m_readings;
    if (auto known = find(key))
        return known;
    m_entries.push_front({std::move(key), made});
    if (m_entries.size() > m_most)
        m_entries.pop_back();
    return made;
}

std::size_t KeptRoads::readings() const {
    const std::lock_guard lock(m_mutex);
    return m_readings;
}

}  // namespace loamway
