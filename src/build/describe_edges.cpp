// SPDX-License-Identifier: Apache-2.0
// What each edge is: length, shape, tags, name, surface and flags.
#include <cmath>
#include <unordered_map>

#include "assembly.h"
#include "loamway/tags/structure.h"
#include "loamway/tags/surface.h"
#include "map_areas.h"

namespace loamway {

namespace {

/// What the tags alone say; worked out once for each list of tags.
struct RoadText {
    std::uint32_t tag_set = 0;
    std::uint32_t name = 0;
    std::uint8_t flags = 0;
    bool street = false;  // a class of road that only runs through houses
};

class RoadTexts {
public:
    explicit RoadTexts(Assembly& a) : m_a(a), m_known(a.map.tags.size(), false), m_texts(a.map.tags.size()) {}

    const RoadText& get(std::uint32_t tags) {
        if (!m_known[tags]) {
            m_texts[tags] = read(m_a.tags(tags));
            m_known[tags] = true;
        }
        return m_texts[tags];
    }

private:
    RoadText read(const TagView& tags) {
        RoadText t;
        t.tag_set = m_a.texts.add_tag_set(tags, matters_on_way);
        const auto name = tags.get("name");
        t.name = m_a.texts.add(name && !name->empty() ? *name : tags.get("ref").value_or(""));
        const auto flag = [&](bool is, std::uint8_t bit) {
            t.flags = static_cast<std::uint8_t>(t.flags | (is ? bit : 0));
        };
        flag(is_bridge(tags), edge_flag::bridge);
        flag(is_tunnel(tags), edge_flag::tunnel);
        flag(is_ford(tags), edge_flag::ford);
        flag(tags.is("highway", "track") || tags.is("highway", "service"), edge_flag::side_way);
        t.street = tags.is("highway", "residential") || tags.is("highway", "living_street");
        return t;
    }

    Assembly& m_a;
    std::vector<bool> m_known;
    std::vector<RoadText> m_texts;
};

/// The surface by tag set and surroundings; there are few of these and many edges.
class SurfaceMemory {
public:
    explicit SurfaceMemory(Assembly& a) : m_a(a) {}

    struct Entry {
        SurfaceOdds odds;
        bool known = false;
        std::uint32_t reason = 0;
    };
    const Entry& get(std::uint32_t tag_set, bool built_up) {
        const auto [at, is_new] = m_entries.try_emplace(std::uint64_t{tag_set} * 2 + (built_up ? 1 : 0));
        if (is_new) {
            const TagView tags = m_a.texts.tag_set(tag_set);
            const SurfaceReading r =
                read_surface(tags, built_up, m_a.recipe.odds_factor_of(tags.get("highway")));
            at->second = {r.odds, r.known, m_a.texts.add(r.reason)};
        }
        return at->second;
    }

private:
    Assembly& m_a;
    std::unordered_map<std::uint64_t, Entry> m_entries;
};

struct MeasuredLine {
    std::uint32_t length_dm = 0;
    GeoPoint middle;
};

MeasuredLine measure(std::span<const GeoPoint> points, std::vector<Length>& along) {
    along.assign(1, Length());
    for (std::size_t i = 1; i < points.size(); ++i)
        along.push_back(along.back() + distance(points[i - 1], points[i]));
    MeasuredLine line;
    line.length_dm = static_cast<std::uint32_t>(std::llround(along.back().metres() * 10.0));
    const Length half = along.back() * 0.5;
    std::size_t i = 1;
    while (i + 1 < points.size() && along[i] < half)
        ++i;
    const Length step = along[i] - along[i - 1];
    const double fraction = step > Length() ? (half - along[i - 1]) / step : 0.0;
    line.middle = interpolate(points[i - 1], points[i], fraction);
    return line;
}

}  // namespace

void describe_edges(Assembly& a, const MapAreas& areas) {
    const AreaIndex built_up = areas.index(map_feature::built_up);
    RoadTexts road_texts(a);
    SurfaceMemory surfaces(a);
    std::vector<GeoPoint> points;
    std::vector<Length> along;
    for (std::size_t e = 0; e < a.pieces.size(); ++e) {
        const RoadPiece& piece = a.pieces[e];
        points.clear();
        for (std::uint32_t i = 0; i < piece.ref_count; ++i)
            points.push_back(a.ref_point(piece.ref_first + i));
        const MeasuredLine line = measure(points, along);
        const RoadText& text = road_texts.get(a.map.roads[piece.way].tags);
        const bool in_houses = text.street || built_up.contains(line.middle);
        const SurfaceMemory::Entry& surface = surfaces.get(text.tag_set, in_houses);

        EdgeRecord& edge = a.out.edges[e];
        edge.length_dm = line.length_dm;
        edge.tag_set = text.tag_set;
        edge.name = text.name;
        edge.reason = surface.reason;
        edge.odds = surface.odds;
        edge.flags = static_cast<std::uint8_t>(text.flags | (surface.known ? edge_flag::known : 0) |
                                               (in_houses ? edge_flag::built_up : 0));
        edge.shape_first = static_cast<std::uint32_t>(a.out.shapes.size());
        append_shape(a.out.shapes, points.front(),
                     std::span<const GeoPoint>(points).subspan(1, points.size() - 2));
    }
}

}  // namespace loamway
