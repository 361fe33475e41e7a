// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_LINE_SOURCE_H
#define LOAMWAY_SRC_BATCH_LINE_SOURCE_H

// The lines of the input that a run has to answer: without empty ones, other shards and what an earlier run
// answered.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "loamway/batch/batch.h"

namespace loamway {

/// The id of a line or an answer as JSON; "null" where there is none or the line cannot be read.
[[nodiscard]] std::string id_in(std::string_view line);

struct BatchLine {
    std::size_t number = 0;  // in the input, from 1
    std::string text;
};

class LineSource {
public:
    /// Both must outlive it.
    LineSource(const BatchSetup& setup, const BatchRead& read) : m_setup(setup), m_read(read) {}
    /// Nothing at the end. Input Error when the moves passed over are not those answered before.
    [[nodiscard]] std::optional<BatchLine> next();
    /// The first line that is not empty, once next() has been called.
    [[nodiscard]] const std::string& first() const { return m_first; }

private:
    void require_same_move(const std::string& line) const;

    const BatchSetup& m_setup;
    const BatchRead& m_read;
    std::size_t m_lines = 0, m_moves = 0, m_passed = 0;
    std::string m_first;
};

}  // namespace loamway

#endif
