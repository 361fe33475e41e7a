// SPDX-License-Identifier: Apache-2.0
// The corpus of the fuzz target, replayed in every build.
#include <gtest/gtest.h>

#include <filesystem>

#include "support/read_any_pbf.h"
#include "support/test_files.h"

namespace loamway::test {
namespace {

TEST(PbfCorpus, EveryEntryIsReadOrRefused) {
    int files = 0, read = 0;
    for (const auto& entry : std::filesystem::directory_iterator(source_path("tests/fuzz/corpus/pbf"))) {
        SCOPED_TRACE(entry.path().filename());
        EXPECT_NO_THROW(read += read_any_pbf(slurp(entry.path().string())) ? 1 : 0);
        ++files;
    }
    EXPECT_GE(files, 10);
    EXPECT_GE(read, 2);
}

}  // namespace
}  // namespace loamway::test
