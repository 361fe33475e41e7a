// SPDX-License-Identifier: Apache-2.0
// The committed hills of the demo county are what the generator makes, and hills they are.
#include <gdal_priv.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <memory>

#include "hills.h"
#include "support/test_files.h"

namespace loamway {
namespace {

constexpr std::uint64_t demo_seed = 16;  // as regions/demo/README.md says

TEST(DemoHills, CommittedRasterIsWhatTheGeneratorMakes) {
    const GroundGrid drawn = draw_hills(draw_county(demo_seed));
    GDALAllRegister();
    const std::string path = test::source_path("regions/demo/hills.tif");
    const std::unique_ptr<GDALDataset> file(
        GDALDataset::Open(path.c_str(), GDAL_OF_RASTER | GDAL_OF_READONLY));
    ASSERT_TRUE(file);
    ASSERT_EQ(file->GetRasterXSize(), drawn.width);
    ASSERT_EQ(file->GetRasterYSize(), drawn.height);
    double place[6] = {};
    ASSERT_EQ(file->GetGeoTransform(place), CE_None);
    EXPECT_NEAR(place[0], drawn.west, 1e-9);
    EXPECT_NEAR(place[3], drawn.north, 1e-9);
    EXPECT_NEAR(place[1], drawn.step, 1e-12);
    std::vector<std::int16_t> metres(drawn.metres.size());
    ASSERT_EQ(file->GetRasterBand(1)->RasterIO(GF_Read, 0, 0, drawn.width, drawn.height, metres.data(),
                                               drawn.width, drawn.height, GDT_Int16, 0, 0, nullptr),
              CE_None);
    EXPECT_TRUE(metres == drawn.metres);
}

TEST(DemoHills, TheCountyIsHillyButNoMountains) {
    const GroundGrid drawn = draw_hills(draw_county(demo_seed));
    const auto [low, high] = std::minmax_element(drawn.metres.begin(), drawn.metres.end());
    EXPECT_GE(*low, 30);
    EXPECT_LT(*low, 40);
    EXPECT_GT(*high, 110);
    EXPECT_LT(*high, 250);
    int steepest = 0;  // from pixel to pixel, 63 m apart
    for (std::size_t i = 1; i < drawn.metres.size(); ++i)
        if (i % static_cast<std::size_t>(drawn.width) != 0)
            steepest = std::max(steepest, std::abs(drawn.metres[i] - drawn.metres[i - 1]));
    EXPECT_GE(steepest, 3);
    EXPECT_LE(steepest, 9);
}

}  // namespace
}  // namespace loamway
