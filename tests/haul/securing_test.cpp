// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/securing.h"

#include <gtest/gtest.h>

#include "checks.h"
#include "loamway/haul/bridge_formula.h"

namespace loamway {
namespace {

using test::check;
using test::number;

Article article(double feet, double lb, bool blocked, bool machine) {
    return {Length::from_metres(feet * 0.3048), from_pounds(lb), blocked, machine};
}

// 49 CFR 393.110(b) and (c), 393.130, second-hand.
TEST(Securing, tiedown_counts) {
    struct Row {
        const char* key;
        double feet, lb;
        bool blocked, machine;
    };
    const Row rows[] = {
        {"4ft,1000lb,blk=False,machine=False", 4, 1000, false, false},
        {"5ft,1100lb,blk=False,machine=False", 5, 1100, false, false},
        {"5ft,1101lb,blk=False,machine=False", 5, 1101, false, false},
        {"4ft,1200lb,blk=False,machine=False", 4, 1200, false, false},
        {"10ft,500lb,blk=False,machine=False", 10, 500, false, false},
        {"10.1ft,500lb,blk=False,machine=False", 10.1, 500, false, false},
        {"20ft,5000lb,blk=False,machine=False", 20, 5000, false, false},
        {"22ft,5000lb,blk=False,machine=False", 22, 5000, false, false},
        {"21ft,45000lb,blk=False,machine=True", 21, 45000, false, true},
        {"35ft,45000lb,blk=False,machine=True", 35, 45000, false, true},
        {"20ft,5000lb,blk=True,machine=False", 20, 5000, true, false},
    };
    ASSERT_EQ(check("legal|tiedown_count").as_object()->size(), std::size(rows));
    for (const Row& r : rows)
        EXPECT_EQ(us_tiedowns(article(r.feet, r.lb, r.blocked, r.machine)),
                  static_cast<int>(number(std::string("legal|tiedown_count|") + r.key)))
            << r.key;
}

// 49 CFR 393.106(d), second-hand; limits of chains from memory (G70 3/8 in 6600 lb, 1/2 in 11 300 lb).
TEST(Securing, strength_of_direct_chains_for_18_tonnes) {
    const Article a{Length::from_metres(6), from_pounds(39683), false, true};
    const auto expect = [&](const char* key, int count, double lb) {
        SCOPED_TRACE(key);
        const std::string at = std::string("legal|") + key + "|";
        const UsStrength s = us_strength(a, count, from_pounds(lb), TieDownRun::direct);
        EXPECT_NEAR(s.aggregate.kg() / kg_per_lb, number(at + "aggregate_lb"), 1e-6);
        EXPECT_NEAR(s.required.kg() / kg_per_lb, number(at + "required_lb"), 1e-6);
        EXPECT_EQ(s.enough(), *check(at + "aggregate_ok").as_bool());
        EXPECT_EQ(s.each_enough, *check(at + "each_min_ok").as_bool());
    };
    expect("wll_39683lb_4xG70_3_8", 4, 6600);
    expect("wll_39683lb_6xG70_3_8", 6, 6600);
    expect("wll_39683lb_4xG70_1_2", 4, 11300);
    EXPECT_EQ(us_tiedowns_needed(a, from_pounds(6600), TieDownRun::direct), 7);
    EXPECT_EQ(us_tiedowns_needed(a, from_pounds(11300), TieDownRun::direct), 4);
    EXPECT_EQ(us_tiedowns_needed(a, from_pounds(6600), TieDownRun::over), 4);
    EXPECT_FALSE(us_strength(a, 8, from_pounds(4900), TieDownRun::direct).each_enough);
}

// EN 12195-1, direct lashing, from memory; 18 t, two chains, 35 degrees up, 25 degrees aside.
TEST(Securing, direct_lashing) {
    const Mass m = Mass::from_tonnes(18);
    DirectLashing l;
    const auto kn = [&](Push p) { return direct_lashing_force(m, p, l).kilonewtons(); };
    EXPECT_NEAR(kn(Push::forward), number("legal|EN12195_1_direct_18t|fwd mu=.6 (rubber mat)"), 1e-6);
    l.friction = 0.4;
    EXPECT_NEAR(kn(Push::forward), number("legal|EN12195_1_direct_18t|fwd mu=.4"), 1e-6);
    EXPECT_NEAR(kn(Push::rearward), number("legal|EN12195_1_direct_18t|rear mu=.4"), 1e-6);
    l.aside = Angle::from_degrees(65);
    EXPECT_NEAR(kn(Push::sideways), number("legal|EN12195_1_direct_18t|side mu=.4 beta from side 65"), 1e-6);
    l.friction = 0.9;
    EXPECT_DOUBLE_EQ(kn(Push::sideways), 0);  // friction alone holds
}

}  // namespace
}  // namespace loamway
