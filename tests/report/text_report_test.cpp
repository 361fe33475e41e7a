// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/text_report.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>
#include <string>

#include "loamway/base/error.h"
#include "loamway/plan/cautions.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

std::size_t columns(const std::string& line) {
    return static_cast<std::size_t>(std::count_if(
        line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}
void expect_at_most(const std::string& text, std::size_t most) {
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        EXPECT_LE(columns(line), most) << line;
}
/// The text with runs of blanks and line ends as one blank, so that wrapping does not matter.
std::string flat(const std::string& text) {
    std::string out;
    for (const char c : text)
        if (c != ' ' && c != '\n')
            out += c;
        else if (!out.empty() && out.back() != ' ')
            out += ' ';
    return out;
}
void expect_has(const std::string& text, const std::string& piece) {
    EXPECT_NE(flat(text).find(piece), std::string::npos) << "\"" << piece << "\" is not in:\n" << text;
}
void expect_lacks(const std::string& text, const std::string& piece) {
    EXPECT_EQ(flat(text).find(piece), std::string::npos) << "\"" << piece << "\" is in:\n" << text;
}

TEST(PlanText, TheVerdictComesFirst) {
    const Plan plan = sample_plan();
    const std::string text = plan_text(plan, {});
    EXPECT_EQ(flat(text).rfind(plan.verdict.sentence, 0), 0u) << text;
}

TEST(PlanText, HillsAreSaidOrTheWantOfThem) {
    Plan plan = sample_plan();
    expect_lacks(plan_text(plan, {}), "heights: flat");
    plan.options[0].climb = OptionClimb{312.4, 290.0, -6.04, 12300, 1200};
    expect_has(
        plan_text(plan, {}),
        "Least cost: 312 m up, 290 m down; steepest 6 % down at 12.3 km; 1.2 km without heights, taken as flat");
    plan.region.elevation.clear();
    expect_has(plan_text(plan, {}), "heights: flat, as the region was built without elevation");
}

TEST(PlanText, OptionsStandSideBySide) {
    const std::string text = plan_text(sample_plan(), {});
    expect_has(text, "Least cost Haul Least paved can be done yes yes no");
    expect_has(text, "paved km 15.1 0.0 -");
    expect_has(text, "at least-most km 12.4-24.9 0.0 -");
    expect_has(text, "stops 3 - -");
    expect_has(text, "time 2 h 02 2 h 15 -");
    expect_has(text, "cost CU 402 560 -");
    expect_has(text, "range 310-520 500-640 -");
    expect_has(text, "low-bed - 435 -");
    expect_has(text, "belt wear, % of a set 1.18 - -");
    expect_has(text, "--option least-cost haul least-hard");
    expect_has(text, "Least cost: is Least time too");
    expect_has(text, "Least paved: cannot be done: no place fit to stop between km 9 and km 15");
    expect_has(text, "Least paved: needs an answer: name a place between km 9 and 15");
    expect_has(text, "at most 0.2 km could be gained");
    expect_lacks(text, "ferry");
}

// The table has what is to be expected, the ribbon what is likeliest: nobody was told why they differ.
TEST(PlanText, SaysWhyItsSurfacesAreNotTheRibbons) {
    Plan plan = sample_plan();
    const std::string note = "a road of unknown surface counting for each by its odds";
    expect_has(plan_text(plan, {}), note);
    Option& o = plan.options[0];
    o.hard_m = 16600;
    o.gravel_m = 2100 + 8300;
    o.earth_m = *o.length_m - 27000;
    expect_lacks(plan_text(plan, {}), note);
}

TEST(PlanText, StopsSayWhereWhyAndWhatToDo) {
    const std::string text = plan_text(sample_plan(), {});
    expect_has(text, "14:00 powder before leaving (dry, on the inside of the belt), 12 min");
    expect_has(
        text,
        "re-lube stop (dry powder on the inside of the belt), 12 min mouth of a gravel track: left, 1.2 km after "
        "the level crossing; 40 m up the track 15 km interval; 14.6 km since the last powder ! soft ground");
    expect_has(text, "What to do (check stop): 1. Compare both guide-lug sides");
    // The same steps are told once, not at every stop.
    const std::string steps = "Powder the inside of each belt";
    const auto first = text.find(steps);
    ASSERT_NE(first, std::string::npos);
    EXPECT_EQ(text.find(steps, first + 1), std::string::npos);
}

TEST(PlanText, RepeatedNotesAreSummedUp) {
    const std::string text = plan_text(sample_plan(), {});
    expect_has(
        text,
        "CHECK km 8.8: bridge posted 16 t; you weigh 18.4 t; last place to turn round: km 2.1; way 4711");
    expect_has(text, "note 2 times: bridge without a posted limit (km 11.0, 19.0)");
    expect_has(text, "note 12.5 km of the surface are assumed, not mapped");
}

TEST(PlanText, SaysWhatWasAssumedAndWhoseMapItIs) {
    const std::string text = plan_text(sample_plan(), {});
    expect_has(text, "air: 20 °C; low-bed: assumed low-bed Cautions");
    expect_lacks(text, "from: Alder Farm");
    expect_has(text, "Firm level ground off the carriageway.");
    expect_has(text, "Map Alder County of 2026-05-01. drawn by hand. loamway 0.1.0.");
}

// What became of infrared readings stood in the JSON alone.
TEST(PlanText, SaysWhatBecameOfReadings) {
    Plan plan = sample_plan();
    plan.move.fields.push_back({"readings", "2 readings contradict each other", false});
    plan.move.fields.push_back({"reading_refused", "m.toml:7: read 25 minutes after the stop", false});
    const std::string text = plan_text(plan, {});
    EXPECT_NE(text.find("\nReadings 2 readings contradict each other\n"), std::string::npos) << text;
    EXPECT_NE(text.find("\nReadings m.toml:7: read 25 minutes"), std::string::npos) << text;
}

TEST(PlanText, ColourOnlyWhenAskedFor) {
    EXPECT_EQ(plan_text(sample_plan(), {}).find('\x1b'), std::string::npos);
    EXPECT_NE(plan_text(sample_plan(), {.colour = true}).find("\x1b[1m"), std::string::npos);
}

TEST(PlanText, KeepsToItsWidth) {
    Plan plan = sample_plan();
    for (int k = 1; k <= 7; ++k) {
        plan.options.push_back(plan.options[0]);
        plan.options.back().id = "front-" + std::to_string(k);
    }
    for (const std::size_t width : {60u, 80u, 120u})
        expect_at_most(plan_text(plan, {.width = width}), width);
}

TEST(PlanText, ImperialFiguresAndUnits) {
    Plan plan = sample_plan();
    plan.units = "imperial";
    const std::string text = plan_text(plan, {});
    expect_has(text, "paved mi 9.4");
    expect_has(text, "9.0 mi 15:00 re-lube stop");
    expect_has(text, "fuel US gal 15");
    expect_has(text, "(138 ft from the road)");
    expect_lacks(text, "paved km");
}

TEST(PlanText, APlanThatCannotBeDoneSaysWhy) {
    Plan plan = sample_plan();
    plan.verdict = {};
    plan.verdict.sentence = "As asked this move cannot be done.";
    plan.options = {sample::impossible_option()};
    const std::string text = plan_text(plan, {});
    EXPECT_EQ(text.rfind("As asked this move cannot be done.", 0), 0u);
    expect_has(text, "no place fit to stop");
    plan.options.clear();
    EXPECT_FALSE(plan_text(plan, {}).empty());
}

TEST(PlanText, NextDayIsSaid) {
    Plan plan = sample_plan();
    plan.options[0].arrive = *plan.options[0].depart + Duration::from_hours(11);
    expect_has(plan_text(plan, {}), "07-15 01:00");
}

TEST(PlanText, StrangersNamesCannotMoveTheCursor) {
    Plan plan = sample_plan();
    const std::string evil = "a\x1b[2J\nb\r\xE2\x80\xAE";
    plan.move.from_name = plan.move.machine = plan.verdict.sentence = evil;
    plan.region.name = plan.region.attribution = evil;
    Option& o = plan.options[0];
    o.stops[0].place = o.stops[0].how_to_find = o.stops[0].why = evil;
    o.stops[0].to_do = o.stops[0].cautions = {evil};
    o.legs[0].directions[0] = {0, evil, evil, 0};
    o.flags[0].text = evil;
    plan.cautions = plan.move.phones = {evil};
    plan.move.fields = {{evil, evil, true}};
    for (const std::string& text : {plan_text(plan, {}), sheet_text(plan, "")}) {
        EXPECT_EQ(text.find('\x1b'), std::string::npos);
        EXPECT_EQ(text.find('\r'), std::string::npos);
        EXPECT_EQ(text.find("\xE2\x80\xAE"), std::string::npos);
    }
}

TEST(Sheet, HoldsWhatTheCabNeeds) {
    const std::string text = sheet_text(sample_plan(), "");
    expect_at_most(text, 80);
    expect_has(text,
               "From Alder Farm To Mill Field Machine Tracked tractor, medium, mounted Belts not run in");
    expect_has(text, "31.2 km driven, 15.1 km paved (12.4 to 24.9), 3 stops on the way");
    expect_has(text, "leave 14:00, arrive 16:02, 2 h 02 (Europe/Berlin)");
    expect_has(text, "at most paved 30 km/h, gravel 25 km/h");
    expect_has(text, "at the latest every 15.0 km");
    expect_has(text, "Phones Yard 555 0100");
    expect_has(text, "km [3] RE-LUBE STOP (dry powder on the inside of the belt)");
    expect_has(text, "15:00 to 15:12, 12 min; 10.4 km after the last stop; 14.6 km since the last powder");
    expect_has(text, "[ ] Powder the inside of each belt as far as you can reach");
    expect_has(text, "! soft ground at the mouth");
    expect_has(text, "trip meter ________");
    expect_has(text, "ARRIVE 16:02: Mill Field");
    expect_has(text, "CAUTIONS - Estimate, not a measurement.");
    expect_has(text, "drawn by hand");
}

TEST(Sheet, RunsInDrivingOrder) {
    const std::string text = sheet_text(sample_plan(), "");
    const std::vector<std::string> order{
        "[1] POWDER",  "leave the yard", "right onto the county", "[2] CHECK",   "! CHECK bridge posted",
        "[3] RE-LUBE", "straight on at", "left into the gravel",  "[4] RE-LUBE", "right onto the field",
        "ARRIVE",      "LOOK OUT FOR"};
    std::size_t at = 0;
    for (const std::string& piece : order) {
        const std::size_t found = text.find(piece, at);
        ASSERT_NE(found, std::string::npos) << piece << " is missing or too early in:\n" << text;
        at = found;
    }
}

TEST(Sheet, AHauledMoveHasNoStops) {
    const std::string text = sheet_text(sample_plan(), "haul");
    expect_has(text, "26.1 km on the low-bed");
    expect_lacks(text, "RE-LUBE");
    expect_at_most(text, 80);
}

TEST(Sheet, AnImpossibleOptionSaysSoOnTop) {
    const std::string text = sheet_text(sample_plan(), "least-hard");
    EXPECT_LT(text.find("CANNOT BE DONE"), text.find("From"));
}

TEST(Sheet, AnUnknownZoneIsNotTakenForLocalTime) {
    Plan plan = sample_plan();
    plan.region.time_zone.clear();
    expect_has(sheet_text(plan, ""),
               "leave 12:00, arrive 14:02, 2 h 02 (UTC, not local time: the region names no zone)");
}

TEST(Sheet, UnknownOptionIsAnError) {
    EXPECT_THROW((void)sheet_text(sample_plan(), "softest"), Error);
}

TEST(Cautions, SayWhatMustBeSaidAndNothingMore) {
    std::string all;
    for (const std::string& caution : standard_cautions())
        all += caution + " ";
    for (const char* piece :
         {"off the carriageway", "park brake on", "key out", "moving belt",
          "never grease, oil, diesel or soap", "road authority", "manuals", "The map may be wrong",
          "start fires", "a spotter", "burn skin", "no evidence of a belt's condition", "measure the height"})
        EXPECT_NE(all.find(piece), std::string::npos) << piece;
    EXPECT_EQ(all.find("legal"), std::string::npos);
    EXPECT_EQ(all.find("safe"), std::string::npos);
    EXPECT_EQ(standard_cautions(false).size() + 2, standard_cautions().size());
    EXPECT_NE(relube_steps(2)[2].find("both belts"), std::string::npos);
    EXPECT_NE(relube_steps(4)[2].find("all 4 belts"), std::string::npos);
}

}  // namespace
