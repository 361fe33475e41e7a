// SPDX-License-Identifier: Apache-2.0
// Files that are no elevation rasters, or damaged ones: one clear line each, and nothing but the file named
// is looked at.
#include <cpl_vsi.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>

#include "loamway/base/error.h"
#include "loamway/geodata/height_rasters.h"
#include "support/made_raster.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::MadeRaster;
using test::slurp;
using test::TempDir;
using test::write_raster;

double hill(double lon, double lat) {
    return 100 + 30 * std::sin(lon * 300) * std::cos(lat * 200);
}

float sample_one(const std::string& path) {
    HeightRasters rasters(std::vector<std::string>{path});
    const std::vector<GeoPoint> point{GeoPoint::from_degrees(53.95, 13.05)};
    std::vector<float> metres(1);
    rasters.sample(point, metres);
    return metres[0];
}

void expect_line(const std::string& path, ErrorKind kind, const std::string& part) {
    try {
        static_cast<void>(sample_one(path));
        ADD_FAILURE() << "read: " << path;
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), kind) << e.what();
        const std::string line = e.what();
        EXPECT_NE(line.find(part), std::string::npos) << line;
        EXPECT_TRUE(path.empty() || line.starts_with(path + ": ")) << line;
        EXPECT_EQ(line.find('\n'), std::string::npos) << line;
    }
}

TEST(StrangeRasters, NamesThatAreNoPlainFiles) {
    const TempDir dir;
    const std::string real = dir.file("a.tif");
    write_raster({.value = hill}, real);
    for (const std::string& name : {std::string("http://example.org/a.tif"), std::string("s3://a/a.tif"),
                                    "/vsicurl/http://example.org/a.tif" + std::string(), "/vsizip/" + real,
                                    "GTIFF_DIR:1:" + real, "NETCDF:" + real, std::string("")})
        expect_line(name, ErrorKind::input, "");
    expect_line("<VRTDataset rasterXSize=\"1\" rasterYSize=\"1\"/>", ErrorKind::not_found,
                "there is no such file");
    expect_line(dir.file("none.tif"), ErrorKind::not_found, "there is no such file");
    expect_line(dir.file("."), ErrorKind::input, "not a regular file");
    ASSERT_EQ(::mkfifo(dir.file("pipe.tif").c_str(), 0600), 0);
    expect_line(dir.file("pipe.tif"), ErrorKind::input, "not a regular file");
}

TEST(StrangeRasters, OtherKindsOfFiles) {
    const TempDir dir;
    const std::string none = "this is no elevation raster that can be read";
    expect_line(dir.write("text.tif", "these are no heights\n"), ErrorKind::input, none);
    expect_line(dir.write("empty.tif", ""), ErrorKind::input, none);
    expect_line(dir.write("head.tif", std::string("II*\0\x08\0\0\0", 8)), ErrorKind::input, none);
    expect_line(dir.write("zeros.hgt", std::string(100, '\0')), ErrorKind::input, none);
    // Descriptions of rasters elsewhere, whatever they are called.
    const std::string vrt =
        "<VRTDataset rasterXSize=\"10\" rasterYSize=\"10\"><VRTRasterBand dataType=\"Float32\" band=\"1\"><SimpleSource>"
        "<SourceFilename>/vsicurl/http://127.0.0.1:1/a.tif</SourceFilename></SimpleSource></VRTRasterBand></VRTDataset>";
    for (const char* name : {"remote.tif", "remote.vrt", "remote.asc"})
        expect_line(dir.write(name, vrt), ErrorKind::input, none);
    expect_line(
        dir.write(
            "wms.tif",
            "<GDAL_WMS><Service name=\"TMS\"><ServerUrl>http://127.0.0.1:1/</ServerUrl></Service></GDAL_WMS>"),
        ErrorKind::input, none);
}

/// A zipped tile of so many bytes, all of them the same.
void write_zipped(const std::string& path, const std::string& name, std::size_t bytes) {
    VSILFILE* const file = VSIFOpenL(("/vsizip/" + path + "/" + name).c_str(), "wb");
    ASSERT_NE(file, nullptr);
    const std::string part(std::size_t{1} << 16, '\0');
    for (std::size_t done = 0; done < bytes; done += part.size())
        VSIFWriteL(part.data(), 1, std::min(part.size(), bytes - done), file);
    VSIFCloseL(file);
}

