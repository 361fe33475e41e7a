// SPDX-License-Identifier: Apache-2.0
// Any bytes as a file of places, of corrections and as a plan: refused as an Error, or read and written.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/exchange/corrections.h"
#include "loamway/exchange/places.h"
#include "loamway/exchange/tracks.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    try {
        static_cast<void>(parse_places(text, "fuzz"));
        return 0;
    } catch (const Error&) {
        // No places: it may be something else.
    }
    std::string again;
    try {
        again = corrections_to_json(parse_corrections(text, "fuzz"));
    } catch (const Error&) {
        // Nor corrections.
    }
    if (!again.empty()) {
        // What was read once is written so that it reads back the same; an Error here is a finding.
        if (corrections_to_json(parse_corrections(again, "fuzz")) != again)
            __builtin_trap();
        return 0;
    }
    try {
        const Plan plan = plan_from_json(parse_json(text, "fuzz"), "fuzz");
        static_cast<void>(to_gpx(plan, ""));
        static_cast<void>(to_geojson(plan, ""));
    } catch (const Error&) {
        return 0;
    }
    return 0;
}
