// SPDX-License-Identifier: Apache-2.0
// Any bytes as a list of jobs, JSON or TOML: refused as an Error, or read.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/season/jobs.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    try {
        const bool json = !text.empty() && text.front() == '{';
        static_cast<void>(read_jobs(json ? parse_json(text, "fuzz") : parse_toml(text, "fuzz"), "fuzz"));
    } catch (const Error&) {
        return 0;
    }
    return 0;
}
