// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <random>
#include <string>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {
namespace {

std::string complaint(std::string_view text, TextLimits limits = {}) {
    try {
        static_cast<void>(parse_json(text, "a.json", limits));
    } catch (const Error& e) {
        return e.what();
    }
    return "none";
}

TEST(json_read, every_kind_of_value) {
    const Value v = parse_json(
        R"({"n":null,"t":true,"f":false,"i":-12,"d":1.5e3,"s":"a\u00fc\n","a":[1,[]],"o":{}})", "a.json");
    EXPECT_TRUE(v.find("n")->is_null());
    EXPECT_TRUE(*v.find("t")->as_bool());
    EXPECT_FALSE(*v.find("f")->as_bool());
    EXPECT_EQ(*v.find("i")->as_integer(), -12);
    EXPECT_EQ(*v.find("d")->as_double(), 1500.0);
    EXPECT_EQ(*v.find("s")->as_string(), "a\xC3\xBC\n");
    EXPECT_EQ(v.find("a")->as_array()->size(), 2u);
    EXPECT_TRUE(v.find("o")->as_object()->empty());
    EXPECT_EQ(v.find("x"), nullptr);
}

TEST(json_read, a_single_value_and_numbers_at_the_edges) {
    EXPECT_EQ(parse_json("7", "a").number(), 7.0);
    EXPECT_EQ(*parse_json("9223372036854775807", "a").as_integer(), std::numeric_limits<std::int64_t>::max());
    EXPECT_EQ(*parse_json("-9223372036854775808", "a").as_integer(),
              std::numeric_limits<std::int64_t>::min());
    EXPECT_EQ(*parse_json("9223372036854775808", "a").as_double(), 9223372036854775808.0);
    EXPECT_EQ(*parse_json("123456789012345678901234567890", "a").as_double(),
              123456789012345678901234567890.0);
    EXPECT_EQ(*parse_json("1e-400", "a").as_double(), 0.0);
}

TEST(json_read, keys_keep_their_order) {
    const Value v = parse_json(R"({"z":1,"a":2,"m":3})", "a");
    const auto& o = *v.as_object();
    EXPECT_EQ(o[0].first + o[1].first + o[2].first, "zam");
}

// A number's end is only seen at the byte after it, which may be the line's end.
TEST(json_read, each_value_knows_its_line) {
    const Value v =
        parse_json("{\n \"a\": 1\n,\"b\":\n[2,\n3\n, 4],\n\"c\": {\"d\": null},\r\n\"e\": 5}", "a");
    EXPECT_EQ(v.line(), 1);
    EXPECT_EQ(v.find("a")->line(), 2);
    EXPECT_EQ(v.find("b")->line(), 4);
    const auto& list = *v.find("b")->as_array();
    EXPECT_EQ(list[0].line(), 4);
    EXPECT_EQ(list[1].line(), 5);
    EXPECT_EQ(list[2].line(), 6);
    EXPECT_EQ(v.find("c")->find("d")->line(), 7);
    EXPECT_EQ(v.find("e")->line(), 8);
    EXPECT_EQ(parse_json("\n\n12\n\n", "a").line(), 3);
    EXPECT_EQ(parse_json("\n12", "a").line(), 2);
}

TEST(json_read, duplicate_keys_are_refused_where_they_stand) {
    EXPECT_EQ(complaint("{\"a\":1,\n\"b\":2,\n\"a\":3,\n\"b\":4}"),
              "a.json:3: key \"a\" is there twice (remove one)");
    EXPECT_EQ(complaint("[{\"x\":{\"k\":1}},\n{\"x\":{\"k\":1,\n\"k\":{}}}]"),
              "a.json:3: key \"k\" is there twice (remove one)");
    EXPECT_EQ(complaint("{\"a\":{\"a\":{\"a\":1}}}"), "none");
}

TEST(json_read, faults_have_the_line_and_a_reason) {
    EXPECT_TRUE(complaint("{\n\"a\": nul\n}").starts_with("a.json:2: syntax error"));
    EXPECT_TRUE(complaint("[1,\n2,\n").starts_with("a.json:2: syntax error"));
    EXPECT_TRUE(complaint("{\"a\":1}\n{").starts_with("a.json:2: syntax error"));
    EXPECT_TRUE(complaint("\n[1e999]").starts_with("a.json:2: number overflow parsing '1e999'"));
    for (const char* text :
         {"",         " ",         "{",           "[1,]",    "{\"a\":}", "{a:1}", "'a'", "NaN",
          "Infinity", "-Infinity", "[nan]",       "01",      "+1",       ".5",    "1.",  "0x1",
          "\"\n\"",   "\"\\x\"",   "\"\\ud800\"", "// c\n1", "1 2",      "\"open"})
        EXPECT_NE(complaint(text), "none") << text;
}

TEST(json_read, limits) {
    TextLimits limits;
    limits.depth = 3;
    EXPECT_EQ(complaint("[[[1]]]", limits), "none");
    EXPECT_EQ(complaint("[[{\"a\":\n[1]}]]", limits),
              "a.json:2: lists and tables are nested more than 3 deep");
    limits.bytes = 5;
    EXPECT_EQ(complaint("[1,2]", limits), "none");
    EXPECT_EQ(complaint("[1,22]", limits),
              "a.json: the text has 6 bytes, more than the 5 accepted (give a smaller document)");
}

TEST(json_write, compact_and_indented) {
    Value v;
    v.set("a", Value::Array{1, 2.5, 3});
    v.set("b", Value::Array{});
    v.set("c", Value::Object{});
    v.set("d", Value::Array{"x", nullptr, true});
    EXPECT_EQ(to_json(v), R"({"a":[1,2.5,3],"b":[],"c":{},"d":["x",null,true]})");
    EXPECT_EQ(
        to_json(v, 2),
        "{\n  \"a\": [1, 2.5, 3],\n  \"b\": [],\n  \"c\": {},\n  \"d\": [\n    \"x\",\n    null,\n    true\n  ]\n}");
    EXPECT_EQ(to_json(Value(Value::Array{Value(Value::Array{1, 2}), Value(Value::Array{3, 4})}), 1),
              "[\n [1, 2],\n [3, 4]\n]");
}

TEST(json_write, shortest_numbers) {
    EXPECT_EQ(to_json(0.1), "0.1");
    EXPECT_EQ(to_json(5.0), "5");
    EXPECT_EQ(to_json(-0.0), "-0.0");
    EXPECT_EQ(to_json(1e300), "1e+300");
    EXPECT_EQ(to_json(1.0 / 3.0), "0.3333333333333333");
    EXPECT_EQ(to_json(std::numeric_limits<std::int64_t>::min()), "-9223372036854775808");
}

TEST(json_write, what_is_no_number_is_an_internal_error) {
    for (const double d : {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
                           std::numeric_limits<double>::quiet_NaN()}) {
        try {
            static_cast<void>(to_json(Value::Array{d}));
            FAIL() << d;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::internal);
        }
    }
}

