// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BATCH_BATCH_H
#define LOAMWAY_BATCH_BATCH_H

// Many moves, one JSON object a line: {"id", ...the keys of a move}. Each line is answered by one line in the
// same order: {"id","plan"}, or {"id","error":{"kind","message"}} for a line that cannot be answered, which
// never stops the rest. Memory is bounded: at most `window` lines are read ahead of the slowest one.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "loamway/base/time.h"
#include "loamway/desk/shelf.h"

namespace loamway {

/// What an earlier run left in its output.
struct BatchDone {
    std::size_t lines = 0;  // answers that are there whole
    std::string last;       // the last of them
};
/// Reads an output again: counts its answers and cuts off what was being written when the run was stopped.
/// No file: nothing was done. `each` is called with every answer. Errors: io; input when a line is no answer.
[[nodiscard]] BatchDone find_done(const std::string& path,
                                  const std::function<void(std::string_view)>& each = {});

struct BatchSetup {
    unsigned threads = 0;                 // 0: as many as the machine runs at once
    std::size_t window = 64;              // lines on the way at once, at least one a thread
    bool choices = true;                  // work out the choices between length and paved length
    std::uint64_t shard = 1, shards = 1;  // of every `shards` lines the shard-th is this run's, from 1
    BatchDone done;                       // passed over: the first of these moves were answered before
    Instant at;                           // the time a move without departure starts
};

struct BatchSums {
    std::size_t answered = 0;  // with a plan
    std::size_t faults = 0;    // with an error
    [[nodiscard]] std::size_t lines() const { return answered + faults; }
};

/// The next line of the input without its end; nothing at the end.
using BatchRead = std::function<std::optional<std::string>()>;
/// Takes one answer, a line without its end; in order, by one thread at a time.
using BatchWrite = std::function<void(const std::string& answer, const BatchSums& sums)>;

/// Answers all lines. What `read` and `write` throw ends it and is thrown again once no thread works any
/// more. Empty lines are passed over. Input Error when the moves passed over are not those that `done`
/// answers: its last id is compared.
BatchSums run_batch(const Shelf& shelf, const BatchSetup& setup, const BatchRead& read,
                    const BatchWrite& write);

/// The answer to one line, without its end. `number` is the line's, from 1, for messages.
[[nodiscard]] std::string answer_line(const Shelf& shelf, const BatchSetup& setup, std::string_view line,
                                      std::size_t number);

/// Whether an answer is an error record.
[[nodiscard]] bool is_fault(std::string_view answer);

/// Columns of the summary: id, option, mode, sentence and the figures of the advised option; units in the
/// names.
[[nodiscard]] std::string summary_header();
/// One answer as a line of the summary, with its end.
[[nodiscard]] std::string summary_row(std::string_view answer);

}  // namespace loamway

#endif
