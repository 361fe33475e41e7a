// SPDX-License-Identifier: Apache-2.0
#include "tile.h"

#include <algorithm>
#include <array>
#include <map>
#include <span>
#include <tuple>
#include <utility>

#include "loamway/base/ids.h"
#include "loamway/plan/loading_room.h"
#include "loamway/region/stop_words.h"
#include "tile_chains.h"
#include "tile_geometry.h"
#include "tile_layer.h"
#include "tile_rings.h"

namespace loamway {

namespace {

constexpr int full_zoom = 12;       // from here on everything is there, exact to the rounding
constexpr int first_line_zoom = 8;  // of rivers and railways
// Bytes up to which a tile below full_zoom takes in more; a phone on a farm loads some dozens of tiles.
constexpr std::size_t most_road_bytes = 70'000;
constexpr std::size_t most_ground_points = 15'000;
constexpr std::size_t most_line_points = 6'000;
constexpr std::int64_t least_twice_area = 2 * 16 * 16;  // square units: four points on a screen

/// The least road that is drawn at a zoom.
std::uint8_t last_rank(int zoom) {
    constexpr std::array<std::uint8_t, full_zoom> ranks{0, 0, 0, 0, 0, 0, 0, 1, 1, 2, 3, 4};
    return zoom < full_zoom ? ranks[static_cast<std::size_t>(zoom)] : std::uint8_t{road_rank_count - 1};
}

/// Units within which a line may be drawn straight.
double tolerance_at(int zoom) {
    constexpr int fine_zoom = 10;
    if (zoom >= full_zoom)
        return 0;
    return zoom >= fine_zoom ? 3 : 6;
}

struct PlaceLook {
    std::string_view kind;
    int rank, first_zoom;
};
PlaceLook look_of(PlaceKind kind) {
    switch (kind) {
        case PlaceKind::city:
            return {"city", 0, 3};
        case PlaceKind::town:
            return {"town", 1, 7};
        case PlaceKind::village:
            return {"village", 2, 10};
        case PlaceKind::suburb:
            return {"suburb", 3, 11};
        case PlaceKind::hamlet:
            return {"hamlet", 3, 11};
        case PlaceKind::locality:
            return {"locality", 4, 12};
        case PlaceKind::farm:
            return {"farm", 4, 12};
        case PlaceKind::other:
            break;
    }
    return {"other", 5, 13};
}

/// A thing of the background on this tile.
struct Shape {
    const BackgroundRecord* record = nullptr;
    std::vector<TilePolygon> areas;
    std::vector<TileLine> lines;
    std::int64_t size = 0;  // of areas twice their size, of lines how many points
    std::size_t points = 0;
};

}  // namespace

class TileDrawing {
public:
    TileDrawing(const TileMaker& maker, const CorrectedRegion* corrected, const TileId& id)
        : m_frame(id),
          m_maker(maker),
          m_r(corrected != nullptr ? corrected->view() : maker.m_region),
          m_corrected(corrected),
          m_tolerance(tolerance_at(id.z)) {}

    std::string bytes() {
        areas();
        lines("water_lines", "river", BackgroundKind::river_line);
        lines("railways", "railway", BackgroundKind::railway_line);
        if (full())
            each_road();
        else
            main_roads();
        places();
        if (full())
            stops();
        corrections();
        return std::move(m_out);
    }

private:
    [[nodiscard]] bool full() const { return m_frame.zoom() >= full_zoom; }

