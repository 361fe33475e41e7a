// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_QUEUE_MESSAGE_H
#define LOAMWAY_SRC_BATCH_QUEUE_MESSAGE_H

// One move in the queue: a head of one JSON line, then the line of the input byte for byte (QUEUE.md). What
// comes out of a queue is a stranger's: reading is strict and limited.

#include <cstdint>
#include <string>
#include <string_view>

#include "loamway/base/time.h"
#include "shelf_key.h"

namespace loamway {

constexpr std::size_t longest_head = 1024;                        // bytes
constexpr std::size_t longest_queue_line = std::size_t{1} << 20;  // as in a batch

struct QueueMove {
    std::string run;
    std::uint64_t number = 1;  // of the line in its input, for messages
    ShelfKey shelf;            // what it is to be planned with
    bool choices = true;
    Instant at;  // when a move without departure starts
    std::string line;
};

/// Letters, digits, "-", "_", ".", 1 to 64 of them. Input Error otherwise.
void require_run_name(const std::string& run);

[[nodiscard]] std::string write_queue_move(const QueueMove& move);
/// Input or limit Error for what is no move.
[[nodiscard]] QueueMove read_queue_move(std::string_view bytes);

/// What a move is called within its run: its id as JSON text, or "line N" where a line has none. Short.
[[nodiscard]] std::string move_key(const QueueMove& move);
/// Of all that its answer depends on.
[[nodiscard]] std::string move_digest(const QueueMove& move);

}  // namespace loamway

#endif
