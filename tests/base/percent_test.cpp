// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/percent.h"

#include <gtest/gtest.h>

namespace loamway {
namespace {

// RFC 3986, section 2.1.
TEST(Percent, DigitsBecomeTheirByte) {
    EXPECT_EQ(percent_decoded("a%20b%C3%A4"), "a b\xC3\xA4");
    EXPECT_EQ(percent_decoded("%41"), "A");
    EXPECT_EQ(percent_decoded("a+b"), "a+b");
    EXPECT_EQ(percent_decoded("a+b", true), "a b");
    EXPECT_EQ(percent_decoded("%00"), std::string(1, '\0'));
    EXPECT_EQ(percent_decoded("%252e"), "%2e") << "once, never twice";
    for (const char* bad : {"%", "a%4", "%g0", "%0g", "%-1"})
        EXPECT_FALSE(percent_decoded(bad)) << bad;
}

}  // namespace
}  // namespace loamway
