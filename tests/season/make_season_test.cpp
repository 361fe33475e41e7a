// SPDX-License-Identifier: Apache-2.0
// Seasons over the invented county: sums are the sums of their parts, moves are the planner's own, hours fit.
#include "loamway/season/season.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/season/season_picture.h"
#include "support/demo_region.h"
#include "support/test_files.h"

namespace loamway {
namespace {

class DemoSeason : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_dir = new test::TempDir();
        test::write_demo_region(s_dir->file("demo.region"));
        s_season = new Season(make(list("")));
    }
    static void TearDownTestSuite() {
        delete s_season;
        delete s_dir;
    }
    /// Four jobs, two machines, one of them on new belts that must be hauled, and a low-bed.
    static SeasonList list(const std::string& more) {
        const std::string file = test::source_path("examples/season/test.toml");
        const std::string text =
            "depart = \"2026-07-13\"\nplaces = \"../../regions/demo/places.geojson\"\nbelts = \"run-in\"\n"
            "trials = 10\nmodes = [\"drive\", \"haul\"]\n[conditions]\nair_c = 22\n"
            "[[machine]]\nname = \"Red\"\nmachine = \"../profiles/medium.toml\"\nbase = \"Nettle Farm yard\"\n"
            "ha_per_h = 4\n"
            "[[machine]]\nname = \"Green\"\nmachine = \"../profiles/small.toml\"\nbase = \"Campion Farm\"\n"
            "belts = \"new\"\nha_per_h = 3\n"
            "[[low_bed]]\nname = \"Bed\"\ntrailer = \"../profiles/low-bed.toml\"\nbase = \"Marrow Ford\"\n"
            "[[job]]\nname = \"sedge\"\nfield = \"Lower Sedge\"\nhours = 6\n"
            "[[job]]\nname = \"eighty\"\nfield = \"Crooked Eighty\"\nhectares = 60\nearliest = \"2026-07-14\"\n"
            "[[job]]\nname = \"dock\"\nfield = \"Dock Farm\"\nhours = 9\nmachines = [\"Green\"]\n" +
            more;
        SeasonList out = read_season(parse_toml(text, file), file);
        out.move.region = s_dir->file("demo.region");
        return out;
    }
    static Season make(const SeasonList& list, unsigned threads = 0) {
        SeasonOptions options;
        options.search.rounds = 300;
        options.threads = threads;
        return make_season(list, {0}, options);
    }
    static const SeasonEntry& entry_of(const Season& s, const std::string& job) {
        for (const SeasonEntry& e : s.entries)
            if (e.job && s.list.jobs[*e.job].field.name == job)
                return e;
        throw std::runtime_error("not done: " + job);
    }
    static std::string fault(const std::string& more) {
        try {
            (void)make(list(more));
        } catch (const Error& e) {
            return e.what();
        }
        return "no fault";
    }
    static inline test::TempDir* s_dir = nullptr;
    static inline Season* s_season = nullptr;
};

TEST_F(DemoSeason, SumsAreTheSumsOfTheirParts) {
    const Season& s = *s_season;
    ASSERT_TRUE(s.left_out.empty());
    EXPECT_TRUE(s.exact);
    EXPECT_TRUE(s.warnings.empty()) << s.warnings.front();
    double field = 0, moves = 0, low_beds = 0;
    for (const SeasonEntry& e : s.entries) {
        field += e.field_cost;
        moves += e.move.cost;
    }
    for (const LowBedTrip& t : s.trips)
        low_beds += t.cost;
    EXPECT_NEAR(s.total, field + moves + low_beds, 0.01);
    EXPECT_NEAR(s.total, s.causes.total(), 0.05 * static_cast<double>(s.entries.size()));
    EXPECT_NEAR(*s.bound, s.total, 0.01);
    EXPECT_EQ(*s.gap, 0.0);
}

TEST_F(DemoSeason, HoursFollowEachOtherWithinTheDay) {
    const Season& s = *s_season;
    for (std::size_t m = 0; m < s.list.machines.size(); ++m) {
        Instant free = s.begins;
        for (const SeasonEntry& e : s.entries) {
            if (e.machine != m)
                continue;
            EXPECT_GE(e.move.leave, free);
            EXPECT_GE(e.move.arrive, e.move.leave);
            EXPECT_GE(e.begin, e.move.arrive);
            free = e.end;
            if (e.move.plan == nullptr)
                continue;
            // A move lies in one day's hours and takes what its plan takes.
            EXPECT_EQ(e.move.leave.unix_seconds / 86400, e.move.arrive.unix_seconds / 86400);
            const Option* o = e.move.plan->find_option(e.move.option);
            ASSERT_NE(o, nullptr);
            EXPECT_EQ(*o->depart, e.move.leave);
            EXPECT_NEAR(*o->duration_s, (e.move.arrive - e.move.leave).seconds(), 60);
            if (e.move.mode == Mode::drive) {
                EXPECT_NEAR(*o->cost.total, e.move.cost, 0.02);
            }
        }
    }
    for (const LowBedTrip& t : s.trips)
        if (t.entry) {
            EXPECT_LE(t.there, t.busy_from);
            EXPECT_EQ(s.entries[*t.entry].move.mode, Mode::haul);
            EXPECT_EQ(s.entries[*t.entry].trip, static_cast<std::size_t>(&t - s.trips.data()));
        }
    EXPECT_EQ(entry_of(s, "dock").move.mode, Mode::haul) << "belts not run in stay off the road";
    EXPECT_GE(entry_of(s, "eighty").begin, parse_time("2026-07-14T06:00", TimeZone(s.time_zone)));
    EXPECT_EQ(s.trips.back().drop, "Marrow Ford") << "the low-bed goes back";
}

