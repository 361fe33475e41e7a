// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/sheet.h"

#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "loamway/base/error.h"
#include "loamway/report/sheet_html.h"
#include "loamway/report/text_report.h"
#include "picture_reading.h"
#include "support/damage.h"
#include "support/sample_plan.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

using namespace loamway;

namespace {

/// Runs of blanks and line ends as one blank.
std::string flat(const std::string& text) {
    return std::regex_replace(text, std::regex("\\s+"), " ");
}
void expect_has(const std::string& text, const std::string& piece) {
    EXPECT_NE(flat(text).find(piece), std::string::npos) << "\"" << piece << "\" is not in:\n" << text;
}
PdfRead sheet_pdf(const Plan& plan, const std::string& option = {}) {
    return read_pdf(draw_sheet(plan, {.format = PictureFormat::pdf, .option = option}));
}
/// What an SVG says, one text a line.
std::string description(const std::string& svg) {
    const auto from = svg.find("<desc>") + 6;
    return svg.substr(from, svg.find("</desc>") - from);
}
/// A road beside the sample's way, a pond and a village.
Region surroundings() {
    TinyMap m;
    const auto a = m.node(53.49, 13.18), b = m.node(53.78, 13.40);
    m.edge(a, b, {{"highway", "secondary"}}, SurfaceOdds{200, 0, 0}, true, "C 7");
    RegionData data = m.build();
    data.places.push_back({536000000, 132600000, PlaceKind::village, 0});
    return Region::from_data(std::move(data));
}

TEST(DrawnSheet, SaysWhatADriverNeeds) {
    const PdfRead pdf = sheet_pdf(sample_plan());
    EXPECT_EQ(pdf.complaints, "");
    EXPECT_EQ(pdf.title, "Stop sheet 2026-07-14: Alder Farm to Mill Field");
    EXPECT_NEAR(pdf.width, a4_width, 0.1);
    for (const char* piece :
         {"DRIVE IT",
          "Drive it. 31 km, 15 of them paved, 3 stops, 2 h 02; hauling would cost 158 CU more.",
          "Tracked tractor, medium, mounted",
          "not run in",
          "2026-07-14 14:00 (Europe/Berlin)",
          "Yard 555 0100",
          "every 15.0 km",
          "POWDER BEFORE LEAVING",
          "CHECK STOP",
          "RE-LUBE STOP",
          "RIGHT: lay-by",
          "soft ground at the mouth: stay on the gravel",
          "Powder the inside of each belt",
          "right onto the county road",
          "bridge posted 16 t; you weigh 18.4 t (last place to turn round: km 2.1)",
          "Arrive: Mill Field",
          "Before leaving",
          "Cautions",
          "Estimate, not a measurement.",
          "drawn by hand",
          "Map Alder County of 2026-05-01"})
        expect_has(pdf.text, piece);
}

/// The sample's driven option, as hot as a paved road on a warm day.
Plan warm_plan() {
    Plan plan = sample_plan();
    OptionHeat h;
    h.bar_peak_c = 82;
    h.bar_low_c = 64;
    h.bar_high_c = 100;
    h.guide_lug_peak_c = 60;
    h.limit_c = 110;
    h.caution_c = 90;
    h.profile = {{0, 28, 28}, {15000, 70, 55}, {31000, 82, 60}};
    plan.options.front().heat = h;
    return plan;
}

// After readings another figure than the edge of the band is held against the limit: the sheet names it.
TEST(DrawnSheet, AfterReadingsTheSheetSaysWhatIsReckonedWith) {
    Plan plan = warm_plan();
    OptionHeat& h = *plan.options.front().heat;
    h.acted_on_c = 91;
    EXPECT_EQ(flat(sheet_pdf(plan).text).find("reckoned with"), std::string::npos);
    h.calibrated = true;
    expect_has(sheet_pdf(plan).text, "reckoned with 91 °C");
    expect_has(sheet_html({&plan, 1}, {}), "reckoned with");
}

// A dotted line across the heat picture had no name.
TEST(DrawnSheet, EachUprightLineOfTheHeatPictureIsNamed) {
    Plan plan = warm_plan();
    expect_has(sheet_pdf(plan).text, "limit 110 °C");
    expect_has(sheet_pdf(plan).text, "bars: caution 90 °C");
    plan.options.front().heat->caution_c.reset();
    EXPECT_EQ(sheet_pdf(plan).text.find("bars: caution"), std::string::npos);
}

// "confirm 0.4 km of Mill Lane: ... Least time is cheapest, at 75 CU" stood among the driver's turns.
TEST(DrawnSheet, WhatThePlannerIsToFindOutStandsLast) {
    Plan plan = sample_plan();
    Flag confirm;
    confirm.kind = "assumed";
    confirm.severity = Severity::check;
    confirm.at_m = 5000;
    confirm.text = "confirm 0.4 km of Mill Lane: it decides the route";
    plan.options.front().flags.push_back(confirm);
    plan.verdict.probability_cheapest = 0.62;
    for (const std::string& text : {flat(sheet_pdf(plan).text), flat(sheet_text(plan, {}))}) {
        const auto upper = [&] { return text.find("FOR THE PLANNER"); };
        const auto part = std::min(text.find("For the planner"), upper());
        ASSERT_NE(part, std::string::npos) << text;
        EXPECT_GT(text.find("confirm 0.4 km of Mill Lane"), part);
        EXPECT_GT(text.find("62 in 100 that this is the cheapest"), part);
        EXPECT_EQ(text.find("Sure?"), std::string::npos);
    }
}

TEST(DrawnSheet, OnePageWhenItFitsAndNumberedPagesWhenNot) {
    Plan plan = sample_plan();
    Option& o = plan.options.front();
    o.stops.resize(2);
    const PdfRead one = sheet_pdf(plan);
    EXPECT_EQ(one.pages, 1);
    EXPECT_EQ(one.text.find("page 1"), std::string::npos);
    const PlanStop stop = o.stops.back();
    for (int i = 0; i < 20; ++i)
        o.stops.push_back(stop);
    const PdfRead many = sheet_pdf(plan);
    EXPECT_GT(many.pages, 1);
    expect_has(many.text, "page 1 of " + std::to_string(many.pages));
    expect_has(many.text, "Stops, continued");
    // Every stop is there once.
    const std::regex title("CHECK STOP");
    EXPECT_EQ(std::distance(std::sregex_iterator(many.text.begin(), many.text.end(), title), {}), 2 * 21);
}

TEST(DrawnSheet, ImperialPlansComeOnLetterInMiles) {
    Plan plan = sample_plan();
    plan.units = "imperial";
    const PdfRead pdf = sheet_pdf(plan);
    EXPECT_NEAR(pdf.width, letter_width, 0.1);
    EXPECT_NEAR(pdf.height, letter_height, 0.1);
    // 30 km/h are 18.6 mph: a cap is never rounded up.
    expect_has(pdf.text, "18");
    expect_has(pdf.text, "mph");
    expect_has(pdf.text, "every 9.3 mi");
    EXPECT_EQ(pdf.text.find("km/h"), std::string::npos) << pdf.text;
}

TEST(LowBedSheet, SaysWhereToFetchAndDeliver) {
    Plan plan = sample_plan();
    plan.options[1].flags = {
        {"bridge", Severity::check, 9000.0, plan.options[1].geometry[9], "bridge without a posted limit",
         4711, 2100.0},
        {"heat", Severity::check, {}, {}, "bars get hot", {}, {}},
        {"empty_run", Severity::note, {}, {}, "empty running assumed: 20 km to the pick-up", {}, {}}};
    const SheetSetup setup{.option = "haul", .reader = SheetReader::low_bed};
    const PdfRead pdf = read_pdf(draw_sheet(plan, setup));
    EXPECT_EQ(pdf.complaints, "");
    EXPECT_EQ(pdf.title, "Low-bed sheet 2026-07-14: Alder Farm to Mill Field");
    for (const char* piece :
         {"LOW-BED", "Fetch Tracked tractor, medium at Alder Farm, haul it", "Pick-up", "Deliver", "Be there",
          "14:00", "Empty", "20 km to the pick-up", "Yard 555 0100", "bridge without a posted limit",
          "last place to turn round: km 2.1", "no chain across a belt's edge"})
        expect_has(pdf.text, piece);
    EXPECT_EQ(pdf.text.find("bars get hot"), std::string::npos);
    EXPECT_EQ(pdf.text.find("RE-LUBE"), std::string::npos);
    for (const char* of_belts : {"since powder", "flank"})
        EXPECT_EQ(pdf.text.find(of_belts), std::string::npos) << of_belts;
}

TEST(LowBedSheet, OfAMixedMoveCountsFromThePickUp) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.mode = Mode::mixed;
    o.hauled_m = 17000;
    o.length_m = 14000;
    Leg& driven = o.legs[0];
    Leg hauled = driven;
    hauled.mode = Mode::haul;
    hauled.from = "lay-by";
    hauled.length_m = 17000;
    driven.length_m = 14000;
    hauled.surface_runs = {{14000, 31000, SurfaceClass::hard, true}};
    hauled.directions = {{20000, "left into the main road", "B 9", -90}};
    driven.surface_runs = {{0, 14000, SurfaceClass::hard, true}};
    driven.directions.resize(1);
    o.legs.push_back(hauled);
    PlanStop onto = o.stops.back();
    onto.kind = "handover";
    onto.at_m = 14000;
    onto.why = "onto the low-bed";
    o.stops.push_back(onto);
    o.flags = {{"bridge",
                Severity::check,
                12000.0,
                {},
                "low bridge (3 times: again km 15.0, km 30.0)",
                {},
                {},
                {15000, 30000}}};
    const PdfRead pdf = read_pdf(draw_sheet(plan, {.option = "least-cost", .reader = SheetReader::low_bed}));
    expect_has(pdf.text, "at lay-by, haul it 17.0 km to Mill Field");
    expect_has(pdf.text, "6.0 left into the main road (B 9)");
    expect_has(pdf.text, "Start: lay-by");
    expect_has(pdf.text, "low bridge (2 times: again km 16.0)");
    EXPECT_EQ(pdf.text.find("leave the yard"), std::string::npos);
    EXPECT_EQ(pdf.text.find("bridge posted"), std::string::npos) << "it lies on the driven part";
}

