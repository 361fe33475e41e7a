// SPDX-License-Identifier: Apache-2.0
// What ids and keys are called, and that the page calls them the same.
#include "loamway/plan/plan_words.h"

#include <gtest/gtest.h>

#include <regex>

#include "loamway/base/file.h"

namespace loamway {
namespace {

TEST(PlanWords, NamesOfOptions) {
    EXPECT_EQ(option_name("least-hard"), "Least paved");
    EXPECT_EQ(option_name("least-cost"), "Least cost");
    EXPECT_EQ(option_name("least-time"), "Least time");
    EXPECT_EQ(option_name("haul"), "Haul");
    EXPECT_EQ(option_name("mixed"), "Part and part");
    EXPECT_EQ(option_name("front-12"), "Choice 12");
    EXPECT_EQ(option_name("somebody's"), "somebody's");
    EXPECT_EQ(option_name("bell\a").find('\a'), std::string::npos) << "a stranger's plan moves the cursor";
}

TEST(PlanWords, KeysOfFields) {
    EXPECT_EQ(field_words("since_lube_km"), "driven since the last powder");
    EXPECT_EQ(field_words("heat_calibration"), "heat readings");
    EXPECT_EQ(field_words("unheard_of"), "unheard_of");
}

// The page has its own catalogue: an option was "least-hard" in text and pictures and "Least paved" there,
// and answers nobody had given went by other names.
TEST(PlanWords, ThePageSaysTheSame) {
    const std::string texts =
        read_text_file(std::string(LOAMWAY_SOURCE_DIR) + "/src/web/page/src/texts.js", 1 << 20);
    const std::regex entry("[ \"](option|key)_([a-z_-]+)\"?: \"([^\"]*)\"");
    int options = 0, keys = 0;
    for (std::sregex_iterator it(texts.begin(), texts.end(), entry), end; it != end; ++it) {
        const std::string kind = (*it)[1], word = (*it)[2], says = (*it)[3];
        if (kind == "option") {
            ++options;
            EXPECT_EQ(option_name(word == "front" ? "front-{k}" : word), says) << word;
        } else if (field_words(word) != word) {
            ++keys;
            EXPECT_EQ(field_words(word), says) << word;
        }
    }
    EXPECT_EQ(options, 6);
    EXPECT_GE(keys, 9);
}

}  // namespace
}  // namespace loamway
