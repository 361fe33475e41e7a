// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_PAGE_FOOT_H
#define LOAMWAY_SRC_SEASON_PAGE_FOOT_H

// What every page of a quote or a season ends with: a rule, words, the map it all rests on, the page's
// number.

#include <string>

#include "loamway/report/canvas.h"

namespace loamway {

struct PageFoot {
    double margin = 0, height = 0;  // from the edges of the page
    Ink letters, rule;
    std::string words;  // above the map's line; may be empty
    std::string region_name, map_date, attribution;
};

void draw_page_foot(Canvas& canvas, const PageFoot& foot, int page);

}  // namespace loamway

#endif
