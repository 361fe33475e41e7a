// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/error.h"

#include <gtest/gtest.h>

namespace loamway {
namespace {

TEST(error, one_line_form_leaves_out_what_is_missing) {
    const ErrorPlace full{"machine.toml", 7, "mas_kg"};
    EXPECT_STREQ(Error(ErrorKind::input, "it is wrong", "mend it", full).what(),
                 "machine.toml:7: it is wrong (mend it)");
    EXPECT_STREQ(Error(ErrorKind::input, "it is wrong", "", full).what(), "machine.toml:7: it is wrong");
    EXPECT_STREQ(Error(ErrorKind::io, "it is wrong", "mend it", {"a.region", {}, {}}).what(),
                 "a.region: it is wrong (mend it)");
    EXPECT_STREQ(Error(ErrorKind::io, "it is wrong", "mend it").what(), "it is wrong (mend it)");
    EXPECT_STREQ(Error(ErrorKind::io, "it is wrong").what(), "it is wrong");
    EXPECT_STREQ(Error(ErrorKind::io, "it is wrong", "", {"", 7, ""}).what(), "line 7: it is wrong");
}

TEST(error, keeps_its_parts) {
    const Error e(ErrorKind::damaged, "it is wrong", "mend it", {"f", 3, "key"});
    EXPECT_EQ(e.kind(), ErrorKind::damaged);
    EXPECT_EQ(e.message(), "it is wrong");
    EXPECT_EQ(e.what_to_do(), "mend it");
    EXPECT_EQ(e.place().file, "f");
    EXPECT_EQ(e.place().line, 3);
    EXPECT_EQ(e.place().item, "key");
}

TEST(error, a_strangers_text_cannot_break_the_line) {
    const Error e(ErrorKind::input, "name \"a\nb\x1B[2J\xE2\x80\xAE\xFF\"", "", {"x\ny.toml", 1, ""});
    EXPECT_STREQ(e.what(), "x y.toml:1: name \"a b\xEF\xBF\xBD[2J\xEF\xBF\xBD\xEF\xBF\xBD\"");
}

TEST(error, kinds_have_words_and_exit_statuses) {
    struct Case {
        ErrorKind kind;
        const char* name;
        int status;
    };
    const Case cases[] = {{ErrorKind::input, "input", 2},
                          {ErrorKind::not_found, "not_found", 2},
                          {ErrorKind::no_route, "no_route", 3},
                          {ErrorKind::damaged, "damaged", 1},
                          {ErrorKind::io, "io", 1},
                          {ErrorKind::limit, "limit", 1},
                          {ErrorKind::internal, "internal", 1}};
    for (const auto& c : cases) {
        EXPECT_EQ(error_kind_name(c.kind), c.name);
        EXPECT_EQ(exit_status(c.kind), c.status) << c.name;
    }
}

}  // namespace
}  // namespace loamway
