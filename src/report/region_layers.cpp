// SPDX-License-Identifier: Apache-2.0
#include "region_layers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <vector>

#include "loamway/base/ids.h"
#include "loamway/base/surface.h"
#include "loamway/region/region_window.h"
#include "map_furniture.h"

namespace loamway {

namespace {

// Lines drawn per area of paper, in points of line a square point, up to which a map stays readable.
constexpr double densest = 0.115;
constexpr std::size_t ranks = road_rank_count;
// Points a metre below which tracks and driveways are specks.
constexpr double track_scale = 0.025;

constexpr std::array<double, ranks> widths{1.9, 1.5, 1.2, 1.0, 0.7, 0.45};

class Layers {
public:
    Layers(Canvas& canvas, const MapView& view, const RegionView& region, const MapLook& look)
        : m_c(canvas), m_view(view), m_r(region), m_look(look) {}
    void draw() {
        for (const BackgroundKind kind : {BackgroundKind::forest_area, BackgroundKind::built_up_area,
                                          BackgroundKind::water_area, BackgroundKind::river_line})
            background(kind);
        roads();
        background(BackgroundKind::railway_line);
        background(BackgroundKind::building_near_road);
    }

private:
    [[nodiscard]] bool on_page(const std::vector<PagePoint>& line) const {
        PageBox box{line.front().x, line.front().y, 0, 0};
        double right = box.x, bottom = box.y;
        for (const PagePoint& p : line) {
            box.x = std::min(box.x, p.x);
            box.y = std::min(box.y, p.y);
            right = std::max(right, p.x);
            bottom = std::max(bottom, p.y);
        }
        const PageBox& page = m_view.box();
        return box.x <= page.right() && right >= page.x && box.y <= page.bottom() && bottom >= page.y;
    }
    [[nodiscard]] std::vector<PagePoint> line_of(const BackgroundRecord& b) const {
        std::vector<GeoPoint> points;
        for (std::uint32_t i = b.point_first; i < b.point_first + b.point_count; ++i)
            points.push_back({m_r.background_points[2 * i], m_r.background_points[2 * i + 1]});
        return m_view.line(points);
    }
    void background(BackgroundKind kind) {
        // A house is smaller than a point on most maps, and a county has very many.
        constexpr double house_scale = 0.12;
        if (kind == BackgroundKind::building_near_road && m_view.points_per_metre() < house_scale)
            return;
        for (const BackgroundRecord& b : m_r.background) {
            if (b.kind != kind)
                continue;
            const std::vector<PagePoint> line = line_of(b);
            if (line.size() >= 2 && on_page(line))
                feature(kind, line);
        }
    }
    void feature(BackgroundKind kind, const std::vector<PagePoint>& line) {
        const Stroke shore{.ink = m_look.water_line, .width = 0.4};
        switch (kind) {
            case BackgroundKind::water_area: {
                const Fill water{.ink = m_look.water_line,
                                 .pattern = Pattern::horizontal,
                                 .spacing = 2.4,
                                 .weight = 0.25,
                                 .ground = m_look.water};
                m_c.polygon(line, &water, &shore);
                break;
            }
            case BackgroundKind::built_up_area:
                area(line, m_look.built_up);
                break;
            case BackgroundKind::forest_area:
                area(line, m_look.forest);
                break;
            case BackgroundKind::building_near_road:
                area(line, m_look.building);
                break;
            case BackgroundKind::river_line:
                m_c.line(line, {.ink = m_look.water_line, .width = 0.9});
                break;
            case BackgroundKind::railway_line:
                m_c.line(line, {.ink = m_look.railway, .width = 0.5});
                m_c.line(line, {.ink = m_look.railway, .width = 2.2, .dash = {0.6, 4}, .round = false});
                break;
        }
    }
    void area(const std::vector<PagePoint>& ring, const Ink& ink) {
        const Fill fill{.ink = ink};
        m_c.polygon(ring, &fill, nullptr);
    }

    void roads() {
        std::array<std::array<std::vector<std::vector<PagePoint>>, surface_class_count>, ranks> lines;
        std::array<double, ranks> drawn{};
        for (const std::uint32_t e : edges_around(m_r, {m_view.south_west(), m_view.north_east()})) {
            std::vector<PagePoint> line = m_view.line(m_r.edge_points(EdgeId(e)));
            if (line.size() < 2 || !on_page(line))
                continue;
            const std::size_t rank = rank_of_set(m_r.edges[e].tag_set);
            for (std::size_t i = 1; i < line.size(); ++i)
                drawn[rank] += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
            const auto surface = static_cast<std::size_t>(m_r.edges[e].odds.likeliest());
            lines[rank][m_look.by_surface ? surface : 0].push_back(std::move(line));
        }
        const double area = m_view.box().width * m_view.box().height;
        double sum = 0;
        std::size_t shown = 0;
        const std::size_t most = m_view.points_per_metre() < track_scale ? ranks - 1 : ranks;
        while (shown < most && (sum + drawn[shown] <= densest * area || sum == 0))
            sum += drawn[shown++];
        for (std::size_t rank = shown; rank-- > 0;)
            for (std::size_t surface = 0; surface < surface_class_count; ++surface)
                if (!lines[rank][surface].empty())
                    m_c.lines(lines[rank][surface], road_stroke(rank, surface));
    }
    [[nodiscard]] Stroke road_stroke(std::size_t rank, std::size_t surface) const {
        // A screen has fewer dots than paper: thinner than one, ink and dashes are not told apart.
        constexpr double least_on_screen = 0.8;
        if (m_look.by_surface)
            return surface_stroke(m_look, surface, std::max(widths[rank], least_on_screen));
        return {.ink = m_look.roads[rank], .width = widths[rank]};
    }
    /// Many roads share their tags: each set is read once.
    std::size_t rank_of_set(std::uint32_t set) {
        const auto [entry, is_new] = m_ranks.try_emplace(set, ranks - 1);
        if (is_new)
            entry->second = road_rank(m_r, set);
        return entry->second;
    }

    Canvas& m_c;
    const MapView& m_view;
    const RegionView& m_r;
    const MapLook& m_look;
    std::map<std::uint32_t, std::size_t> m_ranks;
};

}  // namespace

void draw_region_layers(Canvas& canvas, const MapView& view, const RegionView& region, const MapLook& look) {
    const Canvas::Frame frame(canvas);
    canvas.clip(view.box());
    Layers(canvas, view, region, look).draw();
}

}  // namespace loamway