TEST(LowBedSheet, NeedsSomethingToHaul) {
    try {
        (void)draw_sheet(sample_plan(), {.reader = SheetReader::low_bed});
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
        EXPECT_EQ(e.what_to_do(), "name one with --option: haul");
    }
}

TEST(EscortCopy, HasTheNarrowPointsAndNoBelts) {
    const PdfRead pdf = read_pdf(draw_sheet(sample_plan(), {.reader = SheetReader::escort}));
    EXPECT_EQ(pdf.complaints, "");
    EXPECT_EQ(pdf.title, "Escort copy 2026-07-14: Alder Farm to Mill Field");
    for (const char* piece : {"ESCORT", "Radio", "Narrow points, limits and crossings (km from the start)",
                              "bridge posted 16 t", "RE-LUBE STOP", "call it free"})
        expect_has(pdf.text, piece);
    EXPECT_EQ(pdf.text.find("Powder the inside"), std::string::npos);
    EXPECT_EQ(pdf.text.find("Dry powder for"), std::string::npos);
}

// The escort's copy showed what the move costs and how sure that is, and told each narrow point twice.
TEST(EscortCopy, IsNotAboutMoneyAndTellsEachPlaceOnce) {
    Plan plan = sample_plan();
    plan.verdict.sentence = "Drive it: 31 km, about 312 CU; hauling would cost about 622.";
    plan.verdict.probability_cheapest = 0.8;
    const std::string text = read_pdf(draw_sheet(plan, {.reader = SheetReader::escort})).text;
    expect_has(text, "Go ahead of Tracked tractor, medium from Alder Farm to Mill Field");
    for (const char* piece : {"312", "622", "Sure?", "in 100", "Belts", "flank", "since powder"})
        EXPECT_EQ(text.find(piece), std::string::npos) << piece;
    const std::size_t first = text.find("bridge posted 16 t");
    ASSERT_NE(first, std::string::npos);
    EXPECT_EQ(text.find("bridge posted 16 t", first + 1), std::string::npos);
}

