// SPDX-License-Identifier: Apache-2.0
#include "surface_roads.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <numeric>
#include <tuple>

#include "cell_grid.h"

namespace loamway {

namespace {

// Assumptions: how far off straight a road still continues, and how far along the known way may lie.
constexpr int straight_within_deg = 40;
constexpr double follow_m = 2000.0;
constexpr int follow_pieces = 64;

RoadFamily family_of(const SurfaceTraits& t) {
    if (t.road == "track" || t.road == "path" || t.road == "bridleway" || t.road == "footway")
        return RoadFamily::track;
    return t.road == "service" ? RoadFamily::service : RoadFamily::road;
}

TagView without_surface(const TagView& tags) {
    TagView rest;
    for (const Tag& tag : tags.all())
        if (tag.key != "surface")
            rest.add(tag.key, tag.value);
    return rest;
}

std::int16_t heading_of(GeoPoint from, GeoPoint to) {
    const LocalPlane plane(from);
    const double east = (double{static_cast<double>(to.lon_e7)} - from.lon_e7) * plane.east;
    const double north = (double{static_cast<double>(to.lat_e7)} - from.lat_e7) * plane.north;
    return static_cast<std::int16_t>(std::lround(std::atan2(east, north) * 180.0 / std::numbers::pi));
}

/// Items 0..count-1 sorted into `bins` by `bin_of`, as a list of firsts and the items.
template <class BinOf>
void sort_into(std::size_t bins, std::uint32_t count, BinOf bin_of, std::vector<std::uint32_t>& first,
               std::vector<std::uint32_t>& items) {
    first.assign(bins + 1, 0);
    for (std::uint32_t i = 0; i < count; ++i)
        ++first[bin_of(i) + 1];
    std::partial_sum(first.begin(), first.end(), first.begin());
    items.resize(count);
    std::vector<std::uint32_t> next(first.begin(), first.end() - 1);
    for (std::uint32_t i = 0; i < count; ++i)
        items[next[bin_of(i)]++] = i;
}

}  // namespace

SurfaceRoads::SurfaceRoads(const Assembly& a, const std::function<bool(std::int64_t)>& hidden) : m_a(a) {
    read_lists(hidden);
    if (m_any_known || hidden)
        connect();
}

void SurfaceRoads::read_lists(const std::function<bool(std::int64_t)>& hidden) {
    std::vector<std::uint32_t> index(m_a.map.tags.size(), no_index);
    m_list_of_way.reserve(m_a.map.roads.size());
    for (const RawMap::Way& way : m_a.map.roads) {
        if (index[way.tags] == no_index) {
            index[way.tags] = static_cast<std::uint32_t>(m_lists.size());
            const TagView tags = m_a.tags(way.tags);
            const TagView rest = without_surface(tags);
            const double factor = m_a.recipe.odds_factor_of(tags.get("highway"));
            const SurfaceReading told = read_surface(tags, false, factor);
            Untold u;
            u.traits = surface_traits(tags);
            u.family = family_of(u.traits);
            for (const bool inside : {false, true})
                u.odds[inside ? 1 : 0] = read_surface(rest, inside, factor).odds;
            u.said = told.source == "surface" || told.source == "winter_road";
            if (told.known)
                u.known = told.likeliest;
            m_lists.push_back(std::move(u));
        }
        m_list_of_way.push_back(index[way.tags]);
        m_hidden.push_back(m_lists[index[way.tags]].said && hidden && hidden(way.id));
    }
    for (std::uint32_t w = 0; w < m_hidden.size(); ++w)
        m_any_known = m_any_known || known(w).has_value();
}

std::string SurfaceRoads::because(std::uint32_t way, bool built_up) const {
    const TagView rest = without_surface(m_a.tags(m_a.map.roads[way].tags));
    return read_surface(rest, built_up, m_a.recipe.odds_factor_of(rest.get("highway"))).because;
}

void SurfaceRoads::connect() {
    const auto edges = static_cast<std::uint32_t>(m_a.pieces.size());
    sort_into(
        m_hidden.size(), edges, [&](std::uint32_t e) { return way_of(e); }, m_way_first, m_way_edges);
    sort_into(
        m_a.out.node_lat.size(), 2 * edges, [&](End end) { return node(end); }, m_node_first, m_node_ends);
    m_heading.reserve(2 * edges);
    for (const RoadPiece& piece : m_a.pieces) {
        const std::size_t first = piece.ref_first, last = first + piece.ref_count - 1;
        m_heading.push_back(heading_of(m_a.ref_point(first), m_a.ref_point(first + 1)));
        m_heading.push_back(heading_of(m_a.ref_point(last), m_a.ref_point(last - 1)));
    }
}

std::uint32_t SurfaceRoads::node(End end) const {
    const EdgeRecord& edge = m_a.out.edges[end / 2];
    return end % 2 == 0 ? edge.tail : edge.head;
}

std::span<const SurfaceRoads::End> SurfaceRoads::ends_at(std::uint32_t node) const {
    return {m_node_ends.data() + m_node_first[node], m_node_first[node + 1] - m_node_first[node]};
}

std::span<const std::uint32_t> SurfaceRoads::edges(std::uint32_t way) const {
    return {m_way_edges.data() + m_way_first[way], m_way_first[way + 1] - m_way_first[way]};
}

bool SurfaceRoads::built_up(std::uint32_t edge) const {
    return (m_a.out.edges[edge].flags & edge_flag::built_up) != 0;
}

std::array<double, 2> SurfaceRoads::km(std::uint32_t way) const {
    std::array<double, 2> km{};
    for (const std::uint32_t e : edges(way))
        km[built_up(e) ? 1 : 0] += m_a.out.edges[e].length_dm / 10000.0;
    return km;
}

bool SurfaceRoads::same_name(End x, End y) const {
    const std::uint32_t name = m_a.out.edges[x / 2].name;
    return name != 0 && name == m_a.out.edges[y / 2].name;
}

int SurfaceRoads::bend(End from, End to) const {
    const int turn = std::abs(m_heading[from] - m_heading[to]);  // both away from the junction
    return std::abs(180 - (turn > 180 ? 360 - turn : turn));
}

/// The best witness at one end of one of the way's edges. A way that only passes a junction continues in
/// itself: then straight on counts for nothing.
std::optional<FoundWitness> SurfaceRoads::witness_at(std::uint32_t way, End end) const {
    const std::span<const End> here = ends_at(node(end));
    const bool way_ends = std::ranges::count_if(here, [&](End x) { return way_of(x / 2) == way; }) == 1;
    std::optional<FoundWitness> best;
    for (const End other : here) {
        const std::uint32_t w = way_of(other / 2);
        if (w == way || !known(w))
            continue;
        const bool ahead = same_name(end, other) || (way_ends && bend(end, other) < straight_within_deg);
        const bool like = untold(w).family == untold(way).family;
        const FoundWitness found{like ? (ahead ? SurfaceWitness::continues : SurfaceWitness::meets)
                                      : (ahead ? SurfaceWitness::other_ahead : SurfaceWitness::other_meets),
                                 w};
        if (!best || std::tuple(found.kind, found.way) < std::tuple(best->kind, best->way))
            best = found;
    }
    return best;
}

/// Along the road from this end away from its edge: the first known way, at most 2 km on.
std::optional<std::uint32_t> SurfaceRoads::follow(End end) const {
    const std::uint32_t start = way_of(end / 2);
    double gone = 0.0;
    for (int piece = 0; piece < follow_pieces && gone <= follow_m; ++piece) {
        std::optional<End> next;
        auto best = std::tuple(true, true, straight_within_deg, no_index);
        for (const End other : ends_at(node(end))) {
            const std::uint32_t w = way_of(other / 2);
            if (other == end || untold(w).family != untold(start).family)
                continue;
            const bool same_way = w == way_of(end / 2);
            const bool named = same_name(end, other);
            const auto rank = std::tuple(!same_way, !named, bend(end, other), other);
            if ((same_way || named || bend(end, other) < straight_within_deg) && (!next || rank < best)) {
                best = rank;
                next = other;
            }
        }
        if (!next || way_of(*next / 2) == start)
            return std::nullopt;
        if (known(way_of(*next / 2)))
            return way_of(*next / 2);
        gone += m_a.out.edges[*next / 2].length_dm / 10.0;
        end = *next ^ 1u;
    }
    return std::nullopt;
}

std::optional<FoundWitness> SurfaceRoads::witness(std::uint32_t way) const {
    std::optional<FoundWitness> best;
    const auto offer = [&](const FoundWitness& found) {
        if (!best || std::tuple(found.kind, found.way) < std::tuple(best->kind, best->way))
            best = found;
    };
    for (const std::uint32_t e : edges(way))
        for (const End end : {2 * e, 2 * e + 1})
            if (const auto found = witness_at(way, end))
                offer(*found);
    if (best && best->kind <= SurfaceWitness::meets)
        return best;
    for (const std::uint32_t e : edges(way))
        for (const End end : {2 * e, 2 * e + 1}) {
            const bool way_ends =
                std::ranges::count_if(ends_at(node(end)), [&](End x) { return way_of(x / 2) == way; }) == 1;
            if (const auto far = way_ends ? follow(end) : std::nullopt)
                offer({SurfaceWitness::runs_on, *far});
        }
    return best;
}

}  // namespace loamway
