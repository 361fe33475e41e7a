// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/digest.h"

#include <gtest/gtest.h>

#include "../../src/region/hash.h"
#include "loamway/base/error.h"
#include "support/test_files.h"

namespace loamway {
namespace {

TEST(DigestOfFile, IsTheHashOfItsBytes) {
    const test::TempDir dir;
    // Longer than one piece of reading, and not a multiple of it.
    std::string text(3'000'001, 'a');
    text[2'500'000] = 'b';
    const std::string expected = to_hex(hash128(std::as_bytes(std::span(text))));
    EXPECT_EQ(digest_of_file(dir.write("long", text)), expected);
    // XXH3-128 of no bytes with seed 0; the value is from memory.
    EXPECT_EQ(digest_of_file(dir.write("empty", "")), "99aa06d3014798d86001c324468d497f");
}

TEST(DigestOfFile, MissingFile) {
    const test::TempDir dir;
    try {
        static_cast<void>(digest_of_file(dir.file("none")));
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
    }
}

}  // namespace
}  // namespace loamway