// The map gives its foot to them where it is high enough.
TEST(StopInsets, AreDrawnWithAMapAlone) {
    const Region region = surroundings();
    Plan plan = sample_plan();
    plan.options.front().stops.resize(2);
    plan.cautions.clear();
    plan.region.digest.clear();
    const auto svg = [&](const Region* r) {
        return draw_sheet(plan, {.format = PictureFormat::svg, .region = r});
    };
    EXPECT_NE(svg(&region).find("[2] km"), std::string::npos);
    EXPECT_EQ(svg(nullptr).find("[2] km"), std::string::npos);
}

TEST(DrawnSheet, WhatCannotBeDoneIsSaidLargeAndWhy) {
    const PdfRead pdf = sheet_pdf(sample_plan(), "least-hard");
    expect_has(pdf.text, "DO NOT DRIVE");
    expect_has(pdf.text, "no place fit to stop between km 9 and km 15");
    expect_has(pdf.text, "needs an answer: name a place between km 9 and 15");
    EXPECT_EQ(pdf.text.find("at most"), std::string::npos) << "caps of a way nobody may drive";
}

TEST(DrawnSheet, AHauledMoveHasItsOwnChecks) {
    const PdfRead pdf = sheet_pdf(sample_plan(), "haul");
    expect_has(pdf.text, "HAUL IT");
    expect_has(pdf.text, "on the low-bed");
    expect_has(pdf.text, "Tied down as the manual says");
    EXPECT_EQ(pdf.text.find("Belt tension"), std::string::npos);
}

