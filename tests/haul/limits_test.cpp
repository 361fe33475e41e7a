// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/limits.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "loamway/base/error.h"
#include "support/test_files.h"

namespace loamway {
namespace {

LimitsTable read(const std::string& text) {
    return read_limits_table(parse_toml(text, "doc.toml"), "doc.toml");
}
LimitsTable shipped(const std::string& name) {
    const std::string path = test::source_path("regions/limits/" + name + ".toml");
    return read_limits_table(parse_toml(test::slurp(path), path), path);
}
const PublishedLimit& first(const LimitsTable& t, LimitWhat what) {
    const auto found =
        std::find_if(t.limits.begin(), t.limits.end(), [&](const auto& l) { return l.what == what; });
    if (found == t.limits.end())
        throw std::runtime_error("no such limit");
    return *found;
}
void expect_fault(const std::string& text, int line, const std::string& words) {
    try {
        (void)read(text);
        ADD_FAILURE() << "no error; expected " << words;
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_EQ(e.place().line, std::optional<int>(line)) << e.what();
        EXPECT_NE(std::string(e.what()).find(words), std::string::npos) << e.what();
    }
}

// Directive 96/53/EC, Annex I, in extract; axle loads from the ITF table and, for groups, from memory.
TEST(Limits, european_directive) {
    const LimitsTable t = shipped("eu-96-53");
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::width).length.metres(), 2.55);
    EXPECT_EQ(first(t, LimitWhat::width).of, LimitOf::low_bed);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::height).length.metres(), 4.00);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::length).length.metres(), 16.50);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::kingpin_to_rear).length.metres(), 12.00);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::gross_mass).mass.tonnes(), 40);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::driving_axle).mass.tonnes(), 11.5);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::single_axle).mass.tonnes(), 10);
    EXPECT_DOUBLE_EQ(first(t, LimitWhat::driving_share).share, 0.25);
    EXPECT_EQ(t.securing, SecuringRules::en);
    EXPECT_FALSE(t.bridge_formula);
    EXPECT_FALSE(t.checklist.empty());
}

// 23 CFR 658.15 and 658.17, in extract.
TEST(Limits, united_states) {
    const LimitsTable t = shipped("us-federal");
    EXPECT_NEAR(first(t, LimitWhat::width).length.metres(), 2.5908, 1e-9);
    EXPECT_NEAR(first(t, LimitWhat::height).length.metres(), 4.1148, 1e-9);
    EXPECT_NEAR(first(t, LimitWhat::gross_mass).mass.kg(), 36287.39, 0.005);
    ASSERT_TRUE(t.bridge_formula);
    EXPECT_EQ(t.bridge_formula->tie, Tie::down);
    EXPECT_EQ(t.bridge_formula->tandem_lb, 34000);
    EXPECT_EQ(t.securing, SecuringRules::us);
}

TEST(Limits, every_table_that_ships_is_named_like_its_file_and_says_its_sources) {
    int seen = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("regions/limits"))) {
        const LimitsTable t = shipped(entry.path().stem().string());
        EXPECT_EQ(t.name, entry.path().stem().string());
        for (const PublishedLimit& l : t.limits)
            EXPECT_TRUE(l.source != "none" || l.seen == Seen::assumption || l.seen == Seen::practice)
                << t.name;
        ++seen;
    }
    EXPECT_GE(seen, 3);
}

TEST(Limits, faults_are_placed) {
    const std::string head = "name = \"x\"\ntitle = \"y\"\n[[limit]]\n";
    expect_fault(head + "what = \"widht\"\nmax_m = 2\nsource = \"s\"\nseen = \"memory\"\n", 4, "width");
    expect_fault(head + "what = \"width\"\nmax_kg = 2000\nsource = \"s\"\nseen = \"memory\"\n", 3,
                 "max_m and max_in");
    expect_fault(head + "what = \"width\"\nmax_m = 2\nmax_in = 90\nsource = \"s\"\nseen = \"memory\"\n", 5,
                 "give one of");
    expect_fault(head + "what = \"width\"\nmax_m = 2\nseen = \"memory\"\n", 3, "source");
    expect_fault(head + "what = \"width\"\nmax_m = 2\nsource = \"\"\nseen = \"memory\"\n", 6,
                 "without a source");
    expect_fault(head + "what = \"width\"\nmax_m = 2\nsource = \"s\"\n", 3, "seen is missing");
    expect_fault("name = \"x\"\n", 1, "title");
}

}  // namespace
}  // namespace loamway