TEST(json_write, text_is_escaped_and_made_utf8) {
    EXPECT_EQ(to_json("a\"b\\c\n\t\r\x01\x7F/ \xC3\xBC"), "\"a\\\"b\\\\c\\n\\t\\r\\u0001\\u007f/ \xC3\xBC\"");
    EXPECT_EQ(to_json("\xFF"), "\"\xEF\xBF\xBD\"");
    EXPECT_EQ(to_json(std::string("a\0b", 3)), "\"a\\u0000b\"");
}

TEST(value, set_and_number_guard_their_contracts) {
    Value v;
    v.set("a", 1).set("b", 2);
    EXPECT_EQ(v.as_object()->size(), 2u);
    EXPECT_THROW(v.set("a", 3), Error);
    Value text("x");
    EXPECT_THROW(text.set("a", 3), Error);
    EXPECT_THROW(static_cast<void>(text.number()), Error);
    EXPECT_EQ(text.find("a"), nullptr);
}

TEST(value, names_of_types) {
    EXPECT_EQ(Value().type_name(), "null");
    EXPECT_EQ(Value(true).type_name(), "true or false");
    EXPECT_EQ(Value(1).type_name(), "number");
    EXPECT_EQ(Value(1.5).type_name(), "number");
    EXPECT_EQ(Value("x").type_name(), "text");
    EXPECT_EQ(Value(Value::Array{}).type_name(), "list");
    EXPECT_EQ(Value(Value::Object{}).type_name(), "table");
}

