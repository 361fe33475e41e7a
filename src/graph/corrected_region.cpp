// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/corrected_region.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "edge_grid.h"
#include "loamway/tags/surface.h"
#include "region_overlay.h"
#include "stop_reach.h"

namespace loamway {

namespace {

using Tags = RegionOverlay::Tags;

// A place that somebody who was there vouches for (assumption; the builder gives a rest area 5).
constexpr std::int32_t named_stop_score = 6;
constexpr std::uint32_t named_stop_dm = 500;
// A place nearer than this to the middle of the road has no side.
const Length on_the_road = Length::from_metres(2);

/// "maxheight:forward" -> "maxheight".
std::string_view stem(std::string_view key) {
    return key.substr(0, key.find(':'));
}

/// Takes every form of these keys away: plain, by direction, with conditions.
void drop(Tags& tags, std::initializer_list<std::string_view> keys) {
    std::erase_if(tags, [&](const auto& tag) {
        return std::find(keys.begin(), keys.end(), stem(tag.first)) != keys.end();
    });
}

void drop_access(Tags& tags) {
    drop(tags, {"access", "vehicle", "motor_vehicle", "agricultural", "hgv", "goods"});
}

/// To centimetres or ten kilograms: what was stated in feet must not grow.
double rounded_down(double figure) {
    return std::floor(figure * 100 + 1e-6) / 100;
}

/// What a road's tags become under a correction.
void change_tags(const Correction& c, Tags& tags) {
    switch (c.kind) {
        case CorrectionKind::surface:
            drop(tags, {"surface", "tracktype", "smoothness"});
            tags.emplace_back("surface", c.value);
            break;
        case CorrectionKind::closed:
            drop_access(tags);
            tags.emplace_back("access", "no");
            break;
        case CorrectionKind::limit: {
            const StatedLimit limit = stated_limit(c);
            drop(tags, {limit.key});
            if (limit.figure)
                tags.emplace_back(limit.key, fmt::format("{:.2f}", rounded_down(*limit.figure)));
            break;
        }
        case CorrectionKind::gate:
            drop(tags, {"barrier", "locked"});
            if (c.value == "open")
                break;
            tags.emplace_back("barrier", "gate");
            tags.emplace_back("locked", "yes");
            break;
        default:
            break;
    }
}

/// At a gate the access tags are the gate's own.
void change_gate(const Correction& c, Tags& tags) {
    drop_access(tags);
    change_tags(c, tags);
}

SurfaceOdds known_odds(SurfaceClass surface) {
    SurfaceOdds odds;
    (surface == SurfaceClass::hard     ? odds.hard
     : surface == SurfaceClass::gravel ? odds.gravel
                                       : odds.earth) = static_cast<std::uint8_t>(probability_steps);
    return odds;
}

std::string reason_of(const Correction& c) {
    std::string text = fmt::format("correction {}: {}", c.id, words_for(c));
    if (!c.by.empty())
        text += fmt::format(", by {}", c.by);
    return c.noted.empty() ? text : text + fmt::format(", noted {}", c.noted);
}

/// The side of the road as the edge runs.
std::uint32_t side_flags(const std::vector<GeoPoint>& line, const Projection& at, GeoPoint p) {
    if (line.size() < 2 || at.distance < on_the_road)
        return stop_flag::right_forward | stop_flag::left_forward;
    const std::size_t i = std::min(at.segment, line.size() - 2);
    const double turn = turn_deg(bearing_deg(line[i], line[i + 1]), bearing_deg(at.point, p));
    return turn > 0 ? stop_flag::right_forward : stop_flag::left_forward;
}

}  // namespace

struct CorrectedRegion::Overlay {
    explicit Overlay(const RegionView& base) : arrays(base) {}

    void change_edge(const Correction& c, EdgeId e) {
        const std::uint32_t before = arrays.view().edges[e.index()].tag_set;
        const auto [set, added] = sets.try_emplace(std::pair{c.id, before});
        if (added) {
            Tags tags = arrays.tags(before);
            change_tags(c, tags);
            set->second = arrays.tag_set(std::move(tags));
        }
        EdgeRecord& edge = arrays.edge(e);
        edge.tag_set = set->second;
        if (c.kind != CorrectionKind::surface)
            return;
        edge.odds = known_odds(read_surface({{"surface", c.value}}, false).likeliest);
        edge.flags |= edge_flag::known;
        edge.reason = arrays.string(reason_of(c));
    }

    void change_node(const Correction& c, NodeId n) {
        Tags tags = arrays.tags(arrays.node_tag_set(n));
        change_gate(c, tags);
        arrays.set_node_tags(n, arrays.tag_set(std::move(tags)));
    }

