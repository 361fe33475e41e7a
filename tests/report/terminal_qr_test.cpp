// SPDX-License-Identifier: Apache-2.0
// The code on a terminal has a quiet zone, equal lines and the three corner marks.
#include "loamway/report/terminal_qr.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "loamway/base/error.h"

namespace loamway {
namespace {

/// Rows of modules, true for light, read back from the half blocks.
std::vector<std::vector<bool>> modules(const std::string& text) {
    std::vector<std::vector<bool>> rows(2);
    for (std::size_t i = 0; i < text.size();) {
        if (text[i] == '\n') {
            rows.insert(rows.end(), 2, {});
            ++i;
            continue;
        }
        const bool blank = text[i] == ' ';
        const std::string block = blank ? " " : text.substr(i, 3);
        rows[rows.size() - 2].push_back(block == "\u2580" || block == "\u2588");
        rows.back().push_back(block == "\u2584" || block == "\u2588");
        i += block.size();
    }
    rows.resize(rows.size() - 2);
    return rows;
}

TEST(TerminalQr, HasQuietZoneAndCornerMarks) {
    const auto rows = modules(terminal_qr("http://192.0.2.7:8421/#key=abcdefgh"));
    const std::size_t size = rows.front().size();
    ASSERT_EQ(rows.size(), size + size % 2);
    for (std::size_t i = 0; i < size; ++i)
        for (std::size_t edge = 0; edge < 4; ++edge) {
            EXPECT_TRUE(rows[edge][i]);
            EXPECT_TRUE(rows[size - 1 - edge][i]);
            EXPECT_TRUE(rows[i][edge]);
            EXPECT_TRUE(rows[i][size - 1 - edge]);
        }
    // A mark is a dark ring of 7 with a dark square of 3 in it.
    for (const auto& [top, left] : {std::pair{4ul, 4ul}, {4ul, size - 11}, {size - 11, 4ul}})
        for (std::size_t i = 0; i < 7; ++i)
            for (std::size_t j = 0; j < 7; ++j) {
                const bool ring = i == 0 || i == 6 || j == 0 || j == 6;
                const bool middle = i >= 2 && i <= 4 && j >= 2 && j <= 4;
                EXPECT_EQ(rows[top + i][left + j], !(ring || middle))
                    << top << " " << left << " " << i << " " << j;
            }
}

TEST(TerminalQr, RefusesWhatDoesNotFit) {
    EXPECT_THROW((void)terminal_qr(std::string(4000, 'x')), Error);
}

}  // namespace
}  // namespace loamway
