// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/rates.h"

#include <gtest/gtest.h>

#include <utility>
#include <vector>

#include "documents.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::expect_input_error;

Rates read(const std::string& text) {
    return read_rates(parse_toml(text, "doc.toml"), "doc.toml");
}

/// Every number, word and switch of a document, each with the same document in which only it is changed.
void collect_changed(const Value& whole, const Value& at, std::vector<std::size_t>& path,
                     std::vector<Value>& out);

Value with_changed(const Value& from, const std::vector<std::size_t>& path, std::size_t depth) {
    if (depth == path.size()) {
        if (const bool* b = from.as_bool())
            return Value(!*b);
        if (const std::string* s = from.as_string())
            return Value(*s == "marginal" ? std::string("full") : *s + "x");
        if (const std::int64_t* i = from.as_integer())
            return Value(*i > 1 ? *i - 1 : *i + 1);
        return Value(from.number() * 1.25);
    }
    Value::Object copy = *from.as_object();
    copy[path[depth]].second = with_changed(copy[path[depth]].second, path, depth + 1);
    return Value(std::move(copy));
}

void collect_changed(const Value& whole, const Value& at, std::vector<std::size_t>& path,
                     std::vector<Value>& out) {
    const Value::Object* object = at.as_object();
    if (object == nullptr) {
        out.push_back(with_changed(whole, path, 0));
        return;
    }
    for (std::size_t i = 0; i < object->size(); ++i) {
        path.push_back(i);
        collect_changed(whole, (*object)[i].second, path, out);
        path.pop_back();
    }
}

TEST(Rates, the_example_states_the_defaults) {
    const std::string path = test::source_path("examples/rates.toml");
    Rates from_file = read_rates(parse_toml(test::slurp(path), path), path);
    EXPECT_FALSE(from_file.all_assumed);
    from_file.all_assumed = true;
    EXPECT_EQ(from_file, Rates{});
}

TEST(Rates, an_empty_document_keeps_the_defaults) {
    Rates r = read("");
    r.all_assumed = true;
    EXPECT_EQ(r, Rates{});
}

TEST(Rates, every_key_of_the_example_moves_a_rate_of_its_own) {
    const std::string path = test::source_path("examples/rates.toml");
    const Value document = parse_toml(test::slurp(path), path);
    std::vector<Value> changed;
    std::vector<std::size_t> at;
    collect_changed(document, document, at, changed);
    // Every field of Rates but all_assumed; a new rate needs its line in the example and one more here.
    EXPECT_EQ(changed.size(), 46u);
    std::vector<Rates> seen{read_rates(document, path)};
    for (const Value& v : changed) {
        const Rates r = read_rates(v, path);
        for (const Rates& other : seen)
            EXPECT_FALSE(r == other) << to_json(v);
        seen.push_back(r);
    }
}

TEST(Rates, units_are_those_the_keys_name) {
    const Rates r = read(R"(basis = "full"
[belts]
relube_interval_km = 12.5
[times]
stop_two_belts_min = 9
slow_start_kmh = 10
[low_bed]
billing_step_min = 30
[fuel]
idle_l_per_h = 4.5
[labour]
wage_per_h = 31.5
)");
    EXPECT_EQ(r.basis, CostBasis::full);
    EXPECT_DOUBLE_EQ(r.relube_interval.metres(), 12500);
    EXPECT_DOUBLE_EQ(r.stop_two_belts.seconds(), 540);
    EXPECT_DOUBLE_EQ(r.slow_start_speed.kmh(), 10);
    EXPECT_DOUBLE_EQ(r.billing_step.hours(), 0.5);
    EXPECT_DOUBLE_EQ(r.idle_per_h.litres(), 4.5);
    EXPECT_DOUBLE_EQ(r.wage_per_h.units(), 31.5);
}

TEST(Rates, the_basis_chooses_what_an_hour_of_the_machine_costs) {
    Rates r;
    EXPECT_DOUBLE_EQ(r.ownership_per_h().units(), 1.90);
    r.basis = CostBasis::full;
    EXPECT_DOUBLE_EQ(r.ownership_per_h().units(), 83.79);
    EXPECT_EQ(name_of(r.basis), "full");
    EXPECT_EQ(name_of(CostBasis::marginal), "marginal");
}

TEST(Rates, stops_take_longer_with_more_belts) {
    const Rates r;
    EXPECT_DOUBLE_EQ(r.stop_time(2).minutes(), 12);
    EXPECT_DOUBLE_EQ(r.stop_time(4).minutes(), 20);
}

TEST(RatesErrors, are_placed) {
    expect_input_error([] { (void)read("[labour]\nwage_per_h = -1\n"); }, 2, "wage_per_h");
    expect_input_error([] { (void)read("[labour]\nwage_per_hour = 1\n"); }, 2, "wage_per_h");
    expect_input_error([] { (void)read("[labor]\nwage_per_h = 1\n"); }, 1, "labour");
    expect_input_error([] { (void)read("basis = \"margin\"\n"); }, 1, "marginal");
    expect_input_error([] { (void)read("currency = \"\"\n"); }, 1, "currency");
    expect_input_error([] { (void)read("[belts]\nrelube_interval_km = 0\n"); }, 2, "relube_interval_km");
    expect_input_error([] { (void)read("[belts]\nrelube_interval_km = 16\n"); }, 2, "1..15");
    expect_input_error([] { (void)read("[belts]\nprice_per_set = 100\nresidual_per_set = 900\n"); }, 3,
                       "worth more");
    expect_input_error([] { (void)read("[low_bed]\nbilling_step_min = 0\n"); }, 2, "billing_step_min");
    expect_input_error([] { (void)read("[escort]\ncars = 1.5\n"); }, 2, "cars");
    expect_input_error([] { (void)read("labour = 3\n"); }, 1, "labour");
}

}  // namespace
}  // namespace loamway
