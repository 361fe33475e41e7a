// SPDX-License-Identifier: Apache-2.0
#include "map_furniture.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <vector>

#include "loamway/base/names.h"
#include "loamway/base/surface.h"

namespace loamway {

namespace {

constexpr double place_area = 6000;  // square points of map to each name

}  // namespace

PageBox around(PagePoint p, double radius) {
    return {p.x - radius, p.y - radius, 2 * radius, 2 * radius};
}

void draw_north_arrow(const MapSheet& map) {
    const PagePoint at{map.view.box().right() - 13, map.view.box().y + 20};
    const std::array<PagePoint, 4> arrow{
        {{at.x, at.y - 10}, {at.x + 5, at.y + 6}, {at.x, at.y + 3}, {at.x - 5, at.y + 6}}};
    const Fill black{.ink = map.look.ink};
    const Stroke edge{.ink = map.look.paper, .width = 1};
    map.canvas.polygon(arrow, nullptr, &edge);
    map.canvas.polygon(arrow, &black, nullptr);
    map.canvas.text({at.x, at.y - 10}, "N",
                    {.size = 7,
                     .bold = true,
                     .ink = map.look.ink,
                     .align = Align::centre,
                     .rise = Rise::bottom,
                     .halo = 1.2 * map.look.halo});
    map.labels.keep_free({at.x - 8, at.y - 19, 16, 28});
}
void draw_scale_bar(const MapSheet& map, const UnitWords& units) {
    const double unit = units.long_unit_m();
    const double most = 90 / map.view.points_per_metre() / unit;
    const double power = std::pow(10, std::floor(std::log10(most)));
    double length = power;
    for (const double factor : {2.0, 5.0})
        if (factor * power <= most)
            length = factor * power;
    const double wide = length * unit * map.view.points_per_metre();
    const PagePoint at{map.view.box().x + 8, map.view.box().bottom() - 9};
    const Ink& paper = map.look.paper;
    const Fill back_fill{.ink = {paper.red, paper.green, paper.blue, 0.85}};
    const Fill black{.ink = map.look.ink};
    const Stroke thin{.ink = map.look.ink, .width = 0.6};
    const PageBox back{at.x - 4, at.y - 12, wide + 12, 18};
    map.canvas.rectangle(back, &back_fill, nullptr);
    map.canvas.rectangle({at.x, at.y - 1, wide, 3}, &back_fill, &thin);
    map.canvas.rectangle({at.x, at.y - 1, wide / 2, 3}, &black, nullptr);
    const std::string text = length * unit < 1000 && !units.imperial()
                                 ? fmt::format("{:.0f} m", length * 1000)
                                 : fmt::format("{:g} {}", length, units.long_unit());
    map.canvas.text({at.x, at.y - 2}, text, {.size = 6.5, .ink = map.look.ink, .rise = Rise::bottom});
    map.labels.keep_free(back);
}

void write_places(const MapSheet& map, const RegionView& r, std::set<std::string>& written) {
    const auto view_holds = [&map](GeoPoint p) { return map.view.box().contains(around(map.view.at(p), 3)); };
    std::vector<std::uint32_t> order;
    for (std::uint32_t i = 0; i < r.places.size(); ++i)
        // Shops and the like carry names that help nobody on the road.
        if (r.places[i].kind != PlaceKind::other && view_holds({r.places[i].lat_e7, r.places[i].lon_e7}))
            order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&r](std::uint32_t a, std::uint32_t b) { return r.places[a].kind < r.places[b].kind; });
    const auto most = static_cast<std::size_t>(map.view.box().width * map.view.box().height / place_area);
    std::size_t count = 0;
    for (const std::uint32_t i : order) {
        if (count >= most)
            break;
        const PlaceRecord& p = r.places[i];
        const std::string name = printable(r.string(p.name));
        if (name.empty() || !written.insert(name).second)
            continue;
        const bool town = p.kind == PlaceKind::city || p.kind == PlaceKind::town;
        const Lettering l{
            .size = town ? 7.5 : 6.5, .italic = !town, .ink = map.look.name, .halo = 1.4 * map.look.halo};
        const PagePoint at = map.view.at({p.lat_e7, p.lon_e7});
        if (!map.labels.place(at, 4, name, l))
            continue;
        ++count;
        const Fill dot{.ink = map.look.name};
        const Stroke edge{.ink = map.look.paper, .width = 0.6};
        map.canvas.circle(at, town ? 1.8 : 1.3, &dot, &edge);
    }
}

Stroke surface_stroke(const MapLook& look, std::size_t surface, double width) {
    Stroke out{.ink = look.surfaces[surface], .width = width};
    if (surface == static_cast<std::size_t>(SurfaceClass::earth)) {
        out.dash = {3.2, 1.6};
        out.round = false;
    }
    return out;
}

void draw_surface_key(const MapSheet& map) {
    constexpr std::array<std::string_view, surface_class_count> words{"paved", "gravel", "earth"};
    constexpr double sample = 14, gap = 4, high = 12;
    const Lettering l{.size = 6.5, .ink = map.look.ink, .rise = Rise::middle};
    double wide = gap;
    for (const std::string_view word : words)
        wide += sample + map.canvas.measure(word, l).width + 3 * gap;
    const PageBox& page = map.view.box();
    const PageBox back{page.right() - wide - 4, page.bottom() - high - 4, wide, high};
    const Ink& paper = map.look.paper;
    const Fill back_fill{.ink = {paper.red, paper.green, paper.blue, 0.85}};
    map.canvas.rectangle(back, &back_fill, nullptr);
    double x = back.x + gap;
    const double y = back.centre().y;
    for (std::size_t c = 0; c < words.size(); ++c) {
        map.canvas.line({x, y}, {x + sample, y}, surface_stroke(map.look, c, 1.8));
        x += sample + gap;
        x += map.canvas.text({x, y}, words[c], l).width + 2 * gap;
    }
    map.labels.keep_free(back);
}

}  // namespace loamway