TEST_F(DemoSeason, TheAnswerDoesNotDependOnThreads) {
    EXPECT_EQ(to_json(season_to_json(make(list(""), 1)), 1), to_json(season_to_json(*s_season), 1));
}

TEST_F(DemoSeason, FixAndExcludeCostSomethingAndSayWhat) {
    const SeasonList fixed = list(
        "[[fix]]\njob = \"sedge\"\nmode = \"haul\"\nmachine = \"Red\"\n"
        "[[exclude]]\njob = \"eighty\"\nmachine = \"Green\"\n");
    SeasonOptions options;
    options.search.rounds = 300;
    options.compare = true;
    const Season s = make_season(fixed, {0}, options);
    EXPECT_EQ(entry_of(s, "sedge").move.mode, Mode::haul);
    EXPECT_EQ(entry_of(s, "sedge").machine, 0u);
    EXPECT_EQ(entry_of(s, "eighty").machine, 0u);
    EXPECT_GT(s.total, s_season->total);
    ASSERT_TRUE(s.without_rules);
    EXPECT_NEAR(*s.without_rules, s_season->total, 25)
        << "figures of the moves not taken are those of the morning";
    EXPECT_NE(season_text(s).find("without fix and exclude"), std::string::npos);
}

TEST_F(DemoSeason, WhatCannotBeDoneIsNamedWithItsReasons) {
    const Season s =
        make(list("[[job]]\nname = \"late\"\nfield = \"Burdock Farm\"\nhours = 20\nlatest = \"2026-07-13\"\n"
                  "[[job]]\nname = \"never\"\nfield = \"Teasel Farm\"\nhours = 2\nmachines = [\"Green\"]\n"
                  "[[exclude]]\nmachine = \"Green\"\njob = \"never\"\n"));
    ASSERT_EQ(s.left_out.size(), 2u);
    EXPECT_FALSE(s.bound);
    const std::string text = season_text(s);
    EXPECT_NE(text.find("Cannot be done: late"), std::string::npos);
    EXPECT_NE(text.find("the job takes 20 h"), std::string::npos) << text;
    EXPECT_NE(text.find("Green: is excluded"), std::string::npos) << text;
    EXPECT_NE(text.find("Red: is not among the machines that can"), std::string::npos);
    EXPECT_EQ(s.entries.size(), s_season->entries.size()) << "the others are done";
}

TEST_F(DemoSeason, UnknownPlacesAreFoundBeforeAnythingIsPlanned) {
    EXPECT_NE(fault("[[job]]\nname = \"x\"\nfield = \"Nowhere\"\nhours = 2\n").find("field \"Nowhere\""),
              std::string::npos);
    SeasonList without = list("");
    without.move.region.reset();
    EXPECT_THROW((void)make(without), Error);
}

TEST_F(DemoSeason, TextJsonPictureAndSheets) {
    const Season& s = *s_season;
    const std::string text = season_text(s);
    for (const char* part :
         {"Red\n", "Green\n", "Bed (low-bed)\n", "sedge at", "load Green", "Cautions", "powder"})
        EXPECT_NE(text.find(part), std::string::npos) << part;
    // Beside a budget's sum, which is full, a season's looked like a fault: nothing said that it was
    // marginal.
    EXPECT_EQ(s.basis, "marginal");
    EXPECT_NE(text.find(": marginal cost "), std::string::npos);
    EXPECT_NE(text.find("Marginal cost: what these jobs cost on top of owning the machine"),
              std::string::npos);
    const Value json = season_to_json(s);
    EXPECT_EQ(*json.find("schema")->as_string(), "loamway.season/1");
    EXPECT_EQ(json.find("machines")->as_array()->size(), 2u);
    EXPECT_EQ(json.find("low_beds")->as_array()->front().find("trips")->as_array()->size(), s.trips.size());
    const std::string svg = season_picture(s, PictureFormat::svg);
    EXPECT_NE(svg.find("<svg"), std::string::npos);
    EXPECT_EQ(season_picture(s, PictureFormat::pdf), season_picture(s, PictureFormat::pdf));
    std::size_t plans = 0, moves = 0;
    for (const auto& [day, of_day] : day_plans(s))
        plans += of_day.size();
    for (const SeasonEntry& e : s.entries)
        moves += e.move.plan != nullptr ? 1 : 0;
    EXPECT_EQ(plans, moves);
}

}  // namespace
}  // namespace loamway
