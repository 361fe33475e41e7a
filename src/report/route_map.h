// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_ROUTE_MAP_H
#define LOAMWAY_SRC_REPORT_ROUTE_MAP_H

#include "loamway/region/region.h"
#include "loamway/report/canvas.h"
#include "map_look.h"
#include "map_view.h"
#include "sheet_content.h"

namespace loamway {

/// The way on a map: stops, flags, names, scale bar, north. `region` may be null: then the way alone, and the
/// map says so.
void draw_route_map(Canvas& canvas, const PageBox& box, const SheetContent& content, const Region* region);
/// The same in a view of one's own choice, with other colours.
void draw_route_map(Canvas& canvas, const MapView& view, const SheetContent& content, const Region* region,
                    const MapLook& look);

}  // namespace loamway

#endif
