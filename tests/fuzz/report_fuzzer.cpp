// SPDX-License-Identifier: Apache-2.0
// Any bytes as a plan file: refused as an Error, or printed as text and sheet and written back.

#include "loamway/report/text_report.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    fuzz::accepts([&] {
        const Plan plan = plan_from_json(parse_json(fuzz::text_of(data, size), "fuzz"), "fuzz");
        static_cast<void>(plan_text(plan, {.colour = true}));
        static_cast<void>(plan_to_json(plan));
        static_cast<void>(sheet_text(plan, ""));
    });
    return 0;
}
