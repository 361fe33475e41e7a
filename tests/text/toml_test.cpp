// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {
namespace {

std::string complaint(std::string_view text, TextLimits limits = {}) {
    try {
        static_cast<void>(parse_toml(text, "a.toml", limits));
    } catch (const Error& e) {
        return e.what();
    }
    return "none";
}

TEST(toml_read, every_kind_of_value) {
    const Value v = parse_toml(R"(
flag = true
whole = -12
hex = 0x1F
real = 1.5e3
text = "a\u00fc"
literal = 'C:\x'
list = [1, 2.5, "x"]
inline = { a = 1, b.c = 2 }
)",
                               "a.toml");
    EXPECT_TRUE(*v.find("flag")->as_bool());
    EXPECT_EQ(*v.find("whole")->as_integer(), -12);
    EXPECT_EQ(*v.find("hex")->as_integer(), 31);
    EXPECT_EQ(*v.find("real")->as_double(), 1500.0);
    EXPECT_EQ(*v.find("text")->as_string(), "a\xC3\xBC");
    EXPECT_EQ(*v.find("literal")->as_string(), "C:\\x");
    EXPECT_EQ(v.find("list")->as_array()->size(), 3u);
    EXPECT_EQ(*v.find("inline")->find("b")->find("c")->as_integer(), 2);
}

TEST(toml_read, dates_and_times_become_text) {
    const Value v = parse_toml(R"(
a = 2026-07-14T14:00:00
b = 2026-07-14 14:00:00+02:00
c = 2026-07-14T14:00:00Z
d = 2026-07-14
e = 14:05:00
f = 2026-07-14T14:00:00.250-05:30
)",
                               "a.toml");
    EXPECT_EQ(*v.find("a")->as_string(), "2026-07-14T14:00:00");
    EXPECT_EQ(*v.find("b")->as_string(), "2026-07-14T14:00:00+02:00");
    EXPECT_EQ(*v.find("c")->as_string(), "2026-07-14T14:00:00Z");
    EXPECT_EQ(*v.find("d")->as_string(), "2026-07-14");
    EXPECT_EQ(*v.find("e")->as_string(), "14:05:00");
    EXPECT_EQ(*v.find("f")->as_string(), "2026-07-14T14:00:00.25-05:30");
}

TEST(toml_read, lines_and_order_are_those_of_the_file) {
    const Value v = parse_toml(
        "zeta = 1\nalpha = 2\n\n[speed]\ntop = 40\n\n[[state]]\nname = \"bare\"\n[[state]]\nname =\t\"full\"\n",
        "a.toml");
    const auto& o = *v.as_object();
    ASSERT_EQ(o.size(), 4u);
    EXPECT_EQ(o[0].first, "zeta");
    EXPECT_EQ(o[1].first, "alpha");
    EXPECT_EQ(o[2].first, "speed");
    EXPECT_EQ(o[3].first, "state");
    EXPECT_EQ(o[0].second.line(), 1);
    EXPECT_EQ(o[1].second.line(), 2);
    EXPECT_EQ(o[2].second.line(), 4);
    EXPECT_EQ(o[2].second.find("top")->line(), 5);
    const auto& states = *o[3].second.as_array();
    ASSERT_EQ(states.size(), 2u);
    EXPECT_EQ(states[0].line(), 7);
    EXPECT_EQ(states[1].line(), 9);
    EXPECT_EQ(states[1].find("name")->line(), 10);
}

TEST(toml_read, faults_have_the_line) {
    EXPECT_TRUE(complaint("a = 1\nb = \n").starts_with("a.toml:2: "));
    EXPECT_TRUE(complaint("a = 1\na = 2\n").starts_with("a.toml:2: "));
    EXPECT_TRUE(complaint("[t]\nx = 1\n[t]\n").starts_with("a.toml:3: "));
    EXPECT_EQ(complaint("a = 1\nb = inf\n"), "a.toml:2: a number must be finite (not nan or inf)");
    EXPECT_EQ(complaint("a = [1, -nan]"), "a.toml:1: a number must be finite (not nan or inf)");
    for (const char* text : {"a", "= 1", "a = 1 b = 2", "a = 1e999", "a = 99999999999999999999", "a = 01",
                             "a = 'x", "a = \"\xFF\"", "a = [1", "a = {b = 1", "[a", "a = \"\\q\"",
                             "a = 2026-13-01", "a = 1__0", "a.b = 1\na = 2", "a = {x = 1}\na.y = 2"})
        EXPECT_NE(complaint(text), "none") << text;
    EXPECT_EQ(complaint(""), "none");
}

TEST(toml_read, size_limit) {
    TextLimits limits;
    limits.bytes = 5;
    EXPECT_EQ(complaint("a = 1", limits), "none");
    EXPECT_EQ(complaint("a = 12", limits),
              "a.toml: the text has 6 bytes, more than the 5 accepted (give a smaller document)");
}

TEST(toml_read, depth_limit_counts_lists_tables_and_dots) {
    TextLimits limits;
    limits.depth = 4;
    EXPECT_EQ(complaint("a = [[[1]]]", limits), "none");
    const std::string words = "lists and tables are nested more than 4 deep";
    EXPECT_EQ(complaint("x = 1\na = [[[[[1]]]]]", limits), "a.toml:2: " + words);
    EXPECT_EQ(complaint("\n\n[a.b.c.d.e]", limits), "a.toml:3: " + words);
    EXPECT_EQ(complaint("a.b.c.d.e.f = 1", limits), "a.toml:1: " + words);
    EXPECT_EQ(complaint("a.b = { c.d = { e.f = 1 } }", limits), "a.toml:1: " + words);
    EXPECT_EQ(complaint("[a.b.c]\nd.e.f = 1", limits), "a.toml:2: " + words);
}

TEST(toml_read, dots_and_brackets_inside_texts_and_comments_do_not_count) {
    TextLimits limits;
    limits.depth = 4;
    for (const char* text :
         {"a = \"......[[[[[[\"", "a = '......[[[[[['", "# ......[[[[[[\na = 1",
          "a = \"\"\"\n......\n[[[[[[ \"\"\"", "a = '''\n......'[[[[[['''", "a = \"\\\"......\"",
          "a = \"\"\nb = ''\nc = \"\"\"\"\"\"", "a = \"\"\"x\"\"\"\"\"\nb = \"......\"",
          "a = \"\"\"\\\n ......\"\"\"", "\"......\" = 1", "a = [1.5, 2.5, 3.5, 4.5, 5.5, 6.5]",
          "a = [\n1.5,\n2.5,\n3.5,\n4.5,\n5.5]\nb = 1.5\nc = 2.5\nd = 3.5\ne = 4.5"})
        EXPECT_EQ(complaint(text, limits), "none") << text;
}

// A key of a million parts overflowed the stack when the parser's tables were taken down.
TEST(toml_read, a_very_long_dotted_key_is_refused_before_it_is_built) {
    std::string text = "a";
    for (int i = 0; i < 1000000; ++i)
        text += ".a";
    EXPECT_EQ(complaint(text + " = 1"), "a.toml:1: lists and tables are nested more than 64 deep");
    EXPECT_EQ(complaint(fmt::format("[{}]", text)),
              "a.toml:1: lists and tables are nested more than 64 deep");
    EXPECT_NE(complaint(fmt::format("b = \"x{0}\n[{0}]", text)), "none");
}

}  // namespace
}  // namespace loamway