// Tiles come zipped as .hgt.zip; nothing else is looked at inside a packed file.
TEST(StrangeRasters, ZippedTiles) {
    const TempDir dir;
    constexpr std::size_t tile = std::size_t{1201} * 1201 * 2;
    const std::string none = "this is no elevation raster that can be read";
    const std::string good = dir.file("N53E013.hgt.zip");
    write_zipped(good, "N53E013.hgt", tile);
    EXPECT_EQ(sample_one(good), 0.0F);
    const std::string bytes = slurp(good);
    const auto in_folder = [&](const char* folder, const std::string& content) {
        std::filesystem::create_directory(dir.file(folder));
        return dir.write(std::string(folder) + "/N53E013.hgt.zip", content);
    };
    expect_line(in_folder("cut", bytes.substr(0, bytes.size() / 2)), ErrorKind::input, none);
    expect_line(in_folder("text", "no zip, whatever it is called\n"), ErrorKind::input, none);
    expect_line(in_folder("empty", ""), ErrorKind::input, none);
    std::filesystem::create_directory(dir.file("bomb"));
    const std::string bomb = dir.file("bomb/N53E013.hgt.zip");
    write_zipped(bomb, "N53E013.hgt", std::size_t{300} << 20);
    EXPECT_LT(std::filesystem::file_size(bomb), std::uintmax_t{1} << 20);
    expect_line(bomb, ErrorKind::input, none);
    // Wrong inside: no word of it, or one clear line.
    std::string wrong = bytes;
    for (std::size_t at = 200; at < 260; ++at)
        wrong[at] = static_cast<char>(0x55 ^ wrong[at]);
    try {
        static_cast<void>(sample_one(in_folder("wrong", wrong)));
    } catch (const Error& e) {
        EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos) << e.what();
        EXPECT_TRUE(e.kind() == ErrorKind::damaged || e.kind() == ErrorKind::io ||
                    e.kind() == ErrorKind::input)
            << e.what();
    }
    // A raster in an archive of another name is not looked for.
    write_zipped(dir.file("a.zip"), "N53E013.hgt", tile);
    expect_line(dir.file("a.zip"), ErrorKind::input, none);
    expect_line(dir.write("a.tif", slurp(dir.file("a.zip"))), ErrorKind::input, none);
}

TEST(StrangeRasters, RastersThatHoldNoHeights) {
    const TempDir dir;
    const std::string path = dir.file("a.tif");
    write_raster({.value = hill, .bands = 3}, path);
    expect_line(path, ErrorKind::input, "this raster has 3 bands, heights have one");
    write_raster({.value = hill, .type = GDT_Byte, .colours = true}, path);
    expect_line(path, ErrorKind::input, "colours or complex numbers");
    write_raster({.value = hill, .type = GDT_CFloat32}, path);
    expect_line(path, ErrorKind::input, "colours or complex numbers");
    write_raster({.crs = "", .value = hill}, path);
    expect_line(path, ErrorKind::input, "does not say in which coordinate system it is");
    write_raster({.value = hill, .unit = "fathom"}, path);
    expect_line(path, ErrorKind::input, "the heights of this raster are in \"fathom\"");
}

TEST(StrangeRasters, HugeDimensions) {
    const TempDir dir;
    const std::string path = dir.file("huge.tif");
    // One strip of all rows: nothing of it can be had without all of it.
    write_raster({.width = 30'000,
                  .height = 30'000,
                  .pixel_x = 1e-5,
                  .pixel_y = 1e-5,
                  .options = {"BLOCKYSIZE=30000", "SPARSE_OK=TRUE", "COMPRESS=DEFLATE"}},
                 path);
    expect_line(path, ErrorKind::limit, "the blocks of this raster have 30000 x 30000 pixels");
    // Many pixels in small blocks: only those that are asked for are read.
    write_raster(
        {.width = 1'000'000,
         .height = 1'000'000,
         .pixel_x = 1e-6,
         .pixel_y = 1e-6,
         .options = {"TILED=YES", "BLOCKXSIZE=4096", "BLOCKYSIZE=4096", "SPARSE_OK=TRUE", "BIGTIFF=YES"},
         .no_data = -9999},
        path);
    EXPECT_TRUE(std::isnan(sample_one(path)));
    const std::string grid = dir.write(
        "huge.asc",
        "ncols 2000000000\nnrows 2000000000\nxllcorner 13\nyllcorner 53\ncellsize 0.000001\n1 2 3\n");
    EXPECT_THROW(static_cast<void>(sample_one(grid)), Error);
}

