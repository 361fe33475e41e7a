// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/pictures.h"

#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "picture_reading.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

void expect_has(const std::string& text, const std::string& piece) {
    EXPECT_NE(text.find(piece), std::string::npos) << "\"" << piece << "\" is not in:\n" << text;
}

/// A choice with less paved road than the sample's, and no place to stop.
Plan with_front() {
    Plan plan = sample_plan();
    FrontPoint soft, fast;
    soft.k = 1;
    soft.hard_m = 4000;
    soft.length_m = 42000;
    soft.stops_ok = false;
    fast.k = 2;
    fast.hard_m = 15100;
    fast.length_m = 31200;
    fast.stops_ok = true;
    plan.front = {soft, fast};
    return plan;
}

TEST(ChoicesPicture, NamesDrivenOptionsAndTheVerdict) {
    const PdfRead pdf = read_pdf(draw_choices(sample_plan(), PictureFormat::pdf));
    EXPECT_EQ(pdf.pages, 1);
    expect_has(pdf.text, "Least cost, 402 CU");
    expect_has(pdf.text, "the verdict's");
    EXPECT_EQ(pdf.text.find("Haul"), std::string::npos);
    EXPECT_EQ(pdf.text.find("hollow"), std::string::npos) << "dots that are not there";
}

TEST(ChoicesPicture, TheScaleHoldsTheFront) {
    const PdfRead pdf = read_pdf(draw_choices(with_front(), PictureFormat::pdf));
    expect_has(pdf.text, "30 35 40 45");
    expect_has(pdf.text, "hollow: no places to stop");
    EXPECT_FALSE(draw_choices(with_front(), PictureFormat::svg) ==
                 draw_choices(sample_plan(), PictureFormat::svg));
}

TEST(CostsPicture, HasABarForEachPricedOption) {
    const PdfRead pdf = read_pdf(draw_costs(sample_plan(), PictureFormat::pdf));
    for (const char* piece : {"Least cost", "Haul", "402", "560", "labour", "belts", "low-bed",
                              "CU, marginal basis", "low to the high"})
        expect_has(pdf.text, piece);
    EXPECT_EQ(pdf.text.find("Least paved"), std::string::npos) << "it has no price";
    Plan tried = sample_plan();
    tried.options[0].cost.low_high_basis = "10 and 90 in 100 of 1000 trials";
    expect_has(read_pdf(draw_costs(tried, PictureFormat::pdf)).text, "the middle 80 of 100 trials");
    const PngRead png = read_png(draw_costs(sample_plan(), PictureFormat::png));
    EXPECT_EQ(png.width, 1083);  // 520 points at 150 dots an inch
}

/// Driving and hauling meet at 60 km.
Plan with_break_even() {
    Plan plan = sample_plan();
    PlanBreakEven b;
    b.drive = "least-cost";
    b.haul = "haul";
    b.length_m = 31000;
    b.hauled_share = 0.84;
    b.crossings_m = {60000};
    b.haul_from_m = b.drive_below_m = 60000;
    b.to_m = 200000;
    for (double km = 0; km <= 120; km += 2)
        b.curve.push_back({km * 1000, 20 + 12 * km, 500 + 4 * km});
    plan.break_even = b;
    return plan;
}

TEST(BreakEvenPicture, ShowsWhereTheyMeetAndThisMove) {
    const PdfRead pdf = read_pdf(draw_break_even(with_break_even(), PictureFormat::pdf));
    EXPECT_EQ(pdf.pages, 1);
    for (const char* piece :
         {"From which length on", "Moves like this are cheaper hauled from about 60 km on", "driven",
          "hauled", "this move, 31.0 km", "marginal basis"})
        expect_has(pdf.text, piece);
    Plan never = with_break_even();
    never.break_even->haul_from_m.reset();
    never.break_even->drive_below_m.reset();
    never.break_even->crossings_m.clear();
    expect_has(read_pdf(draw_break_even(never, PictureFormat::pdf)).text, "cheaper driven up to 200 km");
    never.units = "imperial";
    expect_has(read_pdf(draw_break_even(never, PictureFormat::pdf)).text, "124 mi");
    EXPECT_THROW(static_cast<void>(draw_break_even(sample_plan(), PictureFormat::pdf)), Error);
}

// Hauling was said to be cheaper from the first crossing on, although driving was again past it.
TEST(BreakEvenPicture, SeveralCrossingsAreSaidAndRinged) {
    Plan plan = with_break_even();
    PlanBreakEven& b = *plan.break_even;
    b.crossings_m = {40000, 52000, 60000};
    b.haul_from_m = 40000;
    const std::string text = read_pdf(draw_break_even(plan, PictureFormat::pdf)).text;
    expect_has(text, "cheaper hauled past about 60 km");
    expect_has(text, "the two cross 3 times");
    expect_has(text, "40.0 km");
    b.crossings_m = {40000, 52000};
    b.drive_below_m.reset();
    expect_has(read_pdf(draw_break_even(plan, PictureFormat::pdf)).text, "cheaper driven past about 52 km");
}

TEST(Pictures, PlansWithoutFiguresAreRefused) {
    Plan plan = sample_plan();
    for (Option& o : plan.options) {
        o.cost = {};
        o.length_m.reset();
    }
    EXPECT_THROW(static_cast<void>(draw_choices(plan, PictureFormat::svg)), Error);
    EXPECT_THROW(static_cast<void>(draw_costs(plan, PictureFormat::svg)), Error);
}

TEST(Pictures, StrangeFiguresAreDrawnAtTheEdge) {
    Plan plan = with_front();
    plan.options[0].length_m = 1e300;
    plan.options[0].hard_high_m = -5e200;
    plan.options[0].cost.high = 1e308;
    EXPECT_FALSE(draw_choices(plan, PictureFormat::svg).empty());
    EXPECT_FALSE(draw_costs(plan, PictureFormat::svg).empty());
    Plan odd = with_break_even();
    odd.break_even->length_m = 1e300;
    odd.break_even->haul_from_m = -1e200;
    odd.break_even->curve[3][1] = 1e308;
    EXPECT_FALSE(draw_break_even(odd, PictureFormat::svg).empty());
}

}  // namespace
