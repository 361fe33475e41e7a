// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_PROFILE_DOCUMENTS_H
#define LOAMWAY_TESTS_PROFILE_DOCUMENTS_H

// Documents as text for the tests of this part.

#include <gtest/gtest.h>

#include <optional>
#include <string>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway::test {

/// `text` with the first `from` replaced; the test is wrong when `from` is not there.
[[nodiscard]] inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos) {
        ADD_FAILURE() << "nothing to replace: " << from;
        return text;
    }
    return text.replace(at, from.size(), to);
}

/// Runs `read`, which must throw an input Error placed at doc.toml:LINE with `words` in its line.
template <class Read>
void expect_input_error(Read read, int line, std::string_view words) {
    try {
        read();
        ADD_FAILURE() << "no error; expected one with: " << words;
    } catch (const Error& e) {
        const std::string what = e.what();
        EXPECT_EQ(e.kind(), ErrorKind::input) << what;
        EXPECT_EQ(e.place().file, "doc.toml") << what;
        EXPECT_EQ(e.place().line, std::optional<int>(line)) << what;
        EXPECT_NE(what.find(words), std::string::npos) << what;
    }
}

}  // namespace loamway::test

#endif
