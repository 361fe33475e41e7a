// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_OPL_LINES_H
#define LOAMWAY_SRC_BUILD_OPL_LINES_H

// Watches the text of an OPL file go by, in parts of any size, and says when one line of it is longer than
// any map has: its reader keeps a line until its end comes. The counterpart of xml_pieces.h.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace loamway {

class OplLines {
public:
    /// In bytes. A line is a whole object: a relation of 32,000 members, the most one may have, takes one or
    /// two million.
    static constexpr std::size_t most = std::size_t{16} << 20;
    static constexpr std::string_view piece = "one line";

    /// False when a line is longer than that. Of no use after that.
    [[nodiscard]] bool take(std::string_view text) {
        for (;;) {
            const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
            if (end > most - m_size)
                return false;
            m_size += end;
            if (end == text.size())
                return true;
            m_line += text[end] == '\n' ? 1 : 0;
            m_size = 0;
            text.remove_prefix(end + 1);
        }
    }
    /// The line that take() is in; the first is 1.
    [[nodiscard]] std::int64_t line() const { return m_line; }

private:
    std::size_t m_size = 0;
    std::int64_t m_line = 1;
};

}  // namespace loamway

#endif
