// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/region_picture.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <set>

#include "loamway/base/error.h"
#include "loamway/report/sheet.h"
#include "map_furniture.h"
#include "region_layers.h"
#include "route_map.h"
#include "sheet_moves.h"

namespace loamway {

namespace {

constexpr int least_dots = 64, most_dots = 4096;
constexpr double dots_per_point = 96.0 / 72;
constexpr double least_metres = 50;

void check(const RegionPictureSetup& setup) {
    for (const int dots : {setup.width, setup.height})
        if (dots < least_dots || dots > most_dots)
            throw Error(ErrorKind::input, fmt::format("a picture of {} dots cannot be drawn", dots),
                        fmt::format("{} to {} dots a side", least_dots, most_dots));
    if (setup.south_west.lat_e7 > setup.north_east.lat_e7)
        throw Error(ErrorKind::input, "the box's south lies north of its north", "west,south,east,north");
}

/// The box with its middle first: a wide one is not taken for the narrow one on the other side of the world.
std::array<GeoPoint, 3> shown_points(const RegionPictureSetup& setup) {
    const GeoPoint low = setup.south_west, high = setup.north_east;
    const double wide = high.lon() - low.lon() + (high.lon_e7 < low.lon_e7 ? 360 : 0);
    return {GeoPoint::from_degrees((low.lat() + high.lat()) / 2, std::remainder(low.lon() + wide / 2, 360)),
            low, high};
}

void draw_ground(Canvas& canvas, const MapView& view, const Region& region, const MapLook& look,
                 const UnitWords& units) {
    const Fill paper{.ink = look.paper};
    canvas.rectangle(view.box(), &paper, nullptr);
    draw_region_layers(canvas, view, region.view(), look);
    MapLabels labels(canvas, view.box());
    const MapSheet map{canvas, view, labels, look};
    draw_north_arrow(map);
    draw_scale_bar(map, units);
    draw_surface_key(map);
    std::set<std::string> written;
    write_places(map, region.view(), written);
}

}  // namespace

std::string draw_region_picture(const Region& region, const RegionPictureSetup& setup) {
    check(setup);
    CanvasSetup paper;
    paper.format = PictureFormat::png;
    // A point of paper for each dot, and everything drawn larger: the last row and column are filled, too.
    paper.width = setup.width;
    paper.height = setup.height;
    paper.dots_per_inch = 72;
    Canvas canvas(paper);
    canvas.scale(dots_per_point);
    const std::array<GeoPoint, 3> points = shown_points(setup);
    const MapView view({0, 0, setup.width / dots_per_point, setup.height / dots_per_point}, points, 0,
                       least_metres);
    const MapLook& look = setup.night ? night_look : day_look;
    if (setup.plan == nullptr) {
        draw_ground(canvas, view, region, look, UnitWords(setup.units));
    } else {
        SheetSetup sheet;
        sheet.option = setup.option;
        sheet.region = &region;
        draw_route_map(canvas, view, day_moves({setup.plan, 1}, sheet).front(), &region, look);
    }
    return canvas.finish();
}

}  // namespace loamway
