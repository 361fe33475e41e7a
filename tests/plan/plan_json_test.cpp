// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "loamway/base/error.h"
#include "loamway/plan/plan.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

PlanUncertainty sample_uncertainty() {
    PlanUncertainty u;
    u.trials = 1000;
    u.seed = 9007199254740991;
    u.inputs = {{"wage", 0.8, 1, 1.3}};
    u.options = {{"least-cost", 410.25, 350, 405, 480, 0.876, 2.5}};
    u.comparison =
        CostComparison{"least-cost", "haul", 0.876, 0.854, 0.895, -120, -220, -118, 12, 2.5, 122.5};
    u.mode_probability = 0.876;
    u.tornado_base = -130.5;
    u.tornado = {{"permit", 0.77, 1.61, -150, -80, 70}};
    u.flips = {{"permit", 120, 31.5, "CU", 1.5, "permit below 32 CU (120 now): then haul it"}};
    return u;
}

Plan sample_with_everything() {
    Plan p = sample_plan();
    Option& o = p.options[0];
    o.heat = OptionHeat{false, 83.449, 62.0, 104.96,
                        55.25, 110.0,  90.0, {{0, 20.0, 20.0}, {14600.4, 70.06, 50.0}}};
    o.elevation = {{0.0, 41.2}, {500.0, 43.8}};
    o.climb = OptionClimb{312.4, 290.0, -6.04, 12300, 0.0};
    p.region.elevation = "hills.tif";
    o.corrections = {"c-1"};
    o.flags.front().again_at_m = {5000.4, 7000};
    p.front = {{1, 9000.4, 33000.0, 410.499, true, 2, 5400.4, 104.96, "least-hard", {}},
               {2, 12000.0, 31500.0, {}, {}, {}, {}, {}, "", {"too hot"}}};
    p.front_exact = true;
    p.break_even = PlanBreakEven{"least-cost",
                                 "haul",
                                 31000,
                                 0.84,
                                 {44050, 45000},
                                 44050,
                                 45000,
                                 45288,
                                 11.56,
                                 13.974,
                                 481.66,
                                 3.593,
                                 0,
                                 200000,
                                 50,
                                 {{0, 11.5, 481.5}, {1000, 25.5, 485}}};
    p.uncertainty = sample_uncertainty();
    p.verdict.probability_cheapest = 0.87654;
    p.verdict.too_close = false;
    p.verdict.would_flip = {"a truck below 300 CU"};
    return p;
}

