// SPDX-License-Identifier: Apache-2.0
#include "road_facts.h"

#include <charconv>
#include <cmath>
#include <numbers>

#include "loamway/tags/access.h"
#include "loamway/tags/limits.h"
#include "loamway/tags/structure.h"

namespace loamway {

namespace {

constexpr double wide_from_m = 7.0;  // assumption: two lanes and room to stand

bool is_fast(const TagView& tags) {
    const std::string_view highway = tags.get("highway").value_or("");
    return highway.starts_with("motorway") || highway.starts_with("trunk") || tags.is("motorroad", "yes");
}

bool has_shoulder(const TagView& tags) {
    for (const Tag& tag : tags.all())
        if ((tag.key == "shoulder" || tag.key == "shoulder:right" || tag.key == "shoulder:left" ||
             tag.key == "shoulder:both") &&
            (tag.value == "yes" || tag.value == "both" || tag.value == "left" || tag.value == "right"))
            return true;
    return false;
}

bool is_wide(const TagView& tags) {
    if (has_shoulder(tags))
        return true;
    const auto width = tags.get("width");
    return width && read_length(*width).value.value_or(0.0) >= wide_from_m;
}

bool has_cycle_lane(const TagView& tags) {
    for (const std::string_view key : {"cycleway", "cycleway:right", "cycleway:left", "cycleway:both"})
        for (const std::string_view value : {"lane", "shared_lane", "opposite_lane"})
            if (tags.is(key, value))
                return true;
    return false;
}

bool is_busy_service(const TagView& tags) {
    for (const std::string_view word : {"parking_aisle", "drive-through", "emergency_access", "alley"})
        if (tags.is("service", word))
            return true;
    return false;
}

RoadFacts facts_of(const TagView& tags) {
    RoadFacts f;
    f.track = tags.is("highway", "track");
    f.side_way = f.track || tags.is("highway", "service");
    f.fast = is_fast(tags);
    f.structure = is_bridge(tags) || is_tunnel(tags);
    f.roundabout = tags.is("junction", "roundabout") || tags.is("junction", "circular");
    f.wide = is_wide(tags);
    const auto incline = tags.get("incline");
    f.steep = incline && read_incline_pct(*incline).value_or(0.0) > steepest_pct;
    f.cycle_lane = has_cycle_lane(tags);
    f.driveway = tags.is("service", "driveway");
    f.busy = is_busy_service(tags);
    const AccessReading forward = read_access(tags, VehicleView(), Direction::forward, Moment());
    const AccessReading backward = read_access(tags, VehicleView(), Direction::backward, Moment());
    f.forward = forward.passage;
    f.backward = backward.passage;
    const auto asks = [](const AccessReading& r) { return r.passage == Passage::check || r.ends_only; };
    f.ask = f.driveway || asks(forward) || asks(backward);
    return f;
}

}  // namespace

std::optional<double> read_incline_pct(std::string_view raw) {
    if (raw.starts_with('+') || raw.starts_with('-'))
        raw.remove_prefix(1);
    double value = 0.0;
    const auto [end, problem] = std::from_chars(raw.data(), raw.data() + raw.size(), value);
    if (problem != std::errc() || !std::isfinite(value))
        return std::nullopt;
    std::string_view unit = raw.substr(static_cast<std::size_t>(end - raw.data()));
    while (unit.starts_with(' '))
        unit.remove_prefix(1);
    if (unit == "°")
        return value < 45.0 ? std::tan(value * std::numbers::pi / 180.0) * 100.0 : 100.0;
    return unit.empty() || unit == "%" ? std::optional(std::abs(value)) : std::nullopt;
}

RoadFactsTable::RoadFactsTable(const Assembly& a) : m_a(a), m_index(a.map.tags.size(), no_index) {}

RoadFacts RoadFactsTable::of_edge(std::size_t edge) {
    const std::uint32_t tags = m_a.map.roads[m_a.pieces[edge].way].tags;
    if (m_index[tags] == no_index) {
        m_index[tags] = static_cast<std::uint32_t>(m_facts.size());
        m_facts.push_back(facts_of(m_a.tags(tags)));
    }
    return m_facts[m_index[tags]];
}

}  // namespace loamway