/// Random trees from a fixed seed.
class RandomValues {
public:
    explicit RandomValues(std::uint64_t seed) : m_random(seed) {}

    Value value(int depth) {
        const auto kind = below(depth > 0 ? 8 : 6);
        switch (kind) {
            case 0:
                return {};
            case 1:
                return {below(2) == 1};
            case 2:
                return {static_cast<std::int64_t>(m_random())};
            case 3:
                return {any_double()};
            case 4:
                return {static_cast<double>(below(2000)) / 100.0};
            case 5:
                return {text()};
            case 6:
                return {array(depth)};
            default:
                return {object(depth)};
        }
    }

private:
    std::uint64_t below(std::uint64_t n) { return m_random() % n; }

    /// Any bit pattern that is a finite number.
    double any_double() {
        double d = 0.0;
        do {
            const std::uint64_t bits = m_random();
            std::memcpy(&d, &bits, sizeof d);
        } while (!std::isfinite(d));
        return d;
    }
    std::string text() {
        static const char* const pieces[] = {
            "a", "\"", "\\", "\n",   "\x01",        "\xC3\xBC", "\xE4\xB8\xAD", "\xF0\x9F\x9A\x9C",
            " ", "{",  "/",  "\x7F", "\xE2\x80\xA8"};
        std::string out;
        for (auto n = below(8); n > 0; --n)
            out += pieces[below(std::size(pieces))];
        return out;
    }
    Value::Array array(int depth) {
        Value::Array out;
        for (auto n = below(5); n > 0; --n)
            out.push_back(value(depth - 1));
        return out;
    }
    Value::Object object(int depth) {
        Value::Object out;
        for (auto n = below(5); n > 0; --n)
            out.emplace_back(text() + std::to_string(n), value(depth - 1));
        return out;
    }

    std::mt19937_64 m_random;
};

bool same_number(const Value& a, const Value& b) {
    if (a.as_integer() != nullptr && b.as_integer() != nullptr)
        return *a.as_integer() == *b.as_integer();
    return a.number() == b.number() && std::signbit(a.number()) == std::signbit(b.number());
}

bool same(const Value& a, const Value& b) {
    if (a.is_number() && b.is_number())
        return same_number(a, b);
    if (a.type_name() != b.type_name())
        return false;
    if (const auto* list = a.as_array()) {
        const auto& other = *b.as_array();
        return std::equal(list->begin(), list->end(), other.begin(), other.end(), same);
    }
    if (const auto* object = a.as_object()) {
        const auto& other = *b.as_object();
        return std::equal(
            object->begin(), object->end(), other.begin(), other.end(),
            [](const auto& p, const auto& q) { return p.first == q.first && same(p.second, q.second); });
    }
    if (const auto* text = a.as_string())
        return *text == *b.as_string();
    return a.is_null() || *a.as_bool() == *b.as_bool();
}

TEST(json_round_trip, random_trees_come_back_the_same) {
    RandomValues random(20260714);
    for (int i = 0; i < 20000; ++i) {
        const Value v = random.value(5);
        const std::string text = to_json(v);
        const Value back = parse_json(text, "random");
        ASSERT_TRUE(same(v, back)) << text;
        ASSERT_EQ(to_json(back), text);
        ASSERT_TRUE(same(v, parse_json(to_json(v, 2), "random"))) << text;
    }
}

// `plan --json` printed names with the sequences that move a terminal's cursor or turn a line round.
TEST(JsonWrite, WhatATerminalWouldObeyIsWrittenAsItsNumber) {
    const std::string text =
        "a\xC2\x9B"
        "31m \xD8\x9C \xE2\x80\xAE \xE2\x81\xA6 \xE2\x80\xA8 \xEF\xBB\xBF \x7F";
    EXPECT_EQ(to_json(text), "\"a\\u009b31m \\u061c \\u202e \\u2066 \\u2028 \\ufeff \\u007f\"");
    EXPECT_EQ(*parse_json(to_json(text), "x").as_string(), text);
    const std::string plain = "\xC3\xBC \xC2\xA0 \xE2\x82\xAC \xE2\x80\x8D \xF0\x9F\x9A\x9C \xD9\x85";
    EXPECT_EQ(to_json(plain), "\"" + plain + "\"");
}

}  // namespace
}  // namespace loamway