    void add_stop(const Correction& c, std::size_t correction, const std::vector<EdgeId>& beside) {
        const GeoPoint p = c.line.front();
        const std::uint32_t name = arrays.string(c.value);
        const std::uint32_t reason = arrays.string(reason_of(c));
        for (const EdgeId e : beside) {
            const std::vector<GeoPoint> line = arrays.view().edge_points(e);
            const Projection at = project(p, line);
            arrays.stop_places().push_back(
                {p.lat_e7, p.lon_e7, e.value(), offset_on_edge(arrays.view(), e, at), StopPlaceKind::named,
                 side_flags(line, at, p), named_stop_dm, named_stop_score, name, reason, 0});
            stop_owners.resize(arrays.stop_places().size());
            stop_owners.back() = correction;
        }
    }

    void take_stops_away(const Correction& c) {
        const RegionView now = arrays.view();
        std::vector<StopPlaceRecord> kept;
        std::vector<std::optional<std::size_t>> owners;
        stop_owners.resize(now.stop_places.size());
        for (std::size_t i = 0; i < now.stop_places.size(); ++i)
            if (!takes_away(now, c, now.stop_places[i])) {
                kept.push_back(now.stop_places[i]);
                owners.push_back(stop_owners[i]);
            }
        arrays.stop_places() = std::move(kept);
        stop_owners = std::move(owners);
    }

    RegionOverlay arrays;
    std::map<std::pair<std::string, std::uint32_t>, std::uint32_t>
        sets;                                             // correction, tag set before -> after
    std::vector<std::optional<std::size_t>> stop_owners;  // beside the stop places
};

CorrectedRegion::CorrectedRegion(const Region& region, std::vector<Correction> corrections, Instant at)
    : m_corrections(std::move(corrections)), m_view(region.view()) {
    const TimeZone zone = region.meta().time_zone.empty() ? TimeZone() : TimeZone(region.meta().time_zone);
    m_in_force.resize(m_corrections.size());
    for (std::size_t i = 0; i < m_corrections.size(); ++i) {
        m_validity.push_back(validity_of(m_corrections[i], zone));
        m_matches.push_back(match_correction(m_view, m_corrections[i]));
        // A no_stop may speak of a place that another correction names.
        const bool has_effect = m_matches[i].state == CorrectionMatch::State::matched ||
                                m_corrections[i].kind == CorrectionKind::no_stop;
        m_in_force[i] = m_validity[i].holds_at(at) && has_effect;
    }
    m_conflicts = find_conflicts(m_view, m_corrections, m_matches, zone, at);
    for (const std::size_t i : order_noted(m_corrections, zone))
        if (m_in_force[i])
            apply(i);
    std::sort(m_by_edge.begin(), m_by_edge.end());
    std::sort(m_by_node.begin(), m_by_node.end());
    if (m_overlay)
        m_view = m_overlay->arrays.view();
}

CorrectedRegion::~CorrectedRegion() = default;

void CorrectedRegion::apply(std::size_t correction) {
    const Correction& c = m_corrections[correction];
    const CorrectionMatch& m = m_matches[correction];
    const bool changes_map = c.kind != CorrectionKind::loading && c.kind != CorrectionKind::entrance;
    if (!changes_map)
        return;
    if (!m_overlay)
        m_overlay = std::make_unique<Overlay>(m_view);
    if (c.kind == CorrectionKind::stop)
        return m_overlay->add_stop(c, correction, m.edges);
    if (c.kind == CorrectionKind::no_stop)
        return m_overlay->take_stops_away(c);
    for (const EdgeId e : m.edges) {
        m_overlay->change_edge(c, e);
        m_by_edge.emplace_back(e.value(), static_cast<std::uint32_t>(correction));
    }
    for (const NodeId n : m.nodes) {
        m_overlay->change_node(c, n);
        m_by_node.emplace_back(n.value(), static_cast<std::uint32_t>(correction));
    }
}

std::size_t CorrectedRegion::in_force_count() const {
    return static_cast<std::size_t>(std::count(m_in_force.begin(), m_in_force.end(), true));
}

namespace {

std::vector<std::size_t> of_key(const std::vector<std::pair<std::uint32_t, std::uint32_t>>& pairs,
                                std::uint32_t key) {
    std::vector<std::size_t> out;
    for (auto at = std::lower_bound(pairs.begin(), pairs.end(), std::pair{key, 0u});
         at != pairs.end() && at->first == key; ++at)
        out.push_back(at->second);
    return out;
}

}  // namespace

std::vector<std::size_t> CorrectedRegion::on_edge(EdgeId e) const {
    return of_key(m_by_edge, e.value());
}

std::vector<std::size_t> CorrectedRegion::at_node(NodeId n) const {
    return of_key(m_by_node, n.value());
}

std::optional<std::size_t> CorrectedRegion::of_stop_place(std::size_t index) const {
    return m_overlay && index < m_overlay->stop_owners.size() ? m_overlay->stop_owners[index] : std::nullopt;
}

}  // namespace loamway
