// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/region_picture.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdlib>

#include "loamway/base/error.h"
#include "picture_reading.h"
#include "support/sample_plan.h"
#include "support/tiny_region.h"

using namespace loamway;

namespace {

constexpr std::array<std::pair<double, double>, 2> ends{{{53.50, 13.20}, {53.50, 13.40}}};

/// One road from west to east along 53.5 degrees north.
Region one_road(SurfaceOdds odds) {
    TinyMap m;
    const auto a = m.node(ends[0].first, ends[0].second), b = m.node(ends[1].first, ends[1].second);
    m.edge(a, b, {{"highway", "primary"}}, odds, true, "C 7");
    return Region::from_data(m.build());
}

RegionPictureSetup around_it() {
    return {.south_west = GeoPoint::from_degrees(53.47, 13.25),
            .north_east = GeoPoint::from_degrees(53.53, 13.35),
            .width = 400,
            .height = 300};
}

int light(std::uint32_t pixel) {
    return static_cast<int>((pixel >> 16 & 255) + (pixel >> 8 & 255) + (pixel & 255));
}

TEST(RegionPicture, TheRoadLiesWhereTheBoxSays) {
    const PngRead png = read_png(draw_region_picture(one_road(SurfaceOdds{200, 0, 0}), around_it()));
    EXPECT_EQ(png.width, 400);
    ASSERT_EQ(png.pixels.size(), 400U * 300U);
    for (const int x : {100, 200, 300}) {
        EXPECT_LT(light(png.pixel(x, 150)), 450) << "the road in the middle, at " << x;
        EXPECT_GT(light(png.pixel(x, 140)), 700) << "ground beside it, at " << x;
        EXPECT_GT(light(png.pixel(x, 160)), 700) << "ground beside it, at " << x;
    }
}

TEST(RegionPicture, SurfacesAreToldApartByInkAndDash) {
    const auto road_row = [](SurfaceOdds odds) {
        const PngRead png = read_png(draw_region_picture(one_road(odds), around_it()));
        std::vector<std::uint32_t> row;
        for (int x = 100; x < 300; ++x)
            row.push_back(png.pixel(x, 150));
        return row;
    };
    const auto hard = road_row({200, 0, 0}), gravel = road_row({0, 200, 0}), earth = road_row({0, 0, 200});
    EXPECT_NE(hard, gravel);
    const auto lightest = [](const std::vector<std::uint32_t>& row) {
        return light(*std::max_element(row.begin(), row.end(),
                                       [](std::uint32_t a, std::uint32_t b) { return light(a) < light(b); }));
    };
    EXPECT_LT(lightest(hard), 600);
    EXPECT_LT(lightest(gravel), 600);
    EXPECT_GT(lightest(earth), 600) << "gaps between the dashes";
}

TEST(RegionPicture, NightIsDark) {
    RegionPictureSetup setup = around_it();
    setup.night = true;
    const PngRead png = read_png(draw_region_picture(one_road(SurfaceOdds{200, 0, 0}), setup));
    std::int64_t sum = 0;
    for (const std::uint32_t pixel : png.pixels)
        sum += light(pixel);
    EXPECT_LT(sum / static_cast<std::int64_t>(png.pixels.size()), 90);
    EXPECT_GT(light(png.pixel(200, 150)), light(png.pixel(200, 140)) + 100) << "the road is seen";
    // The last row and column shone white.
    EXPECT_LT(light(png.pixel(399, 20)), 90);
    EXPECT_LT(light(png.pixel(20, 299)), 90);
}

TEST(RegionPicture, ThePlansWayIsOnIt) {
    Plan plan = sample_plan();
    plan.region.digest.clear();
    const Region region = one_road(SurfaceOdds{200, 0, 0});
    RegionPictureSetup setup = around_it();
    setup.south_west = GeoPoint::from_degrees(53.48, 13.1);
    setup.north_east = GeoPoint::from_degrees(53.80, 13.5);
    const std::string without = draw_region_picture(region, setup);
    setup.plan = &plan;
    const std::string with = draw_region_picture(region, setup);
    EXPECT_NE(with, without);
    EXPECT_EQ(with, draw_region_picture(region, setup)) << "same bytes";
    setup.night = true;
    EXPECT_NE(with, draw_region_picture(region, setup));
    setup.option = "no such option";
    EXPECT_THROW(static_cast<void>(draw_region_picture(region, setup)), Error);
    setup.option.clear();
    plan.region.digest = "another region's";
    EXPECT_THROW(static_cast<void>(draw_region_picture(region, setup)), Error);
}

TEST(RegionPicture, FarAwayThereIsGroundAlone) {
    RegionPictureSetup setup = around_it();
    setup.south_west = GeoPoint::from_degrees(-10, 179.9);
    setup.north_east = GeoPoint::from_degrees(-9.9, -179.9);  // across the date line
    const PngRead png = read_png(draw_region_picture(one_road(SurfaceOdds{200, 0, 0}), setup));
    EXPECT_EQ(png.pixel(200, 150), png.pixel(100, 75));
}

TEST(RegionPicture, BoxesAndSizesThatMakeNoSenseAreRefused) {
    const Region region = one_road(SurfaceOdds{200, 0, 0});
    for (const int dots : {0, -1, 63, 4097}) {
        RegionPictureSetup setup = around_it();
        setup.width = dots;
        EXPECT_THROW(static_cast<void>(draw_region_picture(region, setup)), Error) << dots;
    }
    RegionPictureSetup turned = around_it();
    std::swap(turned.south_west, turned.north_east);
    EXPECT_THROW(static_cast<void>(draw_region_picture(region, turned)), Error);
    RegionPictureSetup point = around_it();
    point.north_east = point.south_west;
    EXPECT_FALSE(draw_region_picture(region, point).empty()) << "a point is shown with what lies around";
}

}  // namespace