    // ---- background
    template <class Wanted>
    std::vector<const BackgroundRecord*> background(Wanted wanted) const {
        std::vector<const BackgroundRecord*> out;
        for (std::size_t i = 0; i < m_maker.m_background.size(); ++i) {
            const BackgroundRecord& b = m_r.background[m_maker.m_background[i]];
            if (wanted(b.kind) && m_maker.m_background_boxes[i].overlaps(m_frame.box()))
                out.push_back(&b);
        }
        return out;
    }
    /// The largest shapes that fit `most` points, in their old order.
    static void keep_largest(std::vector<Shape>& shapes, std::size_t most) {
        std::stable_sort(shapes.begin(), shapes.end(),
                         [](const Shape& a, const Shape& b) { return a.size > b.size; });
        std::size_t sum = 0, count = 0;
        while (count < shapes.size() && (sum += shapes[count].points) <= most)
            ++count;
        shapes.resize(count);
        std::stable_sort(shapes.begin(), shapes.end(),
                         [](const Shape& a, const Shape& b) { return a.record < b.record; });
    }
    [[nodiscard]] Shape area_of(const BackgroundRecord& b) const {
        std::vector<GeoPoint> ring = points_of(m_r, b);
        Shape out{.record = &b, .areas = {}, .lines = {}};
        out.areas = valid_polygons(clipped_ring(simplified(m_frame.line(ring), m_tolerance)));
        if (!full())
            std::erase_if(out.areas,
                          [](const TilePolygon& p) { return twice_area(p.outer) < least_twice_area; });
        for (const TilePolygon& p : out.areas) {
            out.size += twice_area(p.outer);
            out.points += p.outer.size();
            for (const TileLine& hole : p.holes)
                out.points += hole.size();
        }
        return out;
    }
    void areas() {
        constexpr std::array<std::pair<BackgroundKind, std::string_view>, 3> kinds{
            {{BackgroundKind::forest_area, "wood"},
             {BackgroundKind::built_up_area, "built_up"},
             {BackgroundKind::water_area, "water"}}};
        std::vector<Shape> shapes;
        for (const BackgroundRecord* b : background([](BackgroundKind kind) {
                 return kind != BackgroundKind::river_line && kind != BackgroundKind::railway_line;
             }))
            shapes.push_back(area_of(*b));
        if (!full())
            keep_largest(shapes, most_ground_points);
        TileLayer layer("ground");
        for (const auto& [kind, name] : kinds)
            for (const Shape& s : shapes)
                if (s.record->kind == kind)
                    layer.text("kind", name).polygons(s.areas);
        layer.append_to(m_out);
    }
    void lines(std::string_view layer_name, std::string_view kind_name, BackgroundKind kind) {
        if (m_frame.zoom() < first_line_zoom)
            return;
        std::vector<Shape> shapes;
        for (const BackgroundRecord* b : background([kind](BackgroundKind k) { return k == kind; })) {
            Shape s{.record = b, .areas = {}, .lines = {}};
            s.lines = clipped_line(simplified(m_frame.line(points_of(m_r, *b)), m_tolerance));
            for (const TileLine& line : s.lines)
                s.points += line.size();
            s.size = static_cast<std::int64_t>(s.points);
            shapes.push_back(std::move(s));
        }
        if (!full())
            keep_largest(shapes, most_line_points);
        TileLayer layer(layer_name);
        for (const Shape& s : shapes)
            layer.text("kind", kind_name).lines(s.lines);
        layer.append_to(m_out);
    }

    // ---- roads
    [[nodiscard]] std::uint8_t rank_of(std::uint32_t edge) const {
        // A correction changes what a road allows, never which road it is.
        return m_maker.m_ranks[m_maker.m_region.edges[edge].tag_set];
    }
    void each_road() {
        std::vector<std::pair<int, std::uint32_t>> order;  // those that matter most last: drawn on top
        for (const std::uint32_t e : edges_around(m_r, m_frame.box()))
            order.emplace_back(-rank_of(e), e);
        std::sort(order.begin(), order.end());
        TileLayer layer("roads");
        for (const auto& [minus_rank, e] : order) {
            const std::vector<TileLine> pieces = clipped_line(m_frame.line(m_r.edge_points(EdgeId(e))));
            if (pieces.empty())
                continue;
            const EdgeRecord& edge = m_r.edges[e];
            layer.text("class", name_of(edge.odds.likeliest()))
                .flag("known", (edge.flags & edge_flag::known) != 0)
                .number("rank", -minus_rank);
            if (edge.name != 0)
                layer.text("name", m_r.string(edge.name));
            layer.flag("bridge", (edge.flags & edge_flag::bridge) != 0)
                .flag("tunnel", (edge.flags & edge_flag::tunnel) != 0)
                .number("edge", e);
            layer.lines(pieces);
        }
        layer.append_to(m_out);
    }
    void main_roads() {
        using Look = std::tuple<std::uint8_t, SurfaceClass, bool>;
        const std::uint8_t last = std::max(last_rank(m_frame.zoom()), m_maker.m_lowest_rank);
        std::map<Look, std::vector<std::uint32_t>> groups;
        for (const std::uint32_t e : edges_around(m_r, m_frame.box())) {
            const EdgeRecord& edge = m_r.edges[e];
            if (const std::uint8_t rank = rank_of(e); rank <= last)
                groups[{rank, edge.odds.likeliest(), (edge.flags & edge_flag::known) != 0}].push_back(e);
        }
        TileLayer layer("roads"), with_more = layer;
        for (std::uint8_t rank = 0; rank <= last; ++rank) {
            for (const auto& [look, edges] : groups)
                if (std::get<0>(look) == rank)
                    road_group(with_more, rank, std::get<1>(look), std::get<2>(look), edges);
            if (with_more.bytes() > most_road_bytes && layer.bytes() > 0)
                break;
            layer = with_more;
        }
        layer.append_to(m_out);
    }
    void road_group(TileLayer& layer, std::uint8_t rank, SurfaceClass surface, bool known,
                    const std::vector<std::uint32_t>& edges) const {
        std::vector<TileLine> pieces;
        for (const std::vector<GeoPoint>& chain : chains_of(m_r, edges))
            for (TileLine& piece : clipped_line(simplified(m_frame.line(chain), m_tolerance)))
                pieces.push_back(std::move(piece));
        layer.text("class", name_of(surface)).flag("known", known).number("rank", rank).lines(pieces);
    }

