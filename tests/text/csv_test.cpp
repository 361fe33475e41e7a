// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/csv.h"

#include <gtest/gtest.h>

namespace loamway {
namespace {

// RFC 4180, 2.5-2.7.
TEST(CsvCell, QuotesWhatWouldEndACell) {
    EXPECT_EQ(csv_cell("Long Forty"), "Long Forty");
    EXPECT_EQ(csv_cell("barn, old"), "\"barn, old\"");
    EXPECT_EQ(csv_cell("the \"Mill\""), "\"the \"\"Mill\"\"\"");
    EXPECT_EQ(csv_cell("two\nlines"), "\"two\nlines\"");
    EXPECT_EQ(csv_cell(""), "");
}

// A file opened in a spreadsheet must not run what a stranger called a place.
TEST(CsvCell, NoNameIsAFormula) {
    EXPECT_EQ(csv_cell("=1+1"), "'=1+1");
    EXPECT_EQ(csv_cell("-a,b"), "\"'-a,b\"");
    EXPECT_EQ(csv_cell("@home"), "'@home");
}

}  // namespace
}  // namespace loamway
