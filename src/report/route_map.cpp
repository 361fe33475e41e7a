// SPDX-License-Identifier: Apache-2.0
#include "route_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>

#include "loamway/base/names.h"
#include "map_furniture.h"
#include "map_labels.h"
#include "map_view.h"
#include "region_layers.h"
#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double most_margin = 26;    // points around the way
constexpr double least_metres = 700;  // a short move still shows what lies around
constexpr double knot_radius = 6.5;

std::vector<GeoPoint> shown_points(const SheetContent& s) {
    std::vector<GeoPoint> out = s.option->geometry;
    out.push_back(s.plan->move.from);
    out.push_back(s.plan->move.to);
    return out;
}

class RouteMap {
public:
    RouteMap(Canvas& canvas, const MapView& view, const SheetContent& content, const Region* region,
             const MapLook& look)
        : m_c(canvas),
          m_s(content),
          m_o(*content.option),
          m_region(region),
          m_view(view),
          m_look(look),
          m_labels(canvas, view.box()) {}

    void draw() {
        const PageBox& box = m_view.box();
        const Fill paper{.ink = m_look.paper};
        m_c.rectangle(box, &paper, nullptr);
        if (m_region != nullptr)
            draw_region_layers(m_c, m_view, m_region->view(), m_look);
        {
            const Canvas::Frame frame(m_c);
            m_c.clip(box);
            way();
            flags();
            ends();
            stops();
            furniture();
            labels();
        }
        const Stroke edge{.ink = m_look.ink, .width = 0.8};
        m_c.rectangle(box, nullptr, &edge);
    }

private:
    /// The points of the way between two trip-meter readings.
    [[nodiscard]] std::vector<GeoPoint> between(double from_m, double to_m) const {
        std::vector<GeoPoint> out;
        const auto& at = m_o.geometry_at_m;
        for (std::size_t i = 0; i + 1 < m_o.geometry.size() && i + 1 < at.size(); ++i) {
            if (at[i + 1] < from_m || at[i] > to_m)
                continue;
            const double span = at[i + 1] - at[i];
            const auto point = [&](double m) {
                return span <= 0 ? m_o.geometry[i]
                                 : interpolate(m_o.geometry[i], m_o.geometry[i + 1], (m - at[i]) / span);
            };
            if (out.empty())
                out.push_back(point(std::max(from_m, at[i])));
            out.push_back(point(std::min(to_m, at[i + 1])));
        }
        return out;
    }
    void way() {
        if (m_o.geometry.size() < 2)
            return;
        const std::vector<PagePoint> line = m_view.line(m_o.geometry);
        m_c.line(line, {.ink = m_look.way_edge, .width = 6.4});
        m_c.line(line, {.ink = m_look.way, .width = 4});
        for (const Leg& leg : m_o.legs)
            for (const SurfaceRun& run : leg.surface_runs)
                core(leg.mode, run);
        m_labels.avoid(dense(line));
    }
    /// What the line is made of: full black paved, a light core on gravel, a broken core on earth.
    void core(Mode mode, const SurfaceRun& run) {
        if (mode != Mode::haul && run.surface == SurfaceClass::hard)
            return;
        const std::vector<PagePoint> line = m_view.line(between(run.from_m, run.to_m));
        if (line.size() < 2)
            return;
        Stroke core{.ink = m_look.gravel_core, .width = 2, .round = false};
        if (mode == Mode::haul)
            core = {.ink = m_look.bare_core, .width = 2.4, .round = false};
        else if (run.surface == SurfaceClass::earth)
            core = {.ink = m_look.bare_core, .width = 2.2, .dash = {2.5, 2}, .round = false};
        m_c.line(line, core);
    }
    [[nodiscard]] static std::vector<PagePoint> dense(const std::vector<PagePoint>& line) {
        std::vector<PagePoint> out;
        for (std::size_t i = 1; i < line.size(); ++i) {
            const double length = std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
            const int steps = std::max(1, static_cast<int>(length / 3));
            for (int k = 0; k < steps; ++k) {
                const double f = static_cast<double>(k) / steps;
                out.push_back({line[i - 1].x + f * (line[i].x - line[i - 1].x),
                               line[i - 1].y + f * (line[i].y - line[i - 1].y)});
            }
        }
        return out;
    }

