// SPDX-License-Identifier: Apache-2.0
// What is written is what is read, and the same arrays give the same bytes.
#include <gtest/gtest.h>

#include <cstring>
#include <limits>

#include "../../src/region/check.h"
#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::drawn_region;
using test::slurp;
using test::TempDir;

template <class T>
std::string raw(std::span<const T> a) {
    std::string s(a.size_bytes(), '\0');
    if (!a.empty())
        std::memcpy(s.data(), a.data(), a.size_bytes());
    return s;
}

std::vector<std::string> arrays_of(const RegionView& v) {
    std::vector<std::string> all;
    each_array(v, [&all](SectionId, const auto& a) { all.push_back(raw(a)); });
    return all;
}

TEST(RegionRoundTrip, EveryArrayAndFactComesBack) {
    const TempDir dir;
    const RegionData data = drawn_region();
    for (const auto& array : arrays_of(data.view()))
        ASSERT_FALSE(array.empty()) << "the drawn region must have something in every section";
    const std::string path = dir.file("a.region");
    write_region(data, path);
    const Region region = Region::open(path);
    EXPECT_EQ(arrays_of(region.view()), arrays_of(data.view()));
    EXPECT_EQ(region.meta(), data.meta);
    EXPECT_EQ(region.path(), path);
    EXPECT_EQ(region.digest().size(), 32u);
    verify_region(path);
}

TEST(RegionRoundTrip, ViewOutlivesMovesOfItsRegion) {
    const TempDir dir;
    write_region(drawn_region(), dir.file("a.region"));
    Region first = Region::open(dir.file("a.region"));
    const Region second = std::move(first);
    EXPECT_EQ(second.view().string(second.view().edges[0].name), "Mühlenweg");
    const Region third = second;
    EXPECT_EQ(arrays_of(third.view()), arrays_of(second.view()));
}

TEST(RegionRoundTrip, SameArraysGiveSameBytes) {
    const TempDir dir;
    write_region(drawn_region(), dir.file("a.region"));
    write_region(drawn_region(), dir.file("b.region"));
    EXPECT_EQ(slurp(dir.file("a.region")), slurp(dir.file("b.region")));
    EXPECT_EQ(slurp(dir.file("a.region")).size() % 64, 0u);
}

TEST(RegionRoundTrip, DigestTellsContentApartAndIgnoresTheFileName) {
    const TempDir dir;
    RegionData data = drawn_region();
    write_region(data, dir.file("a.region"));
    write_region(data, dir.file("b.region"));
    const std::string digest = Region::open(dir.file("a.region")).digest();
    EXPECT_EQ(Region::open(dir.file("b.region")).digest(), digest);
    EXPECT_EQ(Region::from_data(data).digest(), digest);
    data.meta.map_date = "2026-05-02";
    EXPECT_NE(Region::from_data(data).digest(), digest);
    data = drawn_region();
    data.edge_way[0] += 1;
    EXPECT_NE(Region::from_data(data).digest(), digest);
}

TEST(RegionRoundTrip, FactsOfTheRecipe) {
    const TempDir dir;
    RegionData data = drawn_region();
    ASSERT_FALSE(data.meta.daylight_from_width_m);
    data.meta.units = "imperial";
    data.meta.drives_on_right = false;
    data.meta.permit_from_width_m = 2.591;
    data.meta.escort_from_width_m = 3.66;
    data.meta.daylight_from_width_m = 3.1;
    data.meta.national_height_m = 4.27;
    data.meta.limits = "name = \"x\"\ntitle = \"y\"\n";
    data.meta.currency = "CU";
    data.meta.wide_move_hours = {6, 20.5};
    data.meta.school_hours = {7.5, 16};
    write_region(data, dir.file("a.region"));
    EXPECT_EQ(Region::open(dir.file("a.region")).meta(), data.meta);
    data.meta.units = "nautical";
    EXPECT_THROW(write_region(data, dir.file("a.region")), Error);
}

