// SPDX-License-Identifier: Apache-2.0
// Strangers' texts: whatever the bytes are, reading ends with a value or an input Error with its file.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <locale>
#include <random>
#include <string>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {
namespace {

using Reader = Value (*)(std::string_view, const std::string&, TextLimits);

constexpr std::string_view json_sample = R"({"id": 7, "move": {"from": "51.5,7.25", "air_c": -3.5e0,
  "modes": ["drive", "haul"], "note": "a\u00fc\"\n", "front": [[1.25, 2], [3, 4.5]]}, "ok": true, "x": null}
)";
constexpr std::string_view toml_sample = R"(# a move
from = "51.5,7.25"
depart = 2026-07-14T14:00:00+02:00
"quoted key".part = 'literal'
[conditions]
air_c = -3.5e0
list = [1, 2.5, [true, {a = 1, b.c = """x
y"""}]]
[[state]]
name = "bare \u00fc"
)";

/// True when a value came back; fails on anything but the promised kind of error.
bool survives(Reader read, std::string_view text) {
    try {
        static_cast<void>(read(text, "stranger", TextLimits{}));
        return true;
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_EQ(e.place().file, "stranger");
        EXPECT_TRUE(e.place().line.has_value());
        EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos);
        return false;
    }
}

struct Sample {
    Reader read;
    std::string_view text;
};
const Sample samples[] = {{parse_json, json_sample}, {parse_toml, toml_sample}};

TEST(damaged_text, the_samples_are_whole) {
    for (const auto& s : samples)
        EXPECT_TRUE(survives(s.read, s.text));
}

TEST(damaged_text, cut_off_anywhere) {
    for (std::size_t n = 0; n < json_sample.size(); ++n) {
        const bool whole = json_sample.substr(n).find_first_not_of('\n') == std::string_view::npos;
        EXPECT_EQ(survives(parse_json, json_sample.substr(0, n)), whole) << n;
    }
    for (std::size_t n = 0; n < toml_sample.size(); ++n)
        survives(parse_toml, toml_sample.substr(0, n));
    EXPECT_FALSE(survives(parse_toml, toml_sample.substr(0, toml_sample.size() - 2)));
}

TEST(damaged_text, bytes_changed_inserted_and_removed) {
    std::mt19937_64 random(4711);
    constexpr std::string_view spice = "[]{}\"'\\.,=#:\n\r\t-+eE0_\xFF\xC3\x80";
    for (const auto& s : samples) {
        int read = 0;
        for (int i = 0; i < 30000; ++i) {
            std::string text(s.text);
            for (auto changes = 1 + random() % 4; changes > 0; --changes) {
                const std::size_t at = random() % text.size();
                const char c =
                    random() % 2 == 0 ? spice[random() % spice.size()] : static_cast<char>(random());
                if (random() % 3 == 0)
                    text.insert(at, 1 + random() % 5, c);
                else if (random() % 2 == 0)
                    text.erase(at, 1 + random() % 3);
                else
                    text[at] = c;
            }
            read += survives(s.read, text) ? 1 : 0;
        }
        EXPECT_GT(read, 300);
        EXPECT_LT(read, 29700);
    }
}

TEST(damaged_text, bytes_that_are_no_utf8) {
    for (const char* bad : {"\xFF", "\xC3", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"}) {
        const std::string quoted = fmt::format("\"{}\"", bad);
        EXPECT_FALSE(survives(parse_json, quoted));
        EXPECT_FALSE(survives(parse_json, fmt::format("{{{}:1}}", quoted)));
        EXPECT_FALSE(survives(parse_toml, "a = " + quoted));
        EXPECT_FALSE(survives(parse_toml, fmt::format("# {}\n", bad)));
    }
}

TEST(damaged_text, deep_nesting_of_every_kind) {
    const auto many = [](const std::string& piece) {
        std::string out;
        for (int i = 0; i < 200000; ++i)
            out += piece;
        return out;
    };
    EXPECT_FALSE(survives(parse_json, many("[")));
    EXPECT_FALSE(survives(parse_json, many("{\"a\":")));
    EXPECT_FALSE(survives(parse_json, many("[{\"a\":")));
    EXPECT_FALSE(survives(parse_toml, fmt::format("a = {}", many("["))));
    EXPECT_FALSE(survives(parse_toml, fmt::format("a = {}", many("{a="))));
    EXPECT_FALSE(survives(parse_toml, fmt::format("a = {}", many("{a.a.a="))));
    EXPECT_FALSE(survives(parse_toml, fmt::format("a = {}", many("[{a="))));
    EXPECT_FALSE(survives(parse_toml, many("a.") + "a = 1"));
    EXPECT_FALSE(survives(parse_toml, many("'a' . ") + "a = 1"));
    EXPECT_FALSE(survives(parse_toml, fmt::format("[{}a]", many("\"a\"."))));
}

TEST(damaged_text, many_keys_cost_no_more_than_sorting) {
    std::string json = "{";
    std::string toml;
    for (int i = 0; i < 100000; ++i) {
        json += fmt::format("\"k{}\":0,", i);
        toml += fmt::format("k{}=0\n", i);
    }
    EXPECT_TRUE(survives(parse_json, json + "\"z\":0}"));
    EXPECT_FALSE(survives(parse_json, json + "\"k5\":0}"));
    EXPECT_TRUE(survives(parse_toml, toml));
    EXPECT_FALSE(survives(parse_toml, toml + "k5=0\n"));
}

/// Writes numbers as in "1.234,5".
struct CommaDecimals : std::numpunct<char> {
    [[nodiscard]] char do_decimal_point() const override { return ','; }
    [[nodiscard]] char do_thousands_sep() const override { return '.'; }
    [[nodiscard]] std::string do_grouping() const override { return "\3"; }
};

TEST(damaged_text, numbers_do_not_depend_on_the_locale) {
    const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaDecimals));
    const Value json = parse_json("[1234.5]", "a");
    const Value toml = parse_toml("a = 1234.5", "a");
    const std::string text = to_json(Value(Value::Array{1234.5, 1234567}));
    std::locale::global(before);
    EXPECT_EQ(json.as_array()->front().number(), 1234.5);
    EXPECT_EQ(toml.find("a")->number(), 1234.5);
    EXPECT_EQ(text, "[1234.5,1234567]");
}

}  // namespace
}  // namespace loamway
