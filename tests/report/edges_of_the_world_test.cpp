// SPDX-License-Identifier: Apache-2.0
// Maps across the 180th meridian, close to the poles, of the whole world and of a few metres: what is drawn
// lies where it should, and no line runs right across. A box of more than half the world was taken for the
// narrow one on its other side, a road over the far side of the world was drawn across the near one, and a
// stop beside the date line was not in the middle of its little map.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "loamway/report/region_picture.h"
#include "loamway/report/sheet.h"
#include "picture_reading.h"
#include "support/sample_plan.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

GeoPoint place(double lat, double lon) {
    return GeoPoint::from_degrees(lat, std::remainder(lon, 360.0));
}
int light(std::uint32_t pixel) {
    return static_cast<int>((pixel >> 16 & 255) + (pixel >> 8 & 255) + (pixel & 255));
}
Region road(GeoPoint a, GeoPoint b) {
    TinyMap m;
    m.edge(m.node(a), m.node(b), {{"highway", "primary"}}, SurfaceOdds{200, 0, 0}, true, "C 7");
    return Region::from_data(m.build());
}
PngRead picture(const Region& region, GeoPoint south_west, GeoPoint north_east) {
    return read_png(draw_region_picture(
        region, {.south_west = south_west, .north_east = north_east, .width = 400, .height = 300}));
}

TEST(EdgesOfTheWorld, APictureOverTheDateLineIsAsElsewhere) {
    const auto around = [](double lon) {
        return picture(road(place(53.49, lon - 0.03), place(53.51, lon + 0.02)), place(53.47, lon - 0.05),
                       place(53.53, lon + 0.05));
    };
    const PngRead elsewhere = around(13);
    for (const double lon : {180.0, -180.0, 179.98, -179.98}) {
        const PngRead here = around(lon);
        int others = 0;
        for (std::size_t i = 0; i < here.pixels.size(); ++i)
            others += here.pixels[i] == elsewhere.pixels[i] ? 0 : 1;
        EXPECT_LT(others, 100) << lon;
    }
}

TEST(EdgesOfTheWorld, AWideBoxIsNotTheNarrowOneBehindIt) {
    // A degree is a dot and a little more.
    for (const double middle : {0.0, 90.0, 180.0}) {
        const PngRead png = picture(road(place(0, middle - 20), place(0, middle + 40)),
                                    place(-60, middle - 179), place(60, middle + 179));
        EXPECT_LT(light(png.pixel(190, 150)), 500) << middle;
        EXPECT_LT(light(png.pixel(230, 150)), 500) << middle;
        EXPECT_GT(light(png.pixel(160, 150)), 700) << middle;
        EXPECT_GT(light(png.pixel(260, 150)), 700) << middle;
    }
}

TEST(EdgesOfTheWorld, ARoadOnTheFarSideIsNotDrawnAcross) {
    for (const double middle : {0.0, 100.0}) {
        const PngRead png = picture(road(place(0, middle + 179), place(0, middle + 182)),
                                    place(-60, middle - 175), place(60, middle + 175));
        for (const int x : {30, 100, 200, 300, 370})
            EXPECT_GT(light(png.pixel(x, 150)), 700) << middle << " " << x;
    }
}

TEST(EdgesOfTheWorld, ALongRoadCrossesAViewOfAFewMetres) {
    const Region region = road(place(0, -30), place(0, 30));
    const PngRead png = read_png(draw_region_picture(
        region, {.south_west = place(0, 10), .north_east = place(0, 10), .width = 4096, .height = 3072}));
    for (const int x : {10, 1000, 2048, 3000, 4080}) {
        EXPECT_LT(light(png.pixel(x, 1536)), 500) << x;
        EXPECT_GT(light(png.pixel(x, 1400)), 700) << x;
    }
}

using Move = std::function<GeoPoint(GeoPoint)>;

