// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_BREAK_EVEN_H
#define LOAMWAY_COSTS_BREAK_EVEN_H

// From which length on hauling is cheaper than driving. Real costs have steps (stops, billing steps, the
// least charge), so the two can change places more than once: a sweep finds every change, a straight line
// only the gist.

#include <functional>
#include <optional>
#include <vector>

#include "loamway/base/units.h"

namespace loamway {

using CostOfLength = std::function<Money(Length)>;

/// A cost that grows evenly: fixed + per_km * km.
struct CostLine {
    Money fixed, per_km;
};
/// Where two lines meet: (haul.fixed - drive.fixed) / (drive.per_km - haul.per_km), zero when hauling is
/// cheaper from the start. None when a driven kilometre is not dearer than a hauled one.
[[nodiscard]] std::optional<Length> break_even(const CostLine& drive, const CostLine& haul);

/// The stretch of lengths looked at, both ends included.
struct Sweep {
    Length from = Length::from_km(0);
    Length to = Length::from_km(200);
    Length step = Length::from_metres(50);
};
/// Least-squares line through the costs at every step.
[[nodiscard]] CostLine fit_line(const CostOfLength& cost, const Sweep& sweep);

struct BreakEven {
    std::vector<Length> crossings;              // first length after each change of the cheaper one
    std::optional<Length> haul_cheaper_from;    // the shortest length at which hauling is cheaper
    std::optional<Length> drive_cheaper_below;  // past this length driving is never cheaper again
};
/// Equal costs count for driving. Without a value: hauling is never cheaper (driving still cheaper at the
/// end).
[[nodiscard]] BreakEven sweep_break_even(const CostOfLength& drive, const CostOfLength& haul,
                                         const Sweep& sweep = {});

}  // namespace loamway

#endif
