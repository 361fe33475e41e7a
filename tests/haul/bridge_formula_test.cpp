// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/bridge_formula.h"

#include <gtest/gtest.h>

#include <set>
#include <tuple>

#include "checks.h"

namespace loamway {
namespace {

using test::check;

struct Spot {
    double feet, lb;
};
std::vector<AxleAt> axles_of(std::initializer_list<Spot> spots) {
    std::vector<AxleAt> out;
    for (const Spot& s : spots)
        out.push_back({Length::from_metres(s.feet * 0.3048), from_pounds(s.lb)});
    return out;
}
double pounds(Mass m) {
    return m.kg() / kg_per_lb;
}

// 23 CFR 658.17 with the middle rounded down, as the federal pamphlet is said to do (secondary text).
TEST(BridgeFormula, table_with_the_middle_rounded_down) {
    const Value::Object& table = *check("legal|bridge_table_tie_down").as_object();
    ASSERT_EQ(table.size(), 22u);
    for (const auto& [key, lb] : table)
        EXPECT_EQ(bridge_formula_lb(test::after(key, "N="), test::after(key, "L=")),
                  static_cast<std::int64_t>(lb.number()))
            << key;
}

// 67 Pa. Code 185.3, read in extract: its 85 entries all agree with the middle rounded up; rounded down, 17
// of them differ. The check values list those 17; both roundings of each are compared here.
TEST(BridgeFormula, entries_of_the_pennsylvania_table_where_the_roundings_differ) {
    const Value::Array& rows = *check("legal|PA_185_3_table_check|mismatch_tie_down").as_array();
    ASSERT_EQ(rows.size(), 17u);
    ASSERT_EQ(test::number("legal|PA_185_3_table_check|entries"), 85);
    for (const Value& row : rows) {
        const Value::Array& r = *row.as_array();
        const int n = static_cast<int>(r[0].number()), feet = static_cast<int>(r[1].number());
        EXPECT_EQ(bridge_formula_lb(n, feet, Tie::up), static_cast<std::int64_t>(r[2].number()))
            << n << ' ' << feet;
        EXPECT_EQ(bridge_formula_lb(n, feet, Tie::down), static_cast<std::int64_t>(r[3].number()))
            << n << ' ' << feet;
    }
}

// The same 17 and no others lie between 9 and 35 ft (a table of 5 axles begins at 16 ft): elsewhere both
// roundings agree, so that a table entry cannot tell them apart.
TEST(BridgeFormula, the_roundings_agree_everywhere_else) {
    std::set<std::pair<int, int>> listed, found;
    for (const Value& row : *check("legal|PA_185_3_table_check|mismatch_tie_down").as_array())
        listed.emplace(static_cast<int>((*row.as_array())[0].number()),
                       static_cast<int>((*row.as_array())[1].number()));
    int compared = 0;
    for (int n = 2; n <= 6; ++n)
        for (int feet = n < 5 ? 9 : 16; feet <= (n == 3 ? 32 : 35); ++feet, ++compared)
            if (bridge_formula_lb(n, feet, Tie::up) != bridge_formula_lb(n, feet, Tie::down))
                found.emplace(n, feet);
    EXPECT_GE(compared, 85);
    EXPECT_EQ(found, listed);
}

// 23 CFR 658.17 wants the nearest 500 pounds; done here in exact fractions by another way.
TEST(BridgeFormula, lies_within_250_pounds_of_the_plain_equation) {
    for (int n = 2; n <= 12; ++n)
        for (int feet = 4; feet <= 120; ++feet)
            for (const Tie tie : {Tie::down, Tie::up}) {
                const double plain = 500.0 * (feet * n / (n - 1.0) + 12.0 * n + 36.0);
                const std::int64_t lb = bridge_formula_lb(n, feet, tie);
                EXPECT_EQ(lb % 500, 0);
                EXPECT_LE(std::abs(static_cast<double>(lb) - plain), 250.0 + 1e-6);
            }
}

struct GroupCase {
    const char* name;
    std::vector<AxleAt> axles;
};
void expect_groups(const GroupCase& c) {
    SCOPED_TRACE(c.name);
    const std::vector<AxleGroupFinding> groups = check_axle_groups(c.axles);
    std::vector<const AxleGroupFinding*> over;
    for (const AxleGroupFinding& g : groups)
        if (g.over())
            over.push_back(&g);
    const Value& wanted = check(std::string("legal|") + c.name);
    const Value::Array& violations = *wanted.find("violations")->as_array();
    ASSERT_EQ(over.size(), violations.size());
    for (std::size_t i = 0; i < over.size(); ++i) {
        const Value::Array& v = *violations[i].as_array();  // "group", first, last, feet, load, limit
        EXPECT_EQ(over[i]->first + 1, static_cast<std::size_t>(v[1].number()));
        EXPECT_EQ(over[i]->last + 1, static_cast<std::size_t>(v[2].number()));
        EXPECT_NEAR(over[i]->span.metres() / 0.3048, v[3].number(), 1e-3);
        EXPECT_NEAR(pounds(over[i]->load), v[4].number(), 0.01);
        EXPECT_NEAR(pounds(over[i]->limit), v[5].number(), 0.01);
    }
    const Value::Array& worst = *wanted.find("worst_margin_lb")->as_array();
    EXPECT_NEAR(pounds(tightest(groups)->margin()), worst[0].number(), 0.01);
}

// 12 000 lb steering, four times 17 000 lb: over five axles, with one pair after the other closer together.
TEST(BridgeFormula, five_axles) {
    expect_groups({"five_axle_ok_36ft_rule",
                   axles_of({{0, 12000}, {12, 17000}, {16.25, 17000}, {47, 17000}, {51.25, 17000}})});
    expect_groups({"five_axle_51ft_but_2to5_34ft",
                   axles_of({{0, 12000}, {17, 17000}, {21.25, 17000}, {47, 17000}, {51.25, 17000}})});
    expect_groups({"five_axle_short",
                   axles_of({{0, 12000}, {12, 17000}, {16.25, 17000}, {36, 17000}, {40.25, 17000}})});
}

// The haulage model's low-bed with 18 t: its last two axles, 4.5 ft apart, carry 35 000 lb.
TEST(BridgeFormula, a_tandem_over_its_load) {
    const Value::Array& v =
        *check("legal|lowbed_machine_18t|violations").as_array()->front().as_array();  // "group", 4, 5, ...
    const double each = v[4].number() / 2;
    const auto groups = check_axle_groups(axles_of({{0, each}, {v[3].number(), each}}));
    EXPECT_TRUE(tightest(groups)->over());
    EXPECT_NEAR(pounds(tightest(groups)->limit), v[5].number(), 0.01);
    EXPECT_NEAR(pounds(tightest(groups)->margin()),
                check("legal|lowbed_machine_18t|worst_margin_lb").as_array()->front().number(), 0.01);
}

// 23 USC 127: two tandems from 36 ft carry 34 000 lb each, where the formula gives 66 000 to 67 500.
TEST(BridgeFormula, two_tandems_from_36_feet) {
    const auto tandems = [](double feet, const AxleGroupLimits& limits) {
        const auto a = axles_of({{0, 17000}, {4, 17000}, {feet - 4, 17000}, {feet, 17000}});
        return tightest(check_axle_groups(a, limits))->over();
    };
    EXPECT_FALSE(tandems(36, {}));
    EXPECT_TRUE(tandems(35.9, {}));
    AxleGroupLimits plain;
    plain.tandem_exception = false;
    EXPECT_TRUE(tandems(38, plain));
    EXPECT_FALSE(tandems(39, plain));
}

// Axles up to 40 in apart are one, up to 96 in a tandem (FHWA questions and answers on 658.17).
TEST(BridgeFormula, close_axles) {
    const auto pair = [](double inches) {
        const auto groups = check_axle_groups(axles_of({{0, 1}, {inches / 12, 1}}));
        return pounds(groups.at(1).limit);
    };
    EXPECT_NEAR(pair(40), 20000, 0.01);
    EXPECT_NEAR(pair(40.1), 34000, 0.01);
    EXPECT_NEAR(pair(96), 34000, 0.01);
    EXPECT_NEAR(pair(96.1), 38000, 0.01);
    EXPECT_NEAR(pair(107.9), 38000, 0.01);  // between 8 and 9 ft: the row "more than 8 feet"
    EXPECT_NEAR(pair(108), 39000, 0.01);
    const auto three = check_axle_groups(axles_of({{0, 1}, {4.2, 1}, {8.5, 1}}));
    EXPECT_NEAR(pounds(three.at(2).limit), 42000, 0.01);
}

}  // namespace
}  // namespace loamway
