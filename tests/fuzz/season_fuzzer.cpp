// SPDX-License-Identifier: Apache-2.0
// Any bytes as a list of jobs and as a season, JSON or TOML: refused as an Error, or read.

#include "loamway/season/jobs.h"
#include "loamway/season/season_list.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text = fuzz::text_of(data, size);
    Value document;
    if (!fuzz::accepts(
            [&] { document = text.starts_with('{') ? parse_json(text, "fuzz") : parse_toml(text, "fuzz"); }))
        return 0;
    fuzz::accepts([&] { static_cast<void>(read_jobs(document, "fuzz")); });
    fuzz::accepts([&] { static_cast<void>(read_season(document, "fuzz")); });
    return 0;
}
