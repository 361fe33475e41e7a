// SPDX-License-Identifier: Apache-2.0
// A plan file that somebody damaged or made up is refused in one line, or printed: nothing else.
#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "loamway/report/text_report.h"
#include "support/damage.h"
#include "support/sample_plan.h"

using namespace loamway;

TEST(DamagedPlan, IsRefusedOrPrinted) {
    const std::string whole = to_json(plan_to_json(sample_plan()));
    test::Damage damage(20260514);
    int printed = 0, refused = 0;
    for (int i = 0; i < 4000; ++i) {
        const std::string text = damage.of(whole);
        try {
            const Plan plan = plan_from_json(parse_json(text, "p.json"), "p.json");
            EXPECT_FALSE(plan_text(plan, {}).empty());
            EXPECT_FALSE(to_json(plan_to_json(plan)).empty());
            for (const Option& o : plan.options)
                EXPECT_FALSE(sheet_text(plan, o.id).empty());
            ++printed;
        } catch (const Error& e) {
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos);
            ++refused;
        }
    }
    EXPECT_GT(printed, 100);
    EXPECT_GT(refused, 1000);
}
