// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_REGION_LAYERS_H
#define LOAMWAY_SRC_REPORT_REGION_LAYERS_H

#include "loamway/region/region.h"
#include "loamway/report/canvas.h"
#include "map_look.h"
#include "map_view.h"

namespace loamway {

/// The ground of a map: woods, towns, water, railways and roads. Small roads are left out where they would
/// run together to a grey patch.
void draw_region_layers(Canvas& canvas, const MapView& view, const RegionView& region,
                        const MapLook& look = paper_look);

}  // namespace loamway

#endif
