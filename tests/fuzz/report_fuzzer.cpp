// SPDX-License-Identifier: Apache-2.0
// Any bytes as a plan file: refused as an Error, or printed as text and sheet and written back.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/report/text_report.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    try {
        const std::string_view text(reinterpret_cast<const char*>(data), size);
        const Plan plan = plan_from_json(parse_json(text, "fuzz"), "fuzz");
        static_cast<void>(plan_text(plan, {.colour = true}));
        static_cast<void>(plan_to_json(plan));
        static_cast<void>(sheet_text(plan, ""));
    } catch (const Error&) {
        return 0;
    }
    return 0;
}
