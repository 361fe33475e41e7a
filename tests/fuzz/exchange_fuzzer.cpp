// SPDX-License-Identifier: Apache-2.0
// Any bytes as a file of places, of corrections and as a plan: refused as an Error, or read and written.

#include "loamway/exchange/corrections.h"
#include "loamway/exchange/places.h"
#include "loamway/exchange/tracks.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text = fuzz::text_of(data, size);
    fuzz::accepts([&] { static_cast<void>(parse_places(text, "fuzz")); });
    std::string once;
    if (fuzz::accepts([&] { once = corrections_to_json(parse_corrections(text, "fuzz")); }))
        fuzz::promise(corrections_to_json(parse_corrections(once, "once")) == once,
                      "corrections that do not read back");
    fuzz::accepts([&] {
        const Plan plan = plan_from_json(parse_json(text, "fuzz"), "fuzz");
        for (const auto& write : {to_gpx, to_geojson, to_kml, to_stops_csv})
            static_cast<void>(write(plan, ""));
    });
    return 0;
}
