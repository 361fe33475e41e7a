// SPDX-License-Identifier: Apache-2.0
// A budget over the invented county: every sum is the sum of its parts, and each move is the planner's own.
#include "loamway/season/budget.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "loamway/season/quote_sheet.h"
#include "support/demo_region.h"
#include "support/test_files.h"

namespace loamway {
namespace {

class DemoBudget : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_dir = new test::TempDir();
        test::write_demo_region(s_dir->file("demo.region"));
        s_list = new JobList(list());
        s_budget = new Budget(make_budget(*s_list, {0}));
    }
    static void TearDownTestSuite() {
        delete s_budget;
        delete s_list;
        delete s_dir;
    }
    static JobList list() {
        const std::string file = test::source_path("examples/jobs/demo.toml");
        JobList out = read_jobs(parse_toml(read_text_file(file), file), file);
        out.move.region = s_dir->file("demo.region");
        return out;
    }
    /// The first job alone, with few trials: where figures do not matter.
    static JobList one_job() {
        JobList out = list();
        out.jobs.resize(1);
        out.finish.clear();
        out.what_ifs.clear();
        out.move.trials = 10;
        return out;
    }
    static std::string fault_of(const JobList& list) {
        try {
            (void)make_budget(list, {0});
        } catch (const Error& e) {
            return e.what();
        }
        return "no fault";
    }
    static inline test::TempDir* s_dir = nullptr;
    static inline JobList* s_list = nullptr;
    static inline Budget* s_budget = nullptr;
};

TEST_F(DemoBudget, SumsAreTheSumsOfTheirParts) {
    const Budget& b = *s_budget;
    ASSERT_EQ(b.jobs.size(), 4u);
    EXPECT_EQ(b.not_done(), 0);
    BandSum cost, mm;
    double fuel = 0, road_s = 0, price = 0;
    for (const JobBudget& j : b.jobs) {
        cost += j.sum.cost;
        mm += j.sum.wear_mm;
        fuel += j.sum.fuel_l;
        road_s += j.sum.road.seconds();
        price += j.price;
        EXPECT_NEAR(j.sum.cost.value, j.sum.road_cost + j.sum.field_cost, 1e-9) << j.name;
        EXPECT_NEAR(j.sum.cost.value, j.sum.causes.total(), 0.02) << j.name;
        EXPECT_NEAR(j.sum.wear_mm.value, j.sum.wear_causes.total(), 1e-6) << j.name;
        EXPECT_LE(j.sum.cost.low, j.sum.cost.value);
        EXPECT_GE(j.sum.cost.high, j.sum.cost.value);
    }
    EXPECT_NEAR(b.sum.cost.value, cost.value, 1e-9);
    EXPECT_NEAR(b.sum.cost.low, cost.low, 1e-9);
    EXPECT_NEAR(b.sum.wear_mm.high, mm.high, 1e-12);
    EXPECT_NEAR(b.sum.fuel_l, fuel, 1e-9);
    EXPECT_NEAR(b.sum.road.seconds(), road_s, 1e-6);
    EXPECT_NEAR(b.price, price, 1e-6);
    EXPECT_NEAR(b.price, b.sum.cost.value * 1.12, 1e-6);
}

TEST_F(DemoBudget, FieldWorkIsHoursTimesRates) {
    // 64 ha at 4.2 ha/h on the example's rates: wage 28, ownership 83.79 and repair 8.40 an hour, 0.0133 mm.
    const JobBudget& j = s_budget->jobs[2];
    const double hours = 64 / 4.2;
    EXPECT_NEAR(j.sum.field.hours(), hours, 1e-9);
    EXPECT_NEAR(j.sum.wear_causes.field, hours * 0.0133, 1e-9);
    // 16600 for a set with fitting, 40 mm to wear.
    const double belts = hours * 0.0133 / 40 * 16600;
    // The second job says its litres: 52 an hour at 1.10 and a tenth for oil.
    const JobBudget& said = s_budget->jobs[1];
    EXPECT_NEAR(said.sum.field_cost, 9 * (28 + 83.79 + 8.40 + 52 * 1.21) + 9 * 0.0133 / 40 * 16600, 1e-6);
    EXPECT_GT(j.sum.field_cost, hours * (28 + 83.79 + 8.40) + belts);
}

