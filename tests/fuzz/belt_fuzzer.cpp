// SPDX-License-Identifier: Apache-2.0
// A trip as comma-separated text: read, or refused with an input or limit Error.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/belt/trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    try {
        for (const TripSegment& s : parse_trip_csv({reinterpret_cast<const char*>(data), size}, "trip.csv"))
            if (!(s.speed.mps() > 0.0) || !(s.length.metres() >= 0.0))
                __builtin_trap();
    } catch (const Error& e) {
        if (e.kind() != ErrorKind::input && e.kind() != ErrorKind::limit)
            __builtin_trap();
    }
    return 0;
}
