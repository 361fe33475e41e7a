// SPDX-License-Identifier: Apache-2.0
// A trip as comma-separated text: read, or refused.

#include "loamway/belt/trip.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    fuzz::accepts([&] {
        for (const TripSegment& s : parse_trip_csv(fuzz::text_of(data, size), "trip.csv"))
            fuzz::promise(s.speed.mps() > 0.0 && s.length.metres() >= 0.0, "a trip that cannot be driven");
    });
    return 0;
}