/// The sample's way and all that stands beside it, elsewhere.
Plan sample_plan_at(const Move& move) {
    Plan p = sample_plan();
    p.region.digest.clear();
    // Room for the little maps of its stops.
    p.options.front().stops.resize(2);
    p.cautions.clear();
    p.move.from = move(p.move.from);
    p.move.to = move(p.move.to);
    for (Option& o : p.options) {
        for (GeoPoint& g : o.geometry)
            g = move(g);
        for (PlanStop& s : o.stops)
            s.point = move(s.point);
        for (Flag& f : o.flags)
            if (f.point)
                f.point = move(*f.point);
    }
    return p;
}
std::string svg_at(const Move& move) {
    const Plan plan = sample_plan_at(move);
    TinyMap m;
    const auto& way = plan.options.front().geometry;
    for (std::size_t i = 1; i < way.size(); ++i)
        m.edge(m.node(way[i - 1]), m.node(way[i]), {{"highway", "secondary"}}, SurfaceOdds{200, 0, 0});
    const Region region = Region::from_data(m.build());
    return draw_sheet(plan, {.format = PictureFormat::svg, .region = &region});
}

/// Of all lines and shapes of an SVG, in its order, but for its letters and for squares, which say places in
/// figures.
std::vector<double> path_numbers(std::string svg) {
    for (std::size_t at = svg.find("<symbol"); at != std::string::npos; at = svg.find("<symbol", at))
        svg.erase(at, svg.find("</symbol>", at) - at);
    std::vector<double> out;
    for (std::size_t at = svg.find(" d=\""); at != std::string::npos; at = svg.find(" d=\"", at)) {
        const std::string path = svg.substr(at + 4, svg.find('"', at + 4) - at - 4);
        at += 4;
        constexpr std::ptrdiff_t most_closed = 100;
        if (std::count(path.begin(), path.end(), 'Z') > most_closed)
            continue;
        EXPECT_EQ(path.find_first_not_of("MLCZ -.0123456789"), std::string::npos) << path;
        for (const char* p = path.c_str(); *p != '\0';)
            if (*p == '-' || (*p >= '0' && *p <= '9')) {
                char* after = nullptr;
                out.push_back(std::strtod(p, &after));
                p = after;
            } else {
                ++p;
            }
    }
    return out;
}

TEST(EdgesOfTheWorld, ASheetOverTheDateLineIsAsElsewhere) {
    const auto moved = [](double by) {
        return path_numbers(svg_at([by](GeoPoint p) { return place(p.lat(), p.lon() + by); }));
    };
    const std::vector<double> elsewhere = moved(0);
    ASSERT_GT(elsewhere.size(), 1000u);
    // In the middle of the way, at its start, and at its second stop.
    const double stop = sample_plan().options.front().stops[1].point.lon();
    for (const double lon : {13.28, 13.2, stop, stop - 0.0001, stop + 0.0001})
        for (const double by : {180 - lon, -180 - lon}) {
            const std::vector<double> here = moved(by);
            ASSERT_EQ(here.size(), elsewhere.size()) << by;
            double most = 0;
            for (std::size_t i = 0; i < here.size(); ++i)
                most = std::max(most, std::abs(here[i] - elsewhere[i]));
            EXPECT_LT(most, 0.1) << by;
        }
}

// Round the pole, the way crosses every meridian.
TEST(EdgesOfTheWorld, ASheetAtAPoleIsFiniteAndOfABoundedSize) {
    const std::size_t usual = svg_at([](GeoPoint p) { return p; }).size();
    for (const double side : {1.0, -1.0})
        for (const double turns : {1.0, 300.0, 2000.0}) {
            const std::string svg = svg_at([&](GeoPoint p) {
                return place(side * (p.lat() - 53.5 + 89.7), 170 + (p.lon() - 13.2) * turns);
            });
            EXPECT_LT(svg.size(), 2 * usual) << turns;
            for (const double n : path_numbers(svg))
                EXPECT_TRUE(std::abs(n) < 1.1e6) << n;
            for (const char* never : {"nan", "inf"})
                EXPECT_EQ(svg.find(std::string("\"") + never), std::string::npos);
            EXPECT_NE(svg.find("[2] km"), std::string::npos) << "little maps of stops";
        }
}

}  // namespace
}  // namespace loamway
