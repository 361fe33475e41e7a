// SPDX-License-Identifier: Apache-2.0
// Region files with turned bits and lost ends: `verify` sees each, and everything that opens one refuses it
// in a line or works on it to the end. A sample runs with the other tests; the whole is asked for by
//   LOAMWAY_TEST_FLIPS=100000 build/tests/test_faults --gtest_filter=DamagedRegion.*
// which takes the real map when it is there (scripts/fetch_maps), and each byte of the invented county.
#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <map>
#include <optional>
#include <random>

#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "loamway/desk/correction_book.h"
#include "loamway/desk/shelf.h"
#include "loamway/exchange/tracks.h"
#include "loamway/graph/corrected_region.h"
#include "loamway/region/region_stats.h"
#include "loamway/report/region_picture.h"
#include "loamway/report/sheet.h"
#include "loamway/report/text_report.h"
#include "program.h"
#include "region_in_memory.h"
#include "support/region_bytes.h"
#include "tile.h"

namespace loamway {
namespace {

using test::FileInMemory;

/// A round that takes longer hangs: the signal ends the program, and the test with it.
constexpr unsigned longest_round_s = 300;

std::size_t asked_flips() {
    const char* wish = std::getenv("LOAMWAY_TEST_FLIPS");
    return wish != nullptr ? std::strtoull(wish, nullptr, 10) : 0;
}

/// What became of the rounds.
struct Tally {
    std::map<std::string, std::size_t> count;
    void add(const std::string& what) { ++count[what]; }
    ~Tally() {
        for (const auto& [what, n] : count)
            std::cout << "  " << n << " " << what << "\n";
    }
};

/// Runs it; an Error that blames the file or the question is well, anything else is not.
template <class F>
bool done_or_refused(const std::string& what, Tally& tally, F&& f) {
    try {
        f();
        tally.add(what);
        return true;
    } catch (const Error& e) {
        EXPECT_NE(e.kind(), ErrorKind::internal) << what << ": " << e.what();
        EXPECT_TRUE(test::unprintable_in(e.what()).empty()) << what;
        tally.add(what + ", refused as " + std::string(error_kind_name(e.kind())));
    } catch (const std::exception& e) {
        ADD_FAILURE() << what << ": " << e.what();
    }
    return false;
}

bool verify_sees(const std::string& path) {
    try {
        verify_region(path);
        return false;
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::damaged) << e.what();
        return true;
    }
}

struct Ends {
    GeoPoint from, to;
};

std::string typed(GeoPoint p) {
    return std::to_string(p.lat_e7 / 1e7) + "," + std::to_string(p.lon_e7 / 1e7);
}

/// Every index, string and shape there is.
void follow_all(const Region& region, Tally& tally) {
    done_or_refused("followed", tally, [&] { (void)test::ViewWalk(region.view()).sum(); });
    done_or_refused("stats", tally, [&] { (void)region_stats(region.view()); });
}

/// What is drawn of it, and corrections over it.
void look_around(const Region& region, const Ends& ends, Tally& tally) {
    done_or_refused("tiles", tally, [&] {
        const TileMaker tiles(region.view());
        for (const int z : {0, 9, 13}) {
            const double n = 1 << z;
            const double lat = ends.from.lat_e7 * 1e-7 * 3.14159265358979 / 180;
            const auto x = static_cast<std::uint32_t>((ends.from.lon_e7 * 1e-7 + 180) / 360 * n);
            const auto y = static_cast<std::uint32_t>(
                (1 - std::log(std::tan(lat) + 1 / std::cos(lat)) / 3.14159265358979) / 2 * n);
            (void)tiles.make(nullptr, {z, x, y});
        }
    });
    done_or_refused("corrections", tally, [&] {
        std::vector<Correction> all(3);
        for (std::size_t i = 0; i < all.size(); ++i) {
            all[i].id = "c" + std::to_string(i);
            all[i].line = {i == 1 ? ends.to : ends.from};
        }
        all[0].kind = CorrectionKind::surface;
        all[0].value = "gravel";
        all[1].kind = CorrectionKind::closed;
        all[2].kind = CorrectionKind::stop;
        all[2].value = "apron";
        const CorrectedRegion corrected(region, all, Instant{1'780'000'000});
        (void)make_tile(corrected.view(), &corrected, {12, 0, 0});
    });
}

/// A plan by what is opened, and what is made of it.
void plan_on(const std::string& path, const Ends& ends, bool drawings, Tally& tally) {
    done_or_refused("plans", tally, [&] {
        ShelfSetup setup;
        setup.region = path;
        setup.places = test::source_path("regions/demo/places.geojson");
        const Shelf shelf(setup);
        const std::string move = R"({"from":")" + typed(ends.from) + R"(","to":")" + typed(ends.to) +
                                 R"(","machine":"medium","trials":20,"depart":"2026-07-14T09:00"})";
        const Prepared prepared =
            shelf.prepare(shelf.read(parse_json(move, "move"), "move"), Instant{1'780'000'000});
        const Plan plan = make_plan(prepared.inputs);
        EXPECT_FALSE(plan_text(plan, {}).empty());
        EXPECT_FALSE(to_json(plan_to_json(plan)).empty());
        for (const Option& o : plan.options) {
            done_or_refused("tracks", tally, [&] {
                EXPECT_FALSE(to_gpx(plan, o.id).empty());
                EXPECT_FALSE(to_kml(plan, o.id).empty());
                EXPECT_FALSE(to_geojson(plan, o.id).empty());
                EXPECT_FALSE(to_stops_csv(plan, o.id).empty());
            });
            if (drawings)
                done_or_refused("sheets", tally, [&] {
                    EXPECT_FALSE(draw_sheet(plan, {.option = o.id, .region = &shelf.region()}).empty());
                });
        }
    });
}

class DamagedRegion : public ::testing::Test {
protected:
    /// A flip of one bit or a lost end, by turns; then what follows it.
    void damage_at_random(FileInMemory& file, const Ends& ends, std::size_t rounds, std::size_t plan_every) {
        std::uniform_int_distribution<std::size_t> where(0, file.size() - 1);
        std::size_t opened = 0;
        for (std::size_t i = 0; i < rounds; ++i) {
            ::alarm(longest_round_s);
            const std::size_t at = where(m_random);
            const auto bit = static_cast<unsigned char>(1u << (m_random() % 8));
            const bool cut = i % 10 == 9;
            cut ? file.cut(at) : file.flip(at, bit);
            if (!verify_sees(file.path()))
                ADD_FAILURE() << "round " << i << ": byte " << at << " is not seen";
            std::optional<Region> region;
            const char* what = cut ? "cut, opens" : "flipped, opens";
            if (done_or_refused(what, m_tally, [&] { region = Region::open(file.path()); })) {
                follow_all(*region, m_tally);
                if (opened % (asked_flips() > 0 ? 10 : 1) == 0)
                    look_around(*region, ends, m_tally);
                if (opened++ % plan_every == 0)
                    plan_on(file.path(), ends, opened % (4 * plan_every) == 1, m_tally);
            }
            cut ? file.make_whole() : file.flip(at, bit);
        }
        ::alarm(0);
    }
    void flip_each_byte(FileInMemory& file, std::size_t step) {
        std::size_t seen = 0, flips = 0;
        for (std::size_t at = 0; at < file.size(); at += at < 1024 ? 1 : step)
            for (unsigned bit = 0; bit < 8; ++bit) {
                if (at >= 1024 && bit != at * 7 % 8)
                    continue;
                file.flip(at, static_cast<unsigned char>(1u << bit));
                seen += verify_sees(file.path()) ? 1 : 0;
                ++flips;
                file.flip(at, static_cast<unsigned char>(1u << bit));
            }
        EXPECT_EQ(seen, flips);
        std::cout << "  " << flips << " flips, " << seen << " seen\n";
        EXPECT_FALSE(verify_sees(file.path())) << "the file was not whole at the end";
    }
    void SetUp() override { m_begin = std::chrono::steady_clock::now(); }
    void TearDown() override {
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - m_begin;
        std::cout << "  in " << took.count() << " s\n";
    }
    Tally m_tally;
    std::mt19937_64 m_random{1117};
    std::chrono::steady_clock::time_point m_begin;
};

const Ends county{GeoPoint::from_degrees(47.0856393, -35.6471584),
                  GeoPoint::from_degrees(47.2446997, -35.3997285)};

TEST_F(DamagedRegion, EachByteOfASmallOne) {
    FileInMemory file(test::slurp(test::demo_files().file("demo.region")));
    flip_each_byte(file, asked_flips() > 0 ? 1 : 499);
}

TEST_F(DamagedRegion, ASmallOneAtRandom) {
    FileInMemory file(test::slurp(test::demo_files().file("demo.region")));
    damage_at_random(file, county, std::max<std::size_t>(200, asked_flips() / 10), 4);
}

TEST_F(DamagedRegion, ARealOneAtRandom) {
    const std::string extract = std::string(LOAMWAY_MAPS_DIR) + "/neubrandenburg.osm.bz2";
    ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
    const test::TempDir dir;
    Recipe recipe;
    recipe.time_zone = "Europe/Berlin";
    write_region(assemble(read_extract(extract, {}), recipe, "nb", {}), dir.file("nb.region"));
    FileInMemory file(test::slurp(dir.file("nb.region")));
    std::cout << "  a file of " << file.size() << " bytes\n";
    const Ends ends{GeoPoint::from_degrees(53.5100, 13.3300), GeoPoint::from_degrees(53.5700, 13.1900)};
    damage_at_random(file, ends, std::max<std::size_t>(60, asked_flips()), asked_flips() > 0 ? 50 : 8);
}

}  // namespace
}  // namespace loamway
