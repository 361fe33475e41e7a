// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/break_even_words.h"

#include <fmt/format.h>

namespace loamway {

std::string break_even_words(const PlanBreakEven& b, const UnitWords& w) {
    const std::string such = "Moves like this are cheaper";
    if (!b.haul_from_m)
        return fmt::format("{} driven up to {}", such, w.length(b.to_m));
    if (b.crossings_m.empty())
        return fmt::format("{} hauled at any length up to {}", such, w.length(b.to_m));
    const double first = b.crossings_m.front(), last = b.crossings_m.back();
    if (b.crossings_m.size() == 1)
        return b.drive_below_m
                   ? fmt::format("{} hauled from about {} on", such, w.length(first))
                   : fmt::format("{} hauled up to about {}, driven past it", such, w.length(first));
    return fmt::format("{} {} past about {}; from {} on the two cross {} times", such,
                       b.drive_below_m ? "hauled" : "driven", w.length(last), w.exact(first),
                       b.crossings_m.size());
}

}  // namespace loamway