TEST_F(DemoBudget, TheFirstMoveIsWhatThePlannerSaysAlone) {
    MoveRequest r = s_list->move;
    r.from = s_list->start;
    r.to = s_list->jobs[0].field;
    r.state = s_list->jobs[0].state;
    Prepared p = prepare(r, {0});
    p.inputs.rates.basis = CostBasis::full;
    const Plan plan = make_plan(p.inputs);
    const Option& o = plan.option_for_output("");
    const JobBudget& j = s_budget->jobs[0];
    EXPECT_EQ(j.option, o.id);
    EXPECT_DOUBLE_EQ(j.sum.road_cost, *o.cost.total);
    EXPECT_DOUBLE_EQ(j.sum.driven_m, *o.length_m);
    EXPECT_EQ(j.arrive, o.arrive);
}

TEST_F(DemoBudget, WhatIfsChangeWhatTheySay) {
    const Budget& b = *s_budget;
    ASSERT_EQ(b.what_ifs.size(), 4u);
    EXPECT_GT(b.what_ifs[0].sum.causes.fuel, b.sum.causes.fuel);
    EXPECT_GT(b.what_ifs[0].sum.cost.value, b.sum.cost.value);
    EXPECT_DOUBLE_EQ(b.what_ifs[3].sum.driven_m, 0) << "everything hauled";
    // 22000 and the fitting in place of 16600.
    const WhatIfResult& dear = b.what_ifs[2];
    EXPECT_NEAR(dear.sum.belt_money.value, dear.sum.wear_share.value * 22600, 1);
}

TEST_F(DemoBudget, OutputsSayTheSame) {
    const Budget& b = *s_budget;
    const Value json = budget_to_json(b);
    EXPECT_NEAR(json.find("sum")->find("cost")->find("value")->number(), b.sum.cost.value, 0.006);
    EXPECT_EQ(json.find("jobs")->as_array()->size(), 4u);
    const std::string csv = budget_csv(b);
    EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 6);
    const auto columns = [](const std::string& line) { return std::count(line.begin(), line.end(), ','); };
    std::size_t at = 0;
    const auto names = columns(csv.substr(0, csv.find('\n')));
    EXPECT_NE(csv.find(",price,basis\n"), std::string::npos);
    EXPECT_TRUE(csv.ends_with("," + b.basis + "\n")) << csv;
    while (at < csv.size()) {
        const std::size_t end = csv.find('\n', at);
        EXPECT_EQ(columns(csv.substr(at, end - at)), names);
        at = end + 1;
    }
    const std::string pdf = quote_sheet(b, PictureFormat::pdf);
    EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
    EXPECT_EQ(pdf, quote_sheet(b, PictureFormat::pdf)) << "the same budget gives the same bytes";
    const std::string svg = quote_sheet(b, PictureFormat::svg);
    EXPECT_NE(svg.find("<svg"), std::string::npos);
}

// Rates from a pipe were read by the first move alone; the others were priced at the defaults.
TEST_F(DemoBudget, NothingIsReadFromAPipe) {
    JobList list = one_job();
    list.move.rates = "-";
    EXPECT_NE(fault_of(list).find("rates cannot come from standard input"), std::string::npos);
    list = one_job();
    list.what_ifs.push_back({"other", {}, {}});
    list.what_ifs.back().over.machine = "-";
    EXPECT_NE(fault_of(list).find("machine cannot come from standard input"), std::string::npos);
}

// What the list says was listed as assumed: the load in the field, and a basis that was not even the one
// taken.
TEST_F(DemoBudget, AssumedIsWhatNobodySaid) {
    for (const std::string& line : s_budget->assumed) {
        EXPECT_NE(line.substr(0, 17), "load in the field") << line;
        EXPECT_NE(line.substr(0, 18), "costs on the basis") << line;
    }
    EXPECT_EQ(s_budget->basis, "full");
    JobList list = one_job();
    list.jobs[0].load = 0.6;
    list.jobs[0].load_assumed = true;
    list.move.rates.reset();
    const Budget b = make_budget(list, {0});
    EXPECT_EQ(std::count(b.assumed.begin(), b.assumed.end(), "load in the field: 0.6 of the rated power"), 1);
    EXPECT_EQ(std::count(b.assumed.begin(), b.assumed.end(), "costs on the basis: marginal"), 0);
    EXPECT_EQ(b.basis, "full");
}

