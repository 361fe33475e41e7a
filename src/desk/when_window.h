// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_WHEN_WINDOW_H
#define LOAMWAY_SRC_DESK_WHEN_WINDOW_H

// When a move may leave: a window of the day, and a departure that may be only a day.

#include <string>
#include <string_view>

#include "loamway/desk/day_window.h"

namespace loamway {

[[nodiscard]] std::string window_text(const WhenWindow& w);  // "05:00-21:00"

/// Whether the text is a day without an hour: "2026-07-14".
[[nodiscard]] bool is_day(std::string_view text);
/// A departure, or the midnight that begins a day. Input Error otherwise.
[[nodiscard]] Instant parse_departure(const std::string& text, const TimeZone& zone);

}  // namespace loamway

#endif
