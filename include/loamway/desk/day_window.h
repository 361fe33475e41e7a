// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_DAY_WINDOW_H
#define LOAMWAY_DESK_DAY_WINDOW_H

// Hours of the day as people write them.

#include <string_view>

#include "loamway/plan/inputs.h"

namespace loamway {

/// "5-21", "05:00-21:00", "21:30-5": an end before the beginning is the next day's. Input Error otherwise.
[[nodiscard]] WhenWindow parse_window(std::string_view text);

}  // namespace loamway

#endif