TEST(StrangeRasters, CutShort) {
    const TempDir dir;
    const std::string whole_path = dir.file("whole.tif");
    write_raster(
        {.value = hill, .options = {"COMPRESS=DEFLATE", "TILED=YES", "BLOCKXSIZE=32", "BLOCKYSIZE=32"}},
        whole_path);
    const std::string whole = slurp(whole_path);
    int refused = 0;
    for (std::size_t length = 0; length < whole.size(); length += 97) {
        const std::string path = dir.write("cut.tif", whole.substr(0, length));
        try {
            static_cast<void>(sample_one(path));
        } catch (const Error& e) {
            ++refused;
            EXPECT_TRUE(std::string(e.what()).starts_with(path + ": ")) << e.what();
        }
    }
    EXPECT_GT(refused, 20);
}

TEST(StrangeRasters, RandomDamage) {
    const TempDir dir;
    const std::string whole_path = dir.file("whole.tif");
    std::mt19937 random(5);
    for (const std::vector<std::string>& options : {std::vector<std::string>{},
                                                    {"COMPRESS=LZW", "PREDICTOR=2"},
                                                    {"TILED=YES", "BLOCKXSIZE=16", "BLOCKYSIZE=16"}}) {
        write_raster({.width = 40, .height = 30, .value = hill, .type = GDT_Int16, .options = options},
                     whole_path);
        const std::string whole = slurp(whole_path);
        std::uniform_int_distribution<std::size_t> where(0, whole.size() - 1), head(0, 400);
        std::uniform_int_distribution<int> byte(0, 255);
        for (int round = 0; round < 120; ++round) {
            std::string bytes = whole;
            for (int i = 0; i < 3; ++i)
                bytes[round % 2 == 0 ? where(random) : std::min(head(random), whole.size() - 1)] =
                    static_cast<char>(byte(random));
            const std::string path = dir.write("damaged.tif", bytes);
            try {
                const float metres = sample_one(path);
                EXPECT_TRUE(std::isnan(metres) || (metres >= -1000 && metres <= 10000));
            } catch (const Error& e) {
                EXPECT_TRUE(std::string(e.what()).starts_with(path + ": ")) << e.what();
            }
        }
    }
}

/// What lies beside a file has no say in it.
TEST(StrangeRasters, NeighboursAreNotRead) {
    const TempDir dir;
    const std::string path = dir.file("a.tif");
    write_raster({.value = hill}, path);
    const float before = sample_one(path);
    dir.write(
        "a.tif.aux.xml",
        "<PAMDataset><PAMRasterBand band=\"1\"><Scale>7</Scale><Offset>1000</Offset></PAMRasterBand></PAMDataset>");
    dir.write("a.tfw", "0.5\n0\n0\n-0.5\n1\n2\n");
    dir.write("a.tif.ovr", "no overviews");
    dir.write("a.tif.msk", "no mask");
    EXPECT_EQ(sample_one(path), before);
}

TEST(StrangeRasters, AsciiGridWithItsCoordinateSystem) {
    const TempDir dir;
    std::string text =
        "ncols 10\nnrows 8\nxllcorner 13\nyllcorner 53.92\ncellsize 0.01\nNODATA_value -9999\n";
    for (int row = 0; row < 8; ++row)
        for (int column = 0; column < 10; ++column)
            text += std::to_string(100 + 10 * column) + (column == 9 ? "\n" : " ");
    const std::string path = dir.write("a.asc", text);
    expect_line(path, ErrorKind::input, "does not say in which coordinate system it is");
    dir.write(
        "a.prj",
        "GEOGCS[\"WGS 84\",DATUM[\"WGS_1984\",SPHEROID[\"WGS 84\",6378137,298.257223563]],PRIMEM[\"Greenwich\",0],"
        "UNIT[\"degree\",0.0174532925199433]]");
    EXPECT_NEAR(sample_one(path), 145, 0.01);
}

}  // namespace
}  // namespace loamway