    // ---- points
    [[nodiscard]] bool on_tile(std::int32_t lat_e7, std::int32_t lon_e7, TilePoint& at) const {
        const GeoPoint p{lat_e7, lon_e7};
        if (!m_frame.box().holds(p))
            return false;
        at = rounded(m_frame.at(p));
        return in_tile(at);
    }
    void places() {
        TileLayer layer("places");
        for (const PlaceRecord& p : m_r.places) {
            const PlaceLook look = look_of(p.kind);
            TilePoint at;
            if (m_frame.zoom() < look.first_zoom || p.name == 0 || !on_tile(p.lat_e7, p.lon_e7, at))
                continue;
            layer.text("name", m_r.string(p.name)).text("kind", look.kind).number("rank", look.rank);
            layer.points(std::span(&at, 1));
        }
        layer.append_to(m_out);
    }
    void stops() {
        TileLayer layer("stops");
        for (const StopPlaceRecord& s : m_r.stop_places) {
            TilePoint at;
            if (!on_tile(s.lat_e7, s.lon_e7, at))
                continue;
            layer.text("kind", name_of(s.kind)).number("score", s.score).flag("loading", has_room_to_load(s));
            if (s.name != 0)
                layer.text("name", m_r.string(s.name));
            layer.points(std::span(&at, 1));
        }
        layer.append_to(m_out);
    }
    void corrections() {
        if (m_corrected == nullptr)
            return;
        TileLayer layer("corrections");
        const std::span<const Correction> all = m_corrected->corrections();
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (!m_corrected->in_force(i) || all[i].line.empty())
                continue;
            const Correction& c = all[i];
            layer.text("id", c.id).text("kind", name_of(c.kind)).text("value", c.value);
            TilePoint at;
            if (!c.is_point())
                layer.lines(clipped_line(simplified(m_frame.line(c.line), m_tolerance)));
            else if (on_tile(c.line[0].lat_e7, c.line[0].lon_e7, at))
                layer.points(std::span(&at, 1));
            else
                layer.points({});
        }
        layer.append_to(m_out);
    }

    TileFrame m_frame;
    const TileMaker& m_maker;
    const RegionView& m_r;
    const CorrectedRegion* m_corrected;
    double m_tolerance;
    std::string m_out;
};

TileMaker::TileMaker(const RegionView& region) : m_region(region), m_lowest_rank(road_rank_count - 1) {
    m_ranks.reserve(region.tag_set_count());
    for (std::uint32_t set = 0; set < region.tag_set_count(); ++set)
        m_ranks.push_back(road_rank(region, set));
    for (const EdgeRecord& e : region.edges)
        m_lowest_rank = std::min(m_lowest_rank, m_ranks[e.tag_set]);
    for (std::uint32_t i = 0; i < region.background.size(); ++i) {
        const BackgroundRecord& b = region.background[i];
        if (b.kind == BackgroundKind::building_near_road)
            continue;
        const std::vector<GeoPoint> points = points_of(region, b);
        GeoBox box{points.front(), points.front()};
        for (const GeoPoint p : points)
            box.add(p);
        m_background.push_back(i);
        m_background_boxes.push_back(box);
    }
}

std::string TileMaker::make(const CorrectedRegion* corrected, const TileId& id) const {
    return TileDrawing(*this, corrected, id).bytes();
}

std::string make_tile(const RegionView& region, const CorrectedRegion* corrected, const TileId& id) {
    return TileMaker(region).make(corrected, id);
}

}  // namespace loamway
