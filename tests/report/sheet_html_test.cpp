// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/sheet_html.h"

#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "loamway/text/value.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

std::string page(const Plan& plan) {
    return sheet_html({&plan, 1}, {});
}
Value data_of(const std::string& html) {
    const std::string open = "<script type=\"application/json\" id=\"data\">";
    const auto from = html.find(open) + open.size();
    return parse_json(html.substr(from, html.find("</script>", from) - from), "data");
}

TEST(HtmlSheet, SaysWhatTheDrawnSheetSays) {
    const std::string html = page(sample_plan());
    for (const char* piece :
         {"<h1>DRIVE IT</h1>", "paved, at most<br><b>30</b> km/h", "[3] RE-LUBE STOP", "<b>14.5</b> km",
          "LEFT: mouth of a gravel track", "! soft ground at the mouth", "Yard 555 0100", "geo:53.6",
          "Estimate, not a measurement.", "<b>! CHECK</b> bridge posted 16 t", "drawn by hand"})
        EXPECT_NE(html.find(piece), std::string::npos) << piece;
}

TEST(HtmlSheet, AsksForNothingOutside) {
    const std::string html = page(sample_plan());
    EXPECT_NE(html.find("Content-Security-Policy\" content=\"default-src 'none'; img-src data:;"),
              std::string::npos);
    // Addresses there are only as names of formats inside the pictures, which are data.
    EXPECT_EQ(html.find("http:"), std::string::npos);
    EXPECT_EQ(html.find("https:"), std::string::npos);
    EXPECT_EQ(html.find("<link"), std::string::npos);
    const std::regex source("src=\"(?!data:)");
    EXPECT_FALSE(std::regex_search(html, source));
}

TEST(HtmlSheet, NamesStayText) {
    Plan plan = sample_plan();
    plan.move.to_name = "<img src=x onerror=alert(1)>";
    plan.options[0].stops[1].place = "</script><script>alert(2)</script>";
    plan.options[0].stops[1].kind = "</script><b>";
    plan.move.phones = {"\"><svg onload=alert(3)>"};
    const std::string html = page(plan);
    EXPECT_EQ(html.find("<img src=x"), std::string::npos);
    EXPECT_EQ(html.find("<script>alert"), std::string::npos);
    EXPECT_EQ(html.find("<svg"), std::string::npos);
    EXPECT_EQ(data_of(html).find("moves")->as_array()->size(), 1u);
}

TEST(HtmlSheet, TheScriptGetsWayAndStops) {
    const Plan plan = sample_plan();
    const Value data = data_of(page(plan));
    EXPECT_EQ(*data.find("unit")->as_string(), "km");
    const Value& move = data.find("moves")->as_array()->front();
    ASSERT_EQ(move.find("stops")->as_array()->size(), 4u);
    EXPECT_NEAR((*move.find("stops")->as_array())[2].find("at")->number(), plan.options[0].stops[2].at_m,
                0.5);
    const auto& way = *move.find("way")->as_array();
    EXPECT_EQ(way.size(), plan.options[0].geometry.size());
    EXPECT_NEAR((*way.back().as_array())[2].number(), *plan.options[0].length_m, 0.5);
}

TEST(HtmlSheet, ADayHasItsMovesInOrder) {
    Plan early = sample_plan();
    early.options[0].depart = sample::at("2026-07-14T05:00");
    early.move.to_name = "Low Meadow";
    const std::vector<Plan> plans{sample_plan(), early};
    const std::string html = sheet_html(plans, {});
    EXPECT_NE(html.find("<title>Moves of 2026-07-14</title>"), std::string::npos);
    EXPECT_LT(html.find("Alder Farm to Low Meadow"), html.find("Alder Farm to Mill Field"));
    EXPECT_EQ(data_of(html).find("moves")->as_array()->size(), 2u);
    EXPECT_TRUE(html == sheet_html(plans, {}));
}

}  // namespace
