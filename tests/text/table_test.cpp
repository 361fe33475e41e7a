// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/table.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <string>

namespace loamway {
namespace {

using testing::ElementsAre;
using testing::Optional;

constexpr double infinity = std::numeric_limits<double>::infinity();

constexpr const char* machine_toml = R"(name = "demo"
engine_kw = 320
steering = "articulated"
agricultural = true
ratios = [0.5, 1, 2.0]
notes = ["a", "b"]
[speed_kmh]
top = 40.5
[[state]]
name = "bare"
mass_kg = -3
[[state]]
name = "full"
mass_kg = 24000.0
)";

class TableTest : public testing::Test {
protected:
    const Value m_value = parse_toml(machine_toml, "machine.toml");
    Table m_table{m_value, "machine.toml"};
};

template <class F>
std::string complaint(F&& f) {
    try {
        f();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "none";
}

TEST_F(TableTest, reads_each_kind) {
    EXPECT_EQ(m_table.require_text("name"), "demo");
    EXPECT_THAT(m_table.number("engine_kw", {1, 2000}), Optional(320.0));
    EXPECT_THAT(m_table.integer("engine_kw", {1, 2000}), Optional(320));
    EXPECT_THAT(m_table.word("steering", {"differential", "articulated"}), Optional(1u));
    EXPECT_THAT(m_table.boolean("agricultural"), Optional(true));
    EXPECT_THAT(m_table.numbers("ratios", {0, 10}), Optional(ElementsAre(0.5, 1.0, 2.0)));
    EXPECT_THAT(m_table.texts("notes"), Optional(ElementsAre("a", "b")));
    EXPECT_EQ(m_table.table("speed_kmh")->require_number("top", {1, 100}), 40.5);
    auto states = m_table.tables("state");
    ASSERT_EQ(states.size(), 2u);
    EXPECT_THAT(states[1].integer("mass_kg", {1, 100000}), Optional(24000));
    EXPECT_EQ(states[1].path(), "state[2]");
    EXPECT_EQ(states[1].line(), 12);
    EXPECT_EQ(complaint([&] { m_table.finish(); }), "none");
}

TEST_F(TableTest, what_is_absent_is_nothing_or_the_fallback) {
    EXPECT_FALSE(m_table.has("none"));
    EXPECT_EQ(m_table.number("none", {0, 1}), std::nullopt);
    EXPECT_EQ(m_table.number_or("none", 0.25, {0, 1}), 0.25);
    EXPECT_EQ(m_table.integer("none", {0, 1}), std::nullopt);
    EXPECT_EQ(m_table.boolean("none"), std::nullopt);
    EXPECT_EQ(m_table.text("none"), std::nullopt);
    EXPECT_EQ(m_table.word("none", {"a"}), std::nullopt);
    EXPECT_EQ(m_table.numbers("none", {0, 1}), std::nullopt);
    EXPECT_EQ(m_table.texts("none"), std::nullopt);
    EXPECT_FALSE(m_table.table("none").has_value());
    EXPECT_TRUE(m_table.tables("none").empty());
    EXPECT_EQ(m_table.value("none"), nullptr);
}

TEST_F(TableTest, missing_keys_are_named_at_their_table) {
    EXPECT_EQ(complaint([&] { static_cast<void>(m_table.require_text("model")); }),
              "machine.toml:1: model is missing (add model = \"...\")");
    auto speed = m_table.table("speed_kmh");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(speed->require_number("hard", {0, 1}));
              }),
              "machine.toml:7: speed_kmh.hard is missing (add hard = NUMBER)");
}

TEST_F(TableTest, ranges) {
    auto states = m_table.tables("state");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(states[0].number("mass_kg", {1, 100000}));
              }),
              "machine.toml:11: state[1].mass_kg = -3 is outside 1..100000");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.number("engine_kw", {0.5, 319.5}));
              }),
              "machine.toml:2: engine_kw = 320 is outside 0.5..319.5");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(states[0].number("mass_kg", {0, infinity}));
              }),
              "machine.toml:11: state[1].mass_kg = -3 is below 0");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.number("engine_kw", {-infinity, 300}));
              }),
              "machine.toml:2: engine_kw = 320 is above 300");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.numbers("ratios", {0, 1}));
              }),
              "machine.toml:5: ratios[3] = 2 is outside 0..1");
    EXPECT_THAT(m_table.number("engine_kw", {320, 320}), Optional(320.0));
}

