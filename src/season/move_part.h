// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_MOVE_PART_H
#define LOAMWAY_SRC_SEASON_MOVE_PART_H

// Documents and tables that have the keys of a move among keys of their own.

#include <span>
#include <string>
#include <string_view>

#include "loamway/desk/desk.h"
#include "loamway/text/table.h"

namespace loamway {

/// The keys that a move has too, in a document of their own; the caller must read the others. A key among
/// `refused` is an input Error that ends with `instead`.
[[nodiscard]] Value move_part(const Value& document, const std::string& file,
                              std::span<const std::string_view> own,
                              std::span<const std::string_view> refused, const std::string& where,
                              const std::string& instead);

/// Reads what a move reads; a key that is nearly one of `own` is said to be so.
[[nodiscard]] MoveRequest read_move_part(const Value& part, const std::string& file,
                                         std::span<const std::string_view> own);

/// "work_hours" in minutes after midnight, left as they are where it is not said.
void read_work_hours(Table& t, int& from_min, int& to_min);

}  // namespace loamway

#endif
