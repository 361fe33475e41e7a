// SPDX-License-Identifier: Apache-2.0
// Across a real map and back, at 10 and at 35 degrees: Neubrandenburg and its country, map data ©
// OpenStreetMap contributors, ODbL 1.0 (scripts/fetch_maps). What the plan says of the bars is compared with
// the full heat solver along the same surfaces.
#include <gtest/gtest.h>

#include <filesystem>
#include <memory>

#include "loamway/base/file.h"
#include "loamway/belt/trip.h"
#include "loamway/build/build.h"
#include "loamway/plan/inputs.h"
#include "support/test_files.h"

namespace loamway {
namespace {

class OutAndBack : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        const std::string extract = std::string(LOAMWAY_MAPS_DIR) + "/neubrandenburg.osm.bz2";
        ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
        Recipe recipe;
        recipe.time_zone = "Europe/Berlin";
        region = std::make_unique<Region>(
            Region::from_data(assemble(read_extract(extract, {}), recipe, "nb", {})));
    }
    static void TearDownTestSuite() { region.reset(); }

    struct Round {
        PlanInputs in;
        Option out, back;
    };
    static Option fastest(const PlanInputs& in) {
        for (const Option& o : make_plan(in).options)
            if (o.id == "least-time" || std::find(o.also.begin(), o.also.end(), "least-time") != o.also.end())
                return o;
        throw std::runtime_error("no least-time");
    }
    static Round round_trip(double air_c) {
        PlanInputs in;
        in.region = region.get();
        in.from = {"from", GeoPoint::from_degrees(53.4600, 13.3300)};
        in.to = {"to", GeoPoint::from_degrees(53.5950, 13.2000)};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00", TimeZone("Europe/Berlin"));
        in.conditions.air = Temperature::from_celsius(air_c);
        in.conditions.sun = 0.5;
        in.conditions.sun_assumed = false;
        in.haul = false;
        Round r{in, fastest(in), {}};
        std::swap(in.from, in.to);
        in.depart = *r.out.arrive + Duration::from_hours(3);
        r.back = fastest(in);
        return r;
    }

    // The option's surfaces at its mean speed, with its stops, through the full solver.
    static TripResult through_full_solver(const Round& r, const Option& o) {
        const Speed v = Speed::from_mps(*o.length_m / *o.driving_s);
        std::vector<TripSegment> trip;
        std::size_t stop = 0;
        for (const SurfaceRun& run : o.legs.front().surface_runs) {
            TripSegment s;
            s.length = Length::from_metres(run.to_m - run.from_m);
            s.surface = road_surface_of(run.surface);
            s.speed = v;
            for (; stop < o.stops.size() && o.stops[stop].at_m < run.to_m; ++stop)
                s.stop += Duration::from_seconds(o.stops[stop].wait_s);
            trip.push_back(s);
        }
        return run_trip(r.in.machine, r.in.machine.states.front(), r.in.conditions, trip);
    }

    static std::unique_ptr<Region> region;
};
std::unique_ptr<Region> OutAndBack::region;

TEST_F(OutAndBack, HotAndColdDays) {
    const Round cold = round_trip(10), hot = round_trip(35);
    for (const Round* r : {&cold, &hot})
        EXPECT_NEAR((*r->out.length_m + *r->back.length_m) / 1000, 55, 8);
    for (const Option* o : {&cold.out, &cold.back, &hot.out, &hot.back}) {
        ASSERT_TRUE(o->heat);
        // Whatever the day, what is acted on stays below the limit, or the option says that it cannot be
        // done.
        EXPECT_TRUE(*o->heat->acted_on_c <= *o->heat->limit_c || !o->feasible);
        EXPECT_LE(*o->heat->bar_low_c, *o->heat->bar_peak_c);
        EXPECT_LE(*o->heat->bar_peak_c, *o->heat->bar_high_c);
        EXPECT_GT(*o->fuel_l, 0.8 * *o->length_m / 1000);  // litres; at least what the small machine needs
        EXPECT_LT(*o->fuel_l, 3.0 * *o->length_m / 1000 + 10);
    }
    EXPECT_GE(*hot.out.duration_s, *cold.out.duration_s - 1);
    EXPECT_LE(*hot.out.speed_caps_kmh[0], *cold.out.speed_caps_kmh[0]);
    EXPECT_GT(*hot.out.heat->guide_lug_peak_c, *cold.out.heat->guide_lug_peak_c);
    // Each km makes about the same heat whatever the speed, so the mean speed will do: within 6 K.
    for (const Round* r : {&cold, &hot})
        for (const Option* o : {&r->out, &r->back})
            EXPECT_NEAR(through_full_solver(*r, *o).bar_peak.celsius(), *o->heat->bar_peak_c, 6.0);
}

}  // namespace
}  // namespace loamway
