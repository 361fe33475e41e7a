// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_MAP_FURNITURE_H
#define LOAMWAY_SRC_REPORT_MAP_FURNITURE_H

// What every map carries: north, a scale, the names of places, a key to the roads' surfaces.

#include <set>
#include <string>

#include "loamway/base/unit_words.h"
#include "loamway/region/region.h"
#include "map_labels.h"
#include "map_look.h"
#include "map_view.h"

namespace loamway {

struct MapSheet {
    Canvas& canvas;
    const MapView& view;
    MapLabels& labels;
    const MapLook& look;
};

/// A square of paper around a point.
[[nodiscard]] PageBox around(PagePoint p, double radius);

void draw_north_arrow(const MapSheet& map);
void draw_scale_bar(const MapSheet& map, const UnitWords& units);
/// Which ink and dash is which surface.
void draw_surface_key(const MapSheet& map);
/// As many as the map has room for, towns first. Names in `written` are left out; the others join them.
void write_places(const MapSheet& map, const RegionView& region, std::set<std::string>& written);

/// The road's line on a map that shows surfaces.
[[nodiscard]] Stroke surface_stroke(const MapLook& look, std::size_t surface, double width);

}  // namespace loamway

#endif
