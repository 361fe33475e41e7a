// SPDX-License-Identifier: Apache-2.0
// Short things people type: a time, a window of the day, a point, numbers with units. What is read reads back
// the same.

#include <cmath>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"
#include "loamway/desk/day_window.h"
#include "target.h"

namespace {

using namespace loamway;

void moment(std::string_view text) {
    const TimeZone utc;
    const Instant at = parse_time(text, utc);
    fuzz::promise(parse_time(format_rfc3339(at, utc), utc) == at, "a time that does not read back");
}

void point(std::string_view text) {
    const auto p = parse_lat_lon(text);
    fuzz::promise(!p || (std::abs(p->lat()) <= 90 && std::abs(p->lon()) <= 180), "a point off the Earth");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0)
        return 0;
    const std::string_view text = fuzz::text_of(data + 1, size - 1);
    fuzz::accepts([&] {
        switch (data[0] % 3) {
            case 0:
                return moment(text);
            case 1:
                return point(text);
            default:
                return static_cast<void>(parse_window(text));
        }
    });
    return 0;
}
