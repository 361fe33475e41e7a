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
    EXPECT_EQ(csv_cell("two\nlines"), "two lines");
    EXPECT_EQ(csv_cell(""), "");
}

// A file opened in a spreadsheet must not run what a stranger called a place.
TEST(CsvCell, NoNameIsAFormula) {
    EXPECT_EQ(csv_cell("=1+1"), "'=1+1");
    EXPECT_EQ(csv_cell("-a,b"), "\"'-a,b\"");
    EXPECT_EQ(csv_cell("@home"), "'@home");
    EXPECT_EQ(csv_cell(" \t=1+1"), "'  =1+1");
    EXPECT_EQ(csv_cell("\xEF\xBC\x9D"
                       "1+1"),
              "'\xEF\xBC\x9D"
              "1+1");
    // Numbers below zero were made texts.
    EXPECT_EQ(csv_cell("-12.5"), "-12.5");
    EXPECT_EQ(csv_cell("-12.5-1"), "'-12.5-1");
}

// Ids of a batch reached its summary with the sequences that move a terminal's cursor.
TEST(CsvCell, CellsArePrintable) {
    EXPECT_EQ(csv_cell("a\x1b[2Jb"), "a\xEF\xBF\xBD[2Jb");
}

}  // namespace
}  // namespace loamway
