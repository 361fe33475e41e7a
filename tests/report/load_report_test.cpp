// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/load_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "picture_reading.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using testing::HasSubstr;

LoadingPlan sample(const std::string& machine, const std::string& state = {}) {
    const std::string path = test::source_path("examples/profiles/" + machine + ".toml");
    LoadingInputs in;
    in.machine = read_machine(parse_toml(test::slurp(path), path), path);
    in.state = state;
    return make_loading_plan(in);
}

TEST(LoadReport, text_says_the_steps_only_where_it_can_be_done) {
    EXPECT_THAT(load_text(sample("medium"), {}), HasSubstr("\nIn this order\n"));
    const std::string no = load_text(sample("half-track"), {});
    EXPECT_THAT(no, testing::StartsWith("Do not load it like this.\n"));
    EXPECT_THAT(no, testing::Not(HasSubstr("In this order")));
}

TEST(LoadReport, text_fits_a_phone) {
    TextStyle narrow;
    narrow.width = 40;
    std::istringstream lines(load_text(sample("large", "mounted implement"), narrow));
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(line.size(), 42u) << line;  // the degree sign takes two bytes
}

TEST(LoadReport, nothing_is_called_legal_or_safe) {
    for (const char* machine : {"small", "medium", "large", "four-belt", "half-track"}) {
        const std::string text = load_text(sample(machine), {});
        EXPECT_THAT(text, testing::Not(testing::ContainsRegex("[^a-z](legal|safe)[^a-z]"))) << machine;
        EXPECT_THAT(text, HasSubstr("the person who loads decide"));
    }
}

TEST(LoadReport, the_same_plan_gives_the_same_picture) {
    const LoadingPlan plan = sample("four-belt");
    for (const PictureFormat f : {PictureFormat::pdf, PictureFormat::svg, PictureFormat::png})
        EXPECT_TRUE(load_picture(plan, f) == load_picture(plan, f));
}

TEST(LoadReport, one_page_with_the_figures_that_matter) {
    const LoadingPlan plan = sample("medium");
    const PdfRead pdf = read_pdf(load_picture(plan, PictureFormat::pdf));
    EXPECT_EQ(pdf.pages, 1);
    EXPECT_TRUE(pdf.complaints.empty()) << pdf.complaints;
    for (const char* words :
         {"chalk mark 3.09 m", "4.31 m high", "2.85 m wide", "gauge 2.20 m", "150 mm", "ramp 4.40 m",
          "drops 0.25 m", "18.5 of 24.0 t", "16.50 m over all", "the person who loads decide"})
        EXPECT_THAT(pdf.text, HasSubstr(words));
}

TEST(LoadReport, drawn_and_told_in_feet_and_pounds) {
    LoadingPlan plan = sample("medium");
    plan.units = "imperial";
    const PdfRead pdf = read_pdf(load_picture(plan, PictureFormat::pdf));
    EXPECT_EQ(pdf.pages, 1);
    for (const char* words : {"chalk mark 10 ft 1.8 in", "14 ft 1.7 in high", "9 ft 4.2 in wide", "5.9 in",
                              "drops 9.9 in", "40704 of 52911 lb", "22000 lbf a side"})
        EXPECT_THAT(pdf.text, HasSubstr(words));
    // Findings are words of the plan, written when it was made.
    plan.findings.clear();
    plan.steps.clear();
    EXPECT_THAT(load_text(plan, {}),
                testing::Not(testing::ContainsRegex("[0-9] (m|mm|t|kN|kg|MPa|kJ)[ ,;:)\n]")));
}

// A name from a stranger's profile must neither break the file nor move the cursor.
TEST(LoadReport, names_are_cleaned) {
    LoadingPlan plan = sample("medium");
    plan.machine.name = "a\x1b[31m<b>&\xff";
    EXPECT_THAT(load_text(plan, {}), testing::Not(HasSubstr("\x1b")));
    EXPECT_THAT(load_picture(plan, PictureFormat::svg), testing::Not(HasSubstr("<b>")));
}

}  // namespace
}  // namespace loamway
