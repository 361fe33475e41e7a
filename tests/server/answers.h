// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SERVER_ANSWERS_H
#define LOAMWAY_TESTS_SERVER_ANSWERS_H

// What came back on a connection, taken apart and judged.

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace loamway::server_fuzz {

/// Statuses of the whole answers in `bytes`, of which the last may be cut where `closed` is false. An answer
/// to HEAD has no body, and none is missed. std::runtime_error for what is no answer, or one that may not be:
/// a header missing that guards, a fault of the program, an error that is not one line of JSON.
[[nodiscard]] std::vector<int> judged(std::string_view bytes);

/// One whole answer is in `bytes`.
[[nodiscard]] bool holds_one(std::string_view bytes);

}  // namespace loamway::server_fuzz

#endif