std::string fault_of(const std::string& json) {
    try {
        (void)plan_from_json(parse_json(json, "p.json"), "p.json");
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "no error";
}

/// The sample's text with one piece replaced; the piece must be there.
std::string with(const std::string& piece, const std::string& other) {
    std::string text = to_json(plan_to_json(sample_with_everything()));
    const auto at = text.find(piece);
    EXPECT_NE(at, std::string::npos) << piece;
    return at == std::string::npos ? text : text.replace(at, piece.size(), other);
}

std::set<std::string> keys_of(const Value* v) {
    std::set<std::string> out;
    if (v != nullptr && v->as_object() != nullptr)
        for (const auto& member : *v->as_object())
            out.insert(member.first);
    return out;
}
void expect_keys(const Value* v, const std::set<std::string>& wanted) {
    const std::set<std::string> there = keys_of(v);
    for (const std::string& key : wanted)
        EXPECT_TRUE(there.contains(key)) << key;
}

TEST(PlanJson, ReadsBackToTheSameText) {
    for (const Plan& plan : {sample_with_everything(), sample_plan(), Plan{}}) {
        const std::string first = to_json(plan_to_json(plan), 2);
        const Plan back = plan_from_json(parse_json(first, "p.json"), "p.json");
        EXPECT_EQ(to_json(plan_to_json(back), 2), first);
    }
}

TEST(PlanJson, HasTheKeysOfTheContract) {
    const Value json = plan_to_json(sample_with_everything());
    expect_keys(&json, {"schema", "loamway_version", "region", "move", "verdict", "options", "front",
                        "heat_search", "break_even", "uncertainty", "cautions"});
    expect_keys(json.find("region"), {"name", "digest", "map_date", "time_zone", "attribution"});
    expect_keys(json.find("verdict"),
                {"option", "mode", "sentence", "reasons", "probability_cheapest", "too_close", "would_flip"});
    for (const Value& o : *json.find("options")->as_array()) {
        expect_keys(&o, {"id",
                         "also",
                         "mode",
                         "feasible",
                         "why_not",
                         "exact",
                         "gap_m",
                         "length_m",
                         "hard_m",
                         "gravel_m",
                         "earth_m",
                         "assumed_m",
                         "hard_low_m",
                         "hard_high_m",
                         "hauled_m",
                         "ferry_m",
                         "depart",
                         "arrive",
                         "duration_s",
                         "driving_s",
                         "stopped_s",
                         "fuel_l",
                         "speed_caps_kmh",
                         "sharp_turns_hard",
                         "cost",
                         "wear",
                         "heat",
                         "stops",
                         "relube_interval_m",
                         "legs",
                         "flags",
                         "elevation",
                         "climb",
                         "corrections",
                         "geometry",
                         "answer_needed"});
        expect_keys(o.find("cost"),
                    {"total", "labour", "fuel", "belts", "machine", "lubricant", "escort", "truck", "permit",
                     "other", "low", "high", "basis", "currency", "mean", "other_basis_total"});
        expect_keys(o.find("wear"),
                    {"share", "mm", "field_hours_equivalent", "low", "high", "calibrated", "basis"});
        expect_keys(o.find("speed_caps_kmh"), {"hard", "gravel", "earth"});
    }
    const Value& drive = (*json.find("options")->as_array())[0];
    expect_keys(drive.find("heat"),
                {"calibrated", "acted_on_c", "basis", "bar_peak_c", "bar_low_c", "bar_high_c",
                 "guide_lug_peak_c", "limit_c", "caution_c", "profile", "margin_c", "aging_110c_min",
                 "guide_lug_peak_at_m", "guide_lug_caution_c"});
    expect_keys(&(*drive.find("stops")->as_array())[0],
                {"kind", "at_m", "since_relube_m", "lat", "lon", "place", "how_to_find", "side", "why", "do",
                 "wait_s", "arrive", "leave", "cautions"});
    expect_keys(&(*drive.find("legs")->as_array())[0],
                {"mode", "from", "to", "length_m", "duration_s", "surface_runs", "directions"});
    expect_keys(&(*drive.find("flags")->as_array())[0], {"kind", "severity", "at_m", "lat", "lon", "text",
                                                         "osm_way", "last_turn_round_m", "again_at_m"});
}

TEST(PlanJson, RoundsAsTheContractSays) {
    const Value json = plan_to_json(sample_with_everything());
    const Value& o = (*json.find("options")->as_array())[0];
    EXPECT_EQ(to_json(*o.find("fuel_l")), "58.3");
    EXPECT_EQ(to_json(*o.find("cost")->find("total")), "402.14");
    EXPECT_EQ(to_json(*o.find("wear")->find("share")), "0.01179");
    EXPECT_EQ(to_json(*o.find("wear")->find("mm")), "0.472");
    EXPECT_EQ(to_json(*o.find("heat")->find("bar_peak_c")), "83.4");
    EXPECT_EQ(to_json(*o.find("heat")->find("bar_high_c")), "105");
    EXPECT_EQ(to_json((*o.find("heat")->find("profile")->as_array())[1]), "[14600,70.1,50]");
    EXPECT_EQ(to_json(*o.find("duration_s")), "7320");
    EXPECT_NE(o.find("length_m")->as_integer(), nullptr);
    EXPECT_EQ(to_json((*(*o.find("legs")->as_array())[0].find("surface_runs")->as_array())[1]),
              "[2100,14500,\"hard\",true]");
    EXPECT_EQ(to_json((*o.find("geometry")->find("coordinates")->as_array())[0]), "[13.2,53.5]");
}

TEST(PlanJson, TimesCarryTheRegionsOffset) {
    const Value json = plan_to_json(sample_plan());
    const Value& o = (*json.find("options")->as_array())[0];
    EXPECT_EQ(*o.find("depart")->as_string(), "2026-07-14T14:00:00+02:00");
    Plan utc = sample_plan();
    utc.region.time_zone.clear();
    const Value in_utc = plan_to_json(utc);
    EXPECT_EQ(*(*in_utc.find("options")->as_array())[0].find("depart")->as_string(), "2026-07-14T12:00:00Z");
}

TEST(PlanJson, WhatIsNotComputedIsNull) {
    const Value json = plan_to_json(sample_plan());
    const Value& impossible = (*json.find("options")->as_array())[2];
    for (const char* key : {"length_m", "hard_m", "depart", "arrive", "duration_s", "fuel_l", "heat",
                            "elevation", "geometry", "sharp_turns_hard"})
        EXPECT_TRUE(impossible.find(key)->is_null()) << key;
    EXPECT_TRUE(impossible.find("cost")->find("total")->is_null());
    for (const char* key : {"front", "heat_search", "break_even", "uncertainty"})
        EXPECT_TRUE(json.find(key)->is_null()) << key;
    EXPECT_TRUE(json.find("verdict")->find("probability_cheapest")->is_null());
}

TEST(PlanJson, AdditionalKeysPass) {
    const std::string text = with("\"front\":", "\"something_new\":{\"a\":1},\"front\":");
    const Plan p = plan_from_json(parse_json(text, "p.json"), "p.json");
    EXPECT_EQ(p.front->size(), 2u);
}

TEST(PlanJson, FaultsNameTheKey) {
    EXPECT_NE(fault_of("[]").find("is not a plan"), std::string::npos);
    EXPECT_NE(fault_of("{\"type\":\"FeatureCollection\"}").find("is not a plan"), std::string::npos);
    EXPECT_NE(fault_of(with("loamway.plan/1", "loamway.plan/2")).find("loamway.plan/1"), std::string::npos);
    EXPECT_NE(fault_of(with("\"feasible\":true", "\"feasible\":1")).find("options[0].feasible"),
              std::string::npos);
    EXPECT_NE(fault_of(with("\"mode\":\"haul\"", "\"mode\":\"hual\"")).find("did you mean \"haul\"?"),
              std::string::npos);
    EXPECT_NE(fault_of(with("[13.2,53.5]", "[13.2,153.5]")).find("latitude"), std::string::npos);
    EXPECT_NE(fault_of(with("[13.2,53.5]", "[13.2]")).find("coordinates[0]"), std::string::npos);
    EXPECT_NE(fault_of(with("\"geometry_at_m\":[0", "\"geometry_at_m\":[9e8")).find("goes back"),
              std::string::npos);
    EXPECT_NE(fault_of(with("\"geometry_at_m\":[0,", "\"geometry_at_m\":[")).find("entries"),
              std::string::npos);
    EXPECT_NE(fault_of(with("2026-07-14T14:00:00+02:00", "yesterday")).find("is not a time"),
              std::string::npos);
    EXPECT_NE(fault_of(with("Europe/Berlin", "Europe/Nowhere")).find("region.time_zone"), std::string::npos);
    EXPECT_NE(fault_of(with("\"driving_s\":4860", "\"driving_s\":1e300")).find("too large"),
              std::string::npos);
    EXPECT_EQ(fault_of(with("\"hard\",true", "\"heard\",true")).substr(0, 9), "p.json:1:");
}

TEST(PlanJson, FaultsOfUncertaintyNameTheKey) {
    EXPECT_NE(fault_of(with("\"trials\":1000", "\"trials\":0")).find("uncertainty.trials"),
              std::string::npos);
    EXPECT_NE(fault_of(with("\"mode_probability\":0.876", "\"mode_probability\":1.2")).find("is no share"),
              std::string::npos);
    EXPECT_NE(fault_of(with("\"wilson95\":[0.854,", "\"wilson95\":[")).find("wilson95"), std::string::npos);
    EXPECT_NE(fault_of(with("[1000,25.5,485]", "[-1,25.5,485]")).find("break_even.curve"), std::string::npos);
}

TEST(PlanJson, ANumberThatIsNoneIsAFaultOfTheProgram) {
    Plan p = sample_plan();
    p.options[0].fuel_l = std::nan("");
    EXPECT_THROW((void)plan_to_json(p), Error);
    p = sample_plan();
    p.options[0].length_m = INFINITY;
    EXPECT_THROW((void)plan_to_json(p), Error);
}

TEST(PlanLookup, FindsOptionsByIdAndByTheirOtherNames) {
    const Plan p = sample_plan();
    EXPECT_EQ(p.find_option("haul")->mode, Mode::haul);
    EXPECT_EQ(p.find_option("least-time")->id, "least-cost");
    EXPECT_EQ(p.find_option("front-9"), nullptr);
    EXPECT_EQ(p.find_option(""), nullptr);
}

TEST(PlanLookup, ChoosesTheOptionToPrint) {
    Plan p = sample_plan();
    EXPECT_EQ(p.option_for_output("").id, "least-cost");
    EXPECT_EQ(p.option_for_output("haul").id, "haul");
    p.verdict.option.clear();
    EXPECT_EQ(p.option_for_output("").id, "least-cost");
    try {
        (void)p.option_for_output("softest");
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
        EXPECT_NE(std::string(e.what()).find("least-cost, least-time, haul, least-hard"), std::string::npos);
    }
    p.options.clear();
    EXPECT_THROW((void)p.option_for_output(""), Error);
}

TEST(UnitWords, AreThoseOfTheJson) {
    EXPECT_EQ(name_of(Mode::none), "none");
    EXPECT_EQ(name_of(Mode::mixed), "mixed");
    EXPECT_EQ(name_of(Severity::check), "check");
    EXPECT_EQ(name_of(Severity::stop), "stop");
}

}  // namespace