TEST(DrawnSheet, WithoutARegionTheMapSaysSo) {
    const Plan plan = sample_plan();
    expect_has(sheet_pdf(plan).text, "Way only: no map was given");
    Plan at_home = plan;
    at_home.region.digest.clear();
    const Region region = surroundings();
    const PdfRead with = read_pdf(draw_sheet(at_home, {.region = &region}));
    EXPECT_EQ(with.text.find("Way only"), std::string::npos);
    EXPECT_THROW(static_cast<void>(draw_sheet(plan, {.region = &region})), Error)
        << "another region than the plan's";
}

TEST(DrawnSheet, TheSvgSaysTheSameWordForWord) {
    std::string said = description(draw_sheet(sample_plan(), {.format = PictureFormat::svg}));
    said = std::regex_replace(said, std::regex("loamway [0-9.]+"), "loamway VERSION.");
    said = std::regex_replace(said, std::regex("\\d{4}-\\d{2}-\\d{2}"), "DATE");
    EXPECT_EQ(said, test::slurp(test::source_path("tests/report/data/sample_sheet.txt")));
}

TEST(DrawnSheet, ThePngHasAPagesSizeAndTheWayOnIt) {
    Plan plan = sample_plan();
    plan.options.front().stops.resize(2);
    const PngRead png = read_png(draw_sheet(plan, {.format = PictureFormat::png}));
    EXPECT_EQ(png.width, 1240);  // 595.28 points at 150 dots an inch
    EXPECT_EQ(png.height, 1754);
    EXPECT_EQ(png.pixel(5, 5), 0xffffffu);
    const auto dark =
        std::count_if(png.pixels.begin(), png.pixels.end(), [](std::uint32_t p) { return (p & 0xffu) < 64; });
    EXPECT_GT(dark, 40000);
    EXPECT_LT(dark, 400000);
}

TEST(DrawnSheet, IsTheSameEachTime) {
    for (const PictureFormat f : {PictureFormat::pdf, PictureFormat::svg, PictureFormat::png})
        EXPECT_TRUE(draw_sheet(sample_plan(), {.format = f}) == draw_sheet(sample_plan(), {.format = f}));
}

TEST(DaySheets, BeginWithAllMovesInTheOrderOfLeaving) {
    Plan early = sample_plan(), late = sample_plan();
    early.move.to_name = "Low Meadow";
    for (Option& o : early.options) {
        o.depart = sample::at("2026-07-14T05:00");
        o.arrive = sample::at("2026-07-14T06:30");
    }
    const std::vector<Plan> plans{late, early};
    const PdfRead pdf = read_pdf(draw_day_sheets(plans, {}));
    EXPECT_GE(pdf.pages, 3);
    EXPECT_EQ(pdf.title, "Moves of 2026-07-14");
    const std::string front = pdf.text.substr(0, pdf.text.find('\f'));
    EXPECT_LT(front.find("Low Meadow"), front.find("Mill Field")) << front;
    EXPECT_EQ(front.find("overlap"), std::string::npos) << front;
}

TEST(DaySheets, AMachineIsNotInTwoPlaces) {
    const std::vector<Plan> plans{sample_plan(), sample_plan()};
    expect_has(read_pdf(draw_day_sheets(plans, {})).text,
               "moves 1 and 2 overlap in time and name the same machine (Tracked tractor, medium)");
}

TEST(DrawnSheet, ADamagedPlanIsDrawnOrRefused) {
    const std::string whole = to_json(plan_to_json(sample_plan()));
    test::Damage damage(20260715);
    int drawn = 0;
    for (int i = 0; i < 1500; ++i) {
        const std::string text = damage.of(whole);
        try {
            const Plan plan = plan_from_json(parse_json(text, "p.json"), "p.json");
            EXPECT_FALSE(draw_sheet(plan, {.format = PictureFormat::pdf}).empty());
            ++drawn;
        } catch (const Error& e) {
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos);
        }
    }
    EXPECT_GT(drawn, 20);
}

}  // namespace
