// SPDX-License-Identifier: Apache-2.0
// The value of one conditional tag, read for a vehicle and an hour that the first byte picks: fast, for many
// tries. Flags can be shown on a terminal, and the value is the base or stands in the text.

#include <array>

#include "loamway/tags/access.h"
#include "support/tag_samples.h"
#include "target.h"

namespace {

using namespace loamway;

std::array<Moment, 4> moments() {
    std::array<Moment, 4> out{test::sample_moment(), test::sample_moment(), test::sample_moment(), Moment()};
    out[1].time->hour = 23;
    out[1].time->weekday = 0;
    out[1].daylight = false;
    out[1].wet = true;
    out[2].time->month = 2;
    out[2].time->day = 29;
    out[2].time->day_of_year = 60;
    out[2].time->hour = 0;
    out[2].time->minute = 0;
    return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const std::array<Moment, 4> at = moments();
    static const std::array<VehicleView, 3> vehicles{test::sample_machine(), test::sample_truck(),
                                                     VehicleView()};
    if (size == 0)
        return 0;
    const std::string_view text = fuzz::text_of(data + 1, size - 1);
    const ConditionalReading r =
        read_conditional("base", text, vehicles[(data[0] >> 2) % vehicles.size()], at[data[0] & 3]);
    fuzz::promise(r.value == "base" || text.find(r.value) != std::string_view::npos,
                  "a value that nobody wrote");
    for (const std::string& flag : r.flags)
        for (const char c : flag)
            fuzz::promise(static_cast<unsigned char>(c) >= 0x20 && c != 0x7f,
                          "a flag holds a control character");
    return 0;
}
