// SPDX-License-Identifier: Apache-2.0
#include "stop_insets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "map_view.h"
#include "region_layers.h"
#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double least_width = 84, gap = 5, caption = 10;
constexpr double reach_m = 350;  // to each side of the stop

std::vector<const SheetStop*> stops_shown(const SheetContent& s) {
    std::vector<const SheetStop*> out;
    for (const SheetStop& stop : s.stops)
        if (stop.stop->kind != "start")
            out.push_back(&stop);
    return out;
}

/// The way near the stop, in pieces, so that what lies far away is not drawn.
std::vector<std::vector<GeoPoint>> way_near(const Option& o, GeoPoint p) {
    std::vector<std::vector<GeoPoint>> out;
    bool open = false;
    for (std::size_t i = 0; i + 1 < o.geometry.size(); ++i) {
        const double length = distance(o.geometry[i], o.geometry[i + 1]).metres();
        const double away =
            std::min(distance(o.geometry[i], p).metres(), distance(o.geometry[i + 1], p).metres());
        if (away > 2 * reach_m + length) {
            open = false;
            continue;
        }
        if (!open)
            out.push_back({o.geometry[i]});
        out.back().push_back(o.geometry[i + 1]);
        open = true;
    }
    return out;
}

void draw_inset(Canvas& c, const PageBox& box, const SheetContent& s, const SheetStop& stop,
                const Region& region) {
    const PageBox map{box.x, box.y, box.width, box.height - caption};
    const MapView view(map, {&stop.stop->point, 1}, 2, 2 * reach_m);
    const Fill paper{.ink = white_ink};
    c.rectangle(map, &paper, nullptr);
    draw_region_layers(c, view, region.view());
    {
        const Canvas::Frame frame(c);
        c.clip(map);
        for (const auto& piece : way_near(*s.option, stop.stop->point)) {
            const std::vector<PagePoint> line = view.line(piece);
            if (line.size() < 2)
                continue;
            c.line(line, {.ink = white_ink, .width = 5.4});
            c.line(line, {.ink = shade::ink, .width = 3.2});
        }
        draw_knot(c, view.at(stop.stop->point), 6, *stop.stop, stop.number);
    }
    const Stroke edge{.ink = shade::ink, .width = 0.8};
    c.rectangle(map, nullptr, &edge);
    std::string text = fmt::format("{} {}", s.units.long_unit(), stop.total);
    if (!stop.side.empty())
        text += ", " + stop.side;
    c.text({map.centre().x, map.bottom() + 1.5}, fmt::format("[{}] {}", stop.number, text),
           {.size = 6.8,
            .bold = true,
            .ink = shade::ink,
            .align = Align::centre,
            .width = map.width,
            .most_lines = 1});
}

}  // namespace

bool has_insets(const SheetContent& content, const Region* region) {
    return region != nullptr && !content.option->geometry.empty() && !stops_shown(content).empty();
}

void draw_stop_insets(Canvas& canvas, const PageBox& strip, const SheetContent& content,
                      const Region& region) {
    const std::vector<const SheetStop*> stops = stops_shown(content);
    const auto fit =
        static_cast<std::size_t>(std::max(1.0, std::floor((strip.width + gap) / (least_width + gap))));
    const std::size_t shown = std::min(stops.size(), fit);
    // Few stops do not make wide pictures of little.
    const double width = std::min((strip.width + gap) / static_cast<double>(shown) - gap, 150.0);
    for (std::size_t i = 0; i < shown; ++i)
        draw_inset(canvas, {strip.x + static_cast<double>(i) * (width + gap), strip.y, width, strip.height},
                   content, *stops[i], region);
}

}  // namespace loamway
