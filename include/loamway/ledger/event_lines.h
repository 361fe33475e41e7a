// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_EVENT_LINES_H
#define LOAMWAY_LEDGER_EVENT_LINES_H

// Events as they leave one ledger and come into another: one JSON object a line.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/ledger/event.h"

namespace loamway {

/// Lines as event_from_value() takes them; empty ones are skipped. An event without a token gets one of its
/// number and hour of noting, so that the same lines read again change nothing. `file` is what messages call
/// the text. Input Error with the line.
[[nodiscard]] std::vector<Event> parse_event_lines(std::string_view text, const std::string& file);

}  // namespace loamway

#endif