    void flags() {
        std::vector<PageBox> drawn;
        for (const Flag& f : m_o.flags) {
            if (!f.point || f.severity == Severity::note)
                continue;
            const PagePoint at = m_view.at(*f.point);
            const PageBox box = around(at, 5);
            if (std::any_of(drawn.begin(), drawn.end(), [&box](const PageBox& b) { return b.overlaps(box); }))
                continue;
            drawn.push_back(box);
            draw_warning(m_c, at, 7);
            m_labels.keep_free(box);
        }
    }
    void ends() {
        const auto& m = m_s.plan->move;
        if (m_o.geometry.empty())
            return;
        const Fill black{.ink = m_look.way};
        const Stroke edge{.ink = m_look.way_edge, .width = 1};
        m_start = m_view.at(m_o.geometry.front());
        m_end = m_view.at(m_o.geometry.back());
        m_c.circle(m_start, 4.5, &black, &edge);
        m_c.rectangle(around(m_end, 4.5), &black, &edge);
        if (m_s.from_name != printable(m.from_name) || m_s.to_name != printable(m.to_name))
            return keep_ends_free();  // a part of the move: what was asked lies elsewhere
        for (const auto& ends :
             {std::array{m_o.geometry.front(), m.from}, std::array{m_o.geometry.back(), m.to}}) {
            const std::vector<PagePoint> line = m_view.line(ends);
            if (std::hypot(line.back().x - line.front().x, line.back().y - line.front().y) > 6)
                m_c.line(line, {.ink = m_look.way, .width = 1, .dash = {1.5, 1.5}});
        }
        keep_ends_free();
    }
    void keep_ends_free() {
        m_labels.keep_free(around(m_start, 5));
        m_labels.keep_free(around(m_end, 5));
    }
    void stops() {
        // A knot that would cover another stands aside, tied to its place by a line.
        std::vector<PageBox> drawn{around(m_start, 4), around(m_end, 4)};
        for (const SheetStop& s : m_s.stops) {
            const PagePoint place = m_view.at(s.stop->point);
            const PagePoint at = free_spot(place, drawn);
            if (std::hypot(at.x - place.x, at.y - place.y) > 1)
                m_c.line(place, at, {.ink = m_look.ink, .width = 0.8});
            draw_knot(m_c, at, knot_radius, *s.stop, s.number);
            drawn.push_back(around(at, knot_radius));
            m_labels.keep_free(around(at, knot_radius + 1));
        }
    }
    [[nodiscard]] static PagePoint free_spot(PagePoint at, const std::vector<PageBox>& drawn) {
        const auto is_free = [&drawn](PagePoint p) {
            const PageBox box = around(p, knot_radius);
            return std::none_of(drawn.begin(), drawn.end(),
                                [&box](const PageBox& b) { return b.overlaps(box); });
        };
        if (is_free(at))
            return at;
        for (const double away : {14.0, 22.0, 30.0})
            for (int turn = 0; turn < 8; ++turn) {
                const double angle = turn * 0.785398;
                const PagePoint p{at.x + away * std::cos(angle), at.y + away * std::sin(angle)};
                if (is_free(p))
                    return p;
            }
        return at;
    }

    void furniture() {
        draw_north_arrow(sheet());
        draw_scale_bar(sheet(), m_s.units);
        if (m_region != nullptr && m_look.by_surface)
            draw_surface_key(sheet());
        if (m_region == nullptr || m_o.geometry.empty()) {
            const std::string text =
                m_o.geometry.empty() ? "No way was found." : "Way only: no map was given (--region).";
            const Lettering l{.size = 6.3, .italic = true, .ink = shade::soft, .halo = 1.5 * m_look.halo};
            const PagePoint at{m_view.box().x + 5, m_view.box().y + 4};
            const TextExtent e = m_c.text(at, text, l);
            m_labels.keep_free({at.x, at.y, e.width, e.height});
        }
    }
    void labels() {
        const Lettering bold{
            .size = 7.5, .bold = true, .ink = m_look.ink, .width = 0, .halo = 1.6 * m_look.halo};
        std::set<std::string> written;
        if (!m_o.geometry.empty()) {
            end_label(m_start, "Start", m_s.from_name, bold, written);
            end_label(m_end, "End", m_s.to_name, bold, written);
        }
        if (m_region != nullptr)
            write_places(sheet(), m_region->view(), written);
    }
    void end_label(PagePoint at, std::string_view what, const std::string& name, const Lettering& l,
                   std::set<std::string>& written) {
        // "47.0,-36.0" says nothing on a map.
        const std::string clean = printable(name);
        const bool named = !parse_lat_lon(name).has_value();
        const std::string text = named ? fmt::format("{}: {}", what, clean) : std::string(what);
        if (!m_labels.place(at, 7, text, l))
            static_cast<void>(m_labels.place(at, 7, std::string(what), l));
        written.insert(clean);
    }
    [[nodiscard]] MapSheet sheet() { return {m_c, m_view, m_labels, m_look}; }

    Canvas& m_c;
    const SheetContent& m_s;
    const Option& m_o;
    const Region* m_region;
    const MapView& m_view;
    const MapLook& m_look;
    MapLabels m_labels;
    PagePoint m_start, m_end;
};

}  // namespace

void draw_route_map(Canvas& canvas, const PageBox& box, const SheetContent& content, const Region* region) {
    const MapView view(box, shown_points(content), std::min(most_margin, box.height * 0.14), least_metres);
    draw_route_map(canvas, view, content, region, paper_look);
}

void draw_route_map(Canvas& canvas, const MapView& view, const SheetContent& content, const Region* region,
                    const MapLook& look) {
    RouteMap(canvas, view, content, region, look).draw();
}

}  // namespace loamway
