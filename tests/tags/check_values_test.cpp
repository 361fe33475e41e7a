// SPDX-License-Identifier: Apache-2.0
// Every case of data/tags.json: the check values that came with the description of the tag rules. Numbers of
// weights are given there to six decimals.

#include <gtest/gtest.h>

#include <string>

#include "loamway/tags/access.h"
#include "loamway/tags/limits.h"
#include "loamway/tags/structure.h"
#include "loamway/tags/surface.h"
#include "loamway/text/value.h"
#include "support/tag_samples.h"
#include "support/test_files.h"

namespace loamway {
namespace {

const Value& checks() {
    static const Value value =
        parse_json(test::slurp(test::source_path("tests/tags/data/tags.json")), "tags.json");
    return value;
}

const Value& section(std::string_view name) {
    const Value* found = checks().find(name);
    if (found == nullptr)
        throw std::runtime_error("no section " + std::string(name));
    return *found;
}

const std::string& text_of(const Value& value, std::string_view key) {
    return *value.find(key)->as_string();
}

std::vector<std::string> texts_of(const Value& value) {
    std::vector<std::string> texts;
    for (const Value& item : *value.as_array())
        texts.push_back(*item.as_string());
    return texts;
}

TagView tags_of(const Value& object) {
    TagView tags;
    for (const auto& [key, value] : *object.as_object())
        tags.add(key, *value.as_string());
    return tags;
}

VehicleView vehicle_of(const std::string& mode) {
    if (mode == "truck")
        return test::sample_truck();
    EXPECT_TRUE(mode == "machine" || mode == "machine_not_agri") << mode;
    return mode == "machine" ? test::sample_machine() : test::sample_machine_not_agricultural();
}

void check_limits(std::string_view name, std::size_t count, LimitReading (*read)(std::string_view)) {
    const Value::Object& cases = *section(name).as_object();
    EXPECT_EQ(cases.size(), count);
    for (const auto& [raw, expected] : cases) {
        SCOPED_TRACE(raw);
        const LimitReading reading = read(raw);
        EXPECT_EQ(name_of(reading.kind), text_of(expected, "kind"));
        EXPECT_EQ(reading.warnings, texts_of(*expected.find("warn")));
        const Value& value = *expected.find("value");
        ASSERT_EQ(reading.value.has_value(), !value.is_null());
        if (reading.value) {
            EXPECT_NEAR(*reading.value, value.number(), 1e-6);
        }
        const Value* hint = expected.find("hint");
        ASSERT_EQ(reading.hint.has_value(), hint != nullptr);
        if (hint != nullptr) {
            EXPECT_DOUBLE_EQ(*reading.hint, hint->number());
        }
    }
}

TEST(TagChecks, Mass) {
    check_limits("mass", 24, read_mass);
}
TEST(TagChecks, Length) {
    check_limits("length", 18, read_length);
}
TEST(TagChecks, Speed) {
    check_limits("speed", 10, read_speed);
}

TEST(TagChecks, OneWay) {
    const Value::Object& cases = *section("oneway").as_object();
    EXPECT_EQ(cases.size(), 11u);
    for (const auto& [key, expected] : cases) {
        SCOPED_TRACE(key);
        const Value tags = parse_json(key, "case");
        const OneWay oneway =
            tags.is_null() ? OneWay::both : read_oneway(tags_of(tags), test::sample_machine());
        EXPECT_EQ(name_of(oneway), *expected.as_string());
    }
}

TEST(TagChecks, Surface) {
    const Value::Array& cases = *section("surface").as_array();
    EXPECT_EQ(cases.size(), 21u);
    for (const Value& one : cases) {
        SCOPED_TRACE(to_json(one));
        const std::string& region = text_of(one, "region");
        const double factor = region == "dense" ? 1.0 : region == "mixed" ? 0.85 : 0.55;
        const SurfaceReading reading =
            read_surface(tags_of(*one.find("tags")), *one.find("urban")->as_bool(), factor);
        const Value& expected = *one.find("result");
        EXPECT_EQ(name_of(reading.likeliest), text_of(expected, "class"));
        EXPECT_NEAR(reading.p_hard, expected.find("p_hard")->number(), 5e-5);
        EXPECT_EQ(reading.source, text_of(expected, "src"));
        EXPECT_EQ(reading.flags, texts_of(*expected.find("flags")));
    }
}

TEST(TagChecks, Access) {
    const Value::Array& cases = *section("access").as_array();
    EXPECT_EQ(cases.size(), 21u);
    for (const Value& one : cases) {
        SCOPED_TRACE(to_json(one));
        const Direction direction =
            text_of(one, "dir") == "forward" ? Direction::forward : Direction::backward;
        const AccessReading reading = read_access(
            tags_of(*one.find("tags")), vehicle_of(text_of(one, "mode")), direction, test::sample_moment());
        const std::vector<std::string> expected = texts_of(*one.find("result"));
        EXPECT_EQ(name_of(reading.passage), expected.at(0));
        EXPECT_EQ(reading.reason, expected.at(1));
    }
}

TEST(TagChecks, Conditional) {
    const Value::Array& cases = *section("conditional").as_array();
    EXPECT_EQ(cases.size(), 11u);
    for (const Value& one : cases) {
        SCOPED_TRACE(to_json(one));
        // The one state of these cases is that of the samples.
        EXPECT_EQ(text_of(one, "state"), "18 t, 3.6 m high, Tue Nov 08:30, daylight, wet unknown");
        const ConditionalReading reading = read_conditional(text_of(one, "base"), text_of(one, "raw"),
                                                            test::sample_machine(), test::sample_moment());
        EXPECT_EQ(reading.value, text_of(*one.find("result"), "value"));
        EXPECT_EQ(reading.flags, texts_of(*one.find("result")->find("flags")));
    }
}

TEST(TagChecks, Except) {
    const Value::Array& cases = *section("except").as_array();
    EXPECT_EQ(cases.size(), 6u);
    for (const Value& one : cases) {
        SCOPED_TRACE(to_json(one));
        const std::string* except = one.find("except")->as_string();
        EXPECT_EQ(is_excepted(except != nullptr ? *except : "", vehicle_of(text_of(one, "mode"))),
                  *one.find("exempt")->as_bool());
    }
}

TEST(TagChecks, Barrier) {
    const Value::Array& cases = *section("barrier").as_array();
    EXPECT_EQ(cases.size(), 11u);
    for (const Value& one : cases) {
        SCOPED_TRACE(to_json(one));
        VehicleView vehicle;
        if (const Value* width = one.find("veh")->find("W"))
            vehicle.width = Length::from_metres(width->number());
        if (const Value* height = one.find("veh")->find("H"))
            vehicle.height = Length::from_metres(height->number());
        const BarrierReading reading = read_barrier(tags_of(*one.find("tags")), vehicle);
        EXPECT_EQ(name_of(reading.state), text_of(*one.find("result"), "state"));
        EXPECT_EQ(reading.flags, texts_of(*one.find("result")->find("flags")));
    }
}

}  // namespace
}  // namespace loamway