// A plan asks where a field is entered that nobody has told; a budget kept it to itself.
TEST_F(DemoBudget, AGuessedEntranceIsToBeConfirmed) {
    JobList list = one_job();
    list.move.places = s_dir->write("fields.geojson", R"({"type": "FeatureCollection", "features": [{
        "type": "Feature", "properties": {"name": "Nameless Forty"}, "geometry": {"type": "Polygon", "coordinates": [[
        [-35.6400, 47.0900], [-35.6380, 47.0900], [-35.6380, 47.0915], [-35.6400, 47.0915], [-35.6400, 47.0900]]]}}]})");
    list.start = "47.08579,-35.64738";
    list.jobs[0].field = "Nameless Forty";
    const Budget b = make_budget(list, {0});
    ASSERT_EQ(b.to_confirm.size(), 1u);
    for (const std::string& out : {budget_text(b), to_json(budget_to_json(b))})
        EXPECT_NE(out.find("entrance of Nameless Forty not known"), std::string::npos) << out;
}

// At eleven at night the first move left at once, whatever the hours of work.
TEST_F(DemoBudget, TheFirstMoveKeepsToTheHoursOfWorkToo) {
    JobList list = one_job();
    list.move.depart.reset();
    const TimeZone zone("Etc/GMT+2");
    const Budget night = make_budget(list, parse_time("2026-07-13T23:00", zone));
    EXPECT_EQ(night.jobs[0].depart, parse_time("2026-07-14T06:00", zone));
    const Budget day = make_budget(list, parse_time("2026-07-13T11:00", zone));
    EXPECT_EQ(day.jobs[0].depart, parse_time("2026-07-13T11:00", zone));
}

// Messages spoke of "from", which a list does not have, without file and line; and of the clock of another
// zone.
TEST_F(DemoBudget, FaultsAreThoseOfTheList) {
    JobList list = one_job();
    list.start = "Nowhere at all";
    EXPECT_NE(fault_of(list).find("demo.toml:5: job \"Cultivating\": start \"Nowhere at all\""),
              std::string::npos)
        << fault_of(list);
    list = DemoBudget::list();
    list.what_ifs.clear();
    list.move.trials = 10;
    list.jobs[1].depart = "2026-07-13T07:00";
    const std::string early = fault_of(list);
    EXPECT_NE(early.find("demo.toml:"), std::string::npos) << early;
    EXPECT_NE(early.find("-02:00"), std::string::npos) << early;
}

// Sum, sheet and JSON told four stories of such a move; one of them let it arrive.
TEST_F(DemoBudget, AMoveThatCannotBeDoneIsLeftOutAndSaidAlike) {
    JobList list = one_job();
    list.move.modes = {"drive"};
    list.move.belts = "new";
    const Budget b = make_budget(list, {0});
    ASSERT_EQ(b.not_done(), 1);
    EXPECT_FALSE(b.jobs[0].arrive);
    EXPECT_EQ(b.sum.road_cost, 0);
    EXPECT_GT(b.sum.field_cost, 0);
    std::string text = budget_text(b);
    std::replace(text.begin(), text.end(), '\n', ' ');
    EXPECT_NE(text.find("1 move cannot be done and is left out of the sums, the work there counted"),
              std::string::npos)
        << text;
    const Value json = budget_to_json(b);
    const Value& job = json.find("jobs")->as_array()->front();
    EXPECT_TRUE(job.find("arrive")->is_null());
    EXPECT_TRUE(job.find("price_per_ha")->is_null());
    const std::string svg = quote_sheet(b, PictureFormat::svg);
    EXPECT_EQ(svg.find("arrives"), std::string::npos);
    EXPECT_NE(svg.find("cannot be done"), std::string::npos);
}

}  // namespace
}  // namespace loamway
