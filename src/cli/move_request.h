// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_MOVE_REQUEST_H
#define LOAMWAY_SRC_CLI_MOVE_REQUEST_H

#include <string>
#include <vector>

#include "loamway/desk/desk.h"

namespace loamway {

/// The move document (TOML or JSON; - is standard input; empty: none) with the flags over it.
[[nodiscard]] MoveRequest move_request(const std::string& document, const MoveRequest& flags);

/// Every file that a move names, to be kept apart from what is written.
[[nodiscard]] std::vector<std::string> files_of(const MoveRequest& move);

}  // namespace loamway

#endif