TEST(RegionRoundTrip, RegionWithoutHeights) {
    const TempDir dir;
    RegionData data = drawn_region();
    data.edge_climb.clear();
    data.heights.clear();
    data.meta.elevation.clear();
    write_region(data, dir.file("flat.region"));
    const Region region = Region::open(dir.file("flat.region"));
    EXPECT_FALSE(region.view().has_heights());
    EXPECT_TRUE(region.view().edge_heights_dm(EdgeId(0u)).empty());
}

TEST(RegionRoundTrip, RegionWithoutRoads) {
    const TempDir dir;
    write_region(TinyMap().build(), dir.file("empty.region"));
    const Region region = Region::open(dir.file("empty.region"));
    EXPECT_EQ(region.view().node_count(), 0u);
    EXPECT_EQ(region.view().edge_count(), 0u);
    EXPECT_EQ(region.view().string(0), "");
    verify_region(dir.file("empty.region"));
}

TEST(RegionRoundTrip, ReplacesAnOlderFile) {
    const TempDir dir;
    const std::string path = dir.write("a.region", "old");
    write_region(drawn_region(), path);
    EXPECT_NO_THROW(verify_region(path));
    EXPECT_EQ(dir.entries(), 1u);
}

TEST(RegionRoundTrip, LargeFilesAreMapped) {
    const TempDir dir;
    write_region(drawn_region(), dir.file("a.region"));
    // Reading from a mapping must see the same bytes as reading into memory.
    const FileBytes mapped(dir.file("a.region"), 0);
    const RegionContent content = read_region(mapped.bytes(), "a", Checksums::of_everything);
    EXPECT_EQ(arrays_of(content.view), arrays_of(drawn_region().view()));
}

TEST(RegionWrite, RefusesArraysThatDoNotHoldTogether) {
    const TempDir dir;
    RegionData data = drawn_region();
    data.arcs[1].head += 1;
    try {
        write_region(data, dir.file("a.region"));
        FAIL() << "written";
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::internal);
        EXPECT_NE(std::string(e.what()).find("arc 1"), std::string::npos) << e.what();
    }
    EXPECT_EQ(dir.entries(), 0u);
    EXPECT_THROW(static_cast<void>(Region::from_data(data)), Error);
}

TEST(RegionWrite, RefusesFactsThatCouldNotBeReadAgain) {
    const TempDir dir;
    RegionData data = drawn_region();
    data.meta.name = "\xff";
    EXPECT_THROW(write_region(data, dir.file("a.region")), Error);
    data = drawn_region();
    data.meta.odds_factor = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(write_region(data, dir.file("a.region")), Error);
    data = drawn_region();
    data.meta.attribution.assign(std::size_t{1} << 20, 'x');
    try {
        write_region(data, dir.file("a.region"));
        FAIL() << "written";
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::limit);
    }
    EXPECT_EQ(dir.entries(), 0u);
}

TEST(RegionWrite, KnowsWhat32BitsCannotAddress) {
    // Only sizes are looked at, so a span may claim more than there is.
    const std::uint8_t byte = 0;
    RegionView v;
    v.shapes = std::span<const std::uint8_t>(&byte, 0xffffffffu);
    const Fault fault = size_fault(v);
    ASSERT_TRUE(fault);
    EXPECT_NE(fault->find("bytes of shapes"), std::string::npos) << *fault;
    v.shapes = v.shapes.first(0xfffffffeu);
    EXPECT_FALSE(size_fault(v));
}

TEST(RegionOpen, MissingFileAndAddressAreNotDamage) {
    const TempDir dir;
    try {
        static_cast<void>(Region::open(dir.file("none.region")));
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
    }
    try {
        static_cast<void>(Region::open("http://example.org/a.region"));
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
    }
    EXPECT_THROW(static_cast<void>(Region::open(dir.path())), Error);
}

}  // namespace
}  // namespace loamway