TEST_F(TableTest, wrong_types) {
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.number("name", {0, 1}));
              }),
              "machine.toml:1: name is text, not a number (write it without quotes)");
    EXPECT_EQ(complaint([&] { static_cast<void>(m_table.text("engine_kw")); }),
              "machine.toml:2: engine_kw is a number, not text (write it in quotes)");
    EXPECT_EQ(
        complaint([&] { static_cast<void>(m_table.boolean("engine_kw")); }),
        "machine.toml:2: engine_kw is a number, not true or false (write true or false without quotes)");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.numbers("engine_kw", {0, 1}));
              }),
              "machine.toml:2: engine_kw is a number, not a list (write it as [a, b, ...])");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.numbers("notes", {0, 1}));
              }),
              "machine.toml:6: notes[1] is text, not a number (write it without quotes)");
    EXPECT_EQ(complaint([&] { static_cast<void>(m_table.texts("ratios")); }),
              "machine.toml:5: ratios[1] is a number, not text (write it in quotes)");
    EXPECT_EQ(complaint([&] { static_cast<void>(m_table.table("name")); }),
              "machine.toml:1: name is text, not a table");
    EXPECT_EQ(complaint([&] { static_cast<void>(m_table.tables("ratios")); }),
              "machine.toml:5: ratios[1] is a number, not a table");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.table("speed_kmh")->integer("top", {0, 100}));
              }),
              "machine.toml:8: speed_kmh.top = 40.5 is not a whole number");
    EXPECT_EQ(complaint([] { Table t(parse_json("[1]", "a.json"), "a.json"); }),
              "a.json:1: the document is a list, not a table");
}

TEST_F(TableTest, a_wrong_word_names_the_nearest_or_all) {
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(m_table.word("steering", {"differential", "articulate"}));
              }),
              "machine.toml:3: steering = \"articulated\" is not known (did you mean \"articulate\"?)");
    EXPECT_EQ(
        complaint([&] {
            static_cast<void>(m_table.word("steering", {"front", "rear-wheel"}));
        }),
        "machine.toml:3: steering = \"articulated\" is not known (write one of \"front\", \"rear-wheel\")");
}

TEST(table, unknown_keys_name_the_nearest_known_one) {
    const Value v = parse_toml("a = 1\n\n\n\n\n\nmas_kg = 5\n", "machine.toml");
    Table t(v, "machine.toml");
    static_cast<void>(t.number("a", {0, 1}));
    static_cast<void>(t.number("mass_kg", {0, 1}));
    EXPECT_EQ(complaint([&] { t.finish(); }),
              "machine.toml:7: unknown key \"mas_kg\" (did you mean \"mass_kg\"?)");
}

TEST(table, unknown_keys_without_a_likeness_list_the_known_ones) {
    const Value v = parse_json("{\"speed\": {\n\"colour\": 1}}", "m.json");
    Table t(v, "m.json");
    auto speed = t.table("speed");
    static_cast<void>(speed->number("top", {0, 1}));
    static_cast<void>(speed->number("hard", {0, 1}));
    EXPECT_EQ(complaint([&] { speed->finish(); }),
              "m.json:2: unknown key \"colour\" in speed (known here: \"top\", \"hard\")");
    EXPECT_EQ(complaint([&] { t.finish(); }), "none");
}

TEST(table, null_counts_as_absent_and_as_read) {
    const Value v = parse_json(R"({"a":null})", "m.json");
    Table t(v, "m.json");
    EXPECT_FALSE(t.has("a"));
    EXPECT_EQ(complaint([&] { t.finish(); }), "m.json:1: unknown key \"a\" (known here: )");
    EXPECT_EQ(t.number("a", {0, 1}), std::nullopt);
    ASSERT_NE(t.value("a"), nullptr);
    EXPECT_TRUE(t.value("a")->is_null());
    EXPECT_EQ(complaint([&] { t.finish(); }), "none");
}

TEST(table, values_without_a_line_give_messages_without_one) {
    Value v;
    v.set("a", "x");
    Table t(v, "request");
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(t.number("a", {0, 1}));
              }),
              "request: a is text, not a number (write it without quotes)");
}

TEST(table, whole_doubles_are_integers_only_where_they_are_exact) {
    const Value v = parse_json(R"({"a":3.0,"b":1e300,"c":9007199254740993})", "m.json");
    Table t(v, "m.json");
    EXPECT_THAT(t.integer("a", {0, 10}), Optional(3));
    EXPECT_EQ(complaint([&] {
                  static_cast<void>(t.integer("b", {0, infinity}));
              }),
              "m.json:1: b = 1e+300 is not a whole number");
    EXPECT_THAT(t.integer("c", {0, 1e18}), Optional(9007199254740993));
}

TEST(table, error_at_keeps_the_item) {
    const Value v = parse_toml("[x]\ny = 1", "m.toml");
    Table t(v, "m.toml");
    const Error e = t.table("x")->error_at("y", "it is odd", "mend it");
    EXPECT_STREQ(e.what(), "m.toml:2: it is odd (mend it)");
    EXPECT_EQ(e.place().item, "x.y");
    EXPECT_STREQ(t.error_at("none", "it is odd").what(), "m.toml:1: it is odd");
}

}  // namespace
}  // namespace loamway
