// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/plausible.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr double margin = 0.1;  // of a new bar: nobody measures to the millimetre, and bars run past worn out
constexpr double most_apart = 0.5;  // of what lies between new and worn out

constexpr double above_top = 1.25;      // trip meters and clocks, and downhill
constexpr double hours_rounded = 0.05;  // half of the tenth to which hours are noted

constexpr std::int64_t most_ahead_s = 86400;  // moves are noted as they begin, and clocks differ by hours

}  // namespace

std::string implausible_heights(const BeltsAdded& set, std::span<const double> mm) {
    const double low = set.worn_mm - margin * set.new_bar_mm, high = set.new_bar_mm * (1 + margin);
    for (const double bar : mm)
        if (bar < low || bar > high)
            return fmt::format("a bar of {:g} mm: those of this set are {:g} mm high when new, {:g} worn out",
                               bar, set.new_bar_mm, set.worn_mm);
    const auto [least, most] = std::minmax_element(mm.begin(), mm.end());
    const double apart = most_apart * (set.new_bar_mm - set.worn_mm);
    if (least != mm.end() && *most - *least > apart)
        return fmt::format("bars of {:g} and {:g} mm: more than {:g} mm apart within one set", *most, *least,
                           apart);
    return {};
}

std::string implausible_speed(const MoveDone& m, Speed top) {
    const double km = m.length_m() / 1000;
    if (m.hours <= 0 || km <= top.kmh() * above_top * (m.hours + hours_rounded))
        return {};
    return fmt::format("{:.1f} km in {:.2f} h are {:.0f} km/h: the machine's top speed is {:.0f} km/h", km,
                       m.hours, km / m.hours, top.kmh());
}

void check_happened(Instant at, Instant now, std::string_view what) {
    if (at.unix_seconds - now.unix_seconds > most_ahead_s)
        throw Error(ErrorKind::input,
                    fmt::format("{}: {} is still to come, the clock here says {}", what,
                                format_rfc3339(at, TimeZone()), format_rfc3339(now, TimeZone())),
                    "look at the year, or set this computer's clock");
}

}  // namespace loamway
