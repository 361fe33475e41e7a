// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_PICTURE_H
#define LOAMWAY_SEASON_SEASON_PICTURE_H

// A season day by day: in each day a line for every machine and low-bed that does something, along the hours.

#include <string>

#include "loamway/report/canvas.h"
#include "loamway/season/season.h"

namespace loamway {

[[nodiscard]] std::string season_picture(const Season& season, PictureFormat format);

}  // namespace loamway

#endif
