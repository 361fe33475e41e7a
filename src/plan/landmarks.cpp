// SPDX-License-Identifier: Apache-2.0
#include "landmarks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/tags/structure.h"

namespace loamway {

namespace {

// Assumptions: how far back a landmark helps, how near the road a place must lie to be passed, and how far
// behind a junction a place must be, so that the mouth of a side way is not found by itself.
constexpr double far_back_m = 3000;
constexpr double passes_within_m = 300;
constexpr double clear_of_junction_m = 5;

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

// Out of reach by a look at the figures alone; most places of a map are. No degree of latitude is shorter
// than 110 km, and a tenth of one of longitude is 1.9 km at 80 degrees.
bool far_apart(GeoPoint a, GeoPoint b) {
    if (std::abs(a.lat() - b.lat()) * 110e3 > passes_within_m)
        return true;
    const double east = std::abs(a.lon() - b.lon());
    return east > 0.1 && east < 359.9 && std::abs(a.lat()) < 80;
}

class LandmarkFinder {
public:
    LandmarkFinder(const Setting& setting, const Path& path, double at_m) : m_setting(setting), m_at_m(at_m) {
        for (const PathPiece& p : path.pieces)
            if (!p.spur && metres(p.at_dm) <= at_m &&
                metres(p.at_dm + p.piece.length_dm()) >= at_m - far_back_m)
                m_pieces.push_back(&p);
        look_along();
    }

    std::optional<Landmark> find() {
        for (std::size_t i = 0; i < m_pieces.size(); ++i) {
            const PathPiece* next = i + 1 < m_pieces.size() ? m_pieces[i + 1] : nullptr;
            ends_of_structures(*m_pieces[i], next);
            if (next != nullptr && next->piece.arc != m_pieces[i]->piece.arc)
                at_node(*m_pieces[i], *next);
        }
        for (const PlaceRecord& place : m_setting.region().places)
            if (place.name != 0)
                passing(place);
        return m_best;
    }

private:
    static double end_of(const PathPiece& p) { return metres(p.at_dm + p.piece.length_dm()); }

    // Of two at one spot the one looked at first stays.
    void offer(double at_m, std::string text) {
        if (at_m <= m_at_m && at_m >= m_at_m - far_back_m && (!m_best || at_m > m_best->at_m))
            m_best = Landmark{at_m, std::move(text)};
    }

    void ends_of_structures(const PathPiece& p, const PathPiece* next) {
        const auto has = [&](const PathPiece& piece, std::uint8_t flag) {
            return (m_setting.graph().edge(piece.piece.arc).flags & flag) != 0;
        };
        constexpr std::pair<std::uint8_t, const char*> kinds[] = {{edge_flag::bridge, "the bridge"},
                                                                  {edge_flag::tunnel, "the tunnel"},
                                                                  {edge_flag::ford, "the ford"}};
        for (const auto& [flag, text] : kinds)
            if (has(p, flag) && (next == nullptr || !has(*next, flag)))
                offer(end_of(p), text);
    }

    void at_node(const PathPiece& p, const PathPiece& next) {
        const RoadGraph& graph = m_setting.graph();
        const NodeId node = graph.head(p.piece.arc);
        if (const TagSetId tags = graph.node_tag_set(node);
            !tags.is_none() && is_level_crossing(graph.tags(tags)))
            offer(end_of(p), "the level crossing");
        if (end_of(p) > m_at_m - clear_of_junction_m)
            return;
        const std::string was = m_setting.road_name(p.piece.arc), is = m_setting.road_name(next.piece.arc);
        std::string other;
        for (std::uint32_t a = graph.arc_begin(node); a < graph.arc_end(node); ++a) {
            const std::string name = m_setting.road_name(ArcId{a});
            if (!name.empty() && name != was && name != is && (other.empty() || name < other))
                other = name;
        }
        if (!other.empty())
            offer(end_of(p), "the junction with " + other);
    }

    struct Spot {
        GeoPoint point;
        double at_m;
    };
    // Places are looked for from the ends and the middle of each piece.
    void look_along() {
        for (const PathPiece* p : m_pieces) {
            const RoutePiece& piece = p->piece;
            for (const std::uint32_t along : {piece.from_dm, (piece.from_dm + piece.to_dm) / 2, piece.to_dm})
                m_spots.push_back(
                    {m_setting.point_on(piece.arc, along), metres(p->at_dm + along - piece.from_dm)});
        }
    }

    void passing(const PlaceRecord& place) {
        const GeoPoint point{place.lat_e7, place.lon_e7};
        double nearest = passes_within_m, at = 0;
        for (const Spot& s : m_spots) {
            if (far_apart(point, s.point))
                continue;
            const double d = distance(point, s.point).metres();
            if (d < nearest) {
                nearest = d;
                at = s.at_m;
            }
        }
        if (nearest < passes_within_m)
            offer(at, std::string(m_setting.region().string(place.name)));
    }

    const Setting& m_setting;
    double m_at_m;
    std::vector<const PathPiece*> m_pieces;
    std::vector<Spot> m_spots;
    std::optional<Landmark> m_best;
};

// Where a point of the route without side ways lies along the option.
double at_along(const Path& path, std::uint64_t route_dm) {
    double at = 0;
    for (const PathPiece& p : path.pieces)
        if (!p.spur && p.route_dm <= route_dm)
            at = metres(p.at_dm + std::min<std::uint64_t>(route_dm - p.route_dm, p.piece.length_dm()));
    return at;
}

}  // namespace

std::optional<Landmark> landmark_before(const Setting& setting, const Path& path, double at_m) {
    return LandmarkFinder(setting, path, at_m).find();
}

std::vector<double> turn_places(const Setting& setting, const StopPlaces& places, const Route& route,
                                const Path& path) {
    std::vector<double> out;
    for (const ChosenStop& s : places.along(route))
        if (s.spur || (s.offer < places.offers().beside.size() && places.offers().beside[s.offer].turns))
            out.push_back(at_along(path, s.route_dm));
    for (const PathPiece& p : path.pieces) {
        const TagView tags = setting.graph().tags(setting.graph().edge_of(p.piece.arc));
        if (tags.is("junction", "roundabout") || tags.is("junction", "circular"))
            out.push_back(metres(p.at_dm));
    }
    std::sort(out.begin(), out.end());
    return out;
}

void note_last_turns(const std::vector<double>& turns, std::vector<Flag>& flags) {
    for (Flag& f : flags) {
        if (f.severity == Severity::note || !f.at_m)
            continue;
        const auto after = std::upper_bound(turns.begin(), turns.end(), *f.at_m);
        if (after != turns.begin())
            f.last_turn_round_m = *(after - 1);
    }
}

}  // namespace loamway
