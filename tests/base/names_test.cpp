// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/names.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <string>

namespace loamway {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr std::array<std::string_view, 5> keys{"mass_kg", "axle_kg", "width_m", "length_m", "towed_kg"};

TEST(names, nearest_is_the_one_meant) {
    EXPECT_EQ(nearest_name("mas_kg", keys), "mass_kg");
    EXPECT_EQ(nearest_name("amss_kg", keys), "mass_kg");
    EXPECT_EQ(nearest_name("witdh_m", keys), "width_m");
    EXPECT_EQ(nearest_name("LENGTH_M", keys), "length_m");
    EXPECT_EQ(nearest_name("mass_kg", keys), "mass_kg");
}

TEST(names, nothing_near_gives_nothing) {
    EXPECT_EQ(nearest_name("colour", keys), "");
    EXPECT_EQ(nearest_name("", keys), "");
    EXPECT_EQ(nearest_name("x", keys), "");
    EXPECT_EQ(nearest_name("mass_kg", {}), "");
    EXPECT_EQ(nearest_name(std::string(1000, 'm'), keys), "");
}

TEST(names, one_letter_is_no_likeness_of_another) {
    const std::array<std::string_view, 2> letters{"a", "b"};
    EXPECT_EQ(nearest_name("c", letters), "");
    EXPECT_EQ(nearest_name("B", letters), "b");
}

// Swapping neighbours costs one step, not two: at length 3 only one step is allowed.
TEST(names, a_swap_is_one_step) {
    const std::array<std::string_view, 2> words{"day", "gravel"};
    EXPECT_EQ(nearest_name("dya", words), "day");
    EXPECT_EQ(nearest_name("yad", words), "");
}

TEST(names, letters_outside_ascii_count_once) {
    const std::array<std::string_view, 1> words{"M\xC3\xBChl"};  // four letters in five bytes
    EXPECT_EQ(nearest_name("Muhl", words), words[0]);
}

TEST(names, several_come_nearest_first_and_once) {
    const std::array<std::string_view, 5> places{"Oberfeld", "Unterfeld", "Oberwald", "Obernfeld",
                                                 "Oberfeld"};
    EXPECT_THAT(nearest_names("oberfeld", places, 5), ElementsAre("Oberfeld", "Obernfeld", "Oberwald"));
    EXPECT_THAT(nearest_names("oberfeld", places, 1), ElementsAre("Oberfeld"));
    EXPECT_THAT(nearest_names("oberfeld", places, 0), IsEmpty());
}

TEST(names, ascii_lower_leaves_other_letters) {
    EXPECT_EQ(ascii_lower("ABC-xyz \xC3\x84"), "abc-xyz \xC3\x84");
}

TEST(names, printable_keeps_words_and_replaces_what_moves_the_cursor) {
    const std::string bad = "\xEF\xBF\xBD";
    EXPECT_EQ(printable("Gr\xC3\xBCner Weg \xE4\xB8\xAD \xF0\x9F\x9A\x9C"),
              "Gr\xC3\xBCner Weg \xE4\xB8\xAD \xF0\x9F\x9A\x9C");
    EXPECT_EQ(printable("a\nb\tc\rd"), "a b c d");
    EXPECT_EQ(printable(std::string_view("a\0b\x1B\x7F", 5)), "a" + bad + "b" + bad + bad);
    EXPECT_EQ(printable("\xC2\x9B"), bad);                               // C1 control
    EXPECT_EQ(printable("\xE2\x80\xAEx\xE2\x81\xA6"), bad + "x" + bad);  // override, isolate
    // No characters at all: a sheet with such a name could not be drawn, a picture was no XML.
    EXPECT_EQ(printable("\xEF\xBF\xBE\xEF\xB7\x90\xF0\x9F\xBF\xBF"), bad + bad + bad);
    EXPECT_EQ(printable("\xE2\x80\xA8"), bad);  // line separator
}

TEST(names, printable_replaces_each_byte_that_is_no_utf8) {
    const std::string bad = "\xEF\xBF\xBD";
    EXPECT_EQ(printable("\xFFok"), bad + "ok");
    EXPECT_EQ(printable("\xC3"), bad);                                // cut off
    EXPECT_EQ(printable("\xC3x"), bad + "x");                         // the next letter survives
    EXPECT_EQ(printable("\xC0\xAF"), bad + bad);                      // overlong
    EXPECT_EQ(printable("\xED\xA0\x80"), bad + bad + bad);            // surrogate
    EXPECT_EQ(printable("\xF4\x90\x80\x80"), bad + bad + bad + bad);  // above U+10FFFF
}

TEST(names, valid_utf8_keeps_controls) {
    EXPECT_EQ(valid_utf8("a\nb\x01\xFE"), "a\nb\x01\xEF\xBF\xBD");
}

}  // namespace
}  // namespace loamway
