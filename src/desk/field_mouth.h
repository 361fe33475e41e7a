// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_FIELD_MOUTH_H
#define LOAMWAY_SRC_DESK_FIELD_MOUTH_H

// Where a field is likely entered, when nobody has said: a guess to be confirmed once.

#include <optional>
#include <span>
#include <string>

#include "loamway/base/geo.h"
#include "loamway/region/region.h"

namespace loamway {

struct FieldMouth {
    GeoPoint point;
    std::string what;     // "the end of a track", "a track", "a road" ...
    double metres = 0.0;  // from the field's boundary; 0 inside it
};

/// Of the roads within 300 m of the field the likeliest to lead in: the end of a track at its edge, before a
/// track along it, before other small roads, before larger ones (assumptions, as is what distance counts).
/// Nothing when there is none. Looks at every road of the region.
[[nodiscard]] std::optional<FieldMouth> likeliest_mouth(const RegionView& region,
                                                        std::span<const GeoPoint> outline);

}  // namespace loamway

#endif
