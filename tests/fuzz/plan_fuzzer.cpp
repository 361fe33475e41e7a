// SPDX-License-Identifier: Apache-2.0
// Any bytes as a plan: refused, or written so that it reads back the same.

#include "loamway/plan/plan.h"
#include "loamway/text/value.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    std::string once;
    if (!fuzz::accepts([&] {
            once =
                to_json(plan_to_json(plan_from_json(parse_json(fuzz::text_of(data, size), "fuzz"), "fuzz")));
        }))
        return 0;
    const Plan again = plan_from_json(parse_json(once, "once"), "once");
    fuzz::promise(to_json(plan_to_json(again)) == once, "a plan that does not read back");
    return 0;
}
