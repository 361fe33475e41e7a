// SPDX-License-Identifier: Apache-2.0
// The corpus of the fuzz target, replayed in every build.
#include <gtest/gtest.h>

#include <filesystem>

#include "drawn_region.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway {
namespace {

TEST(RegionFuzzCorpus, KeepsThePromise) {
    int read = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(test::source_path("tests/fuzz/corpus/region"))) {
        const std::string text = test::slurp(entry.path().string());
        const auto bytes = std::as_bytes(std::span(text));
        EXPECT_NO_THROW(test::read_any_bytes(test::Bytes(bytes.begin(), bytes.end()))) << entry.path();
        ++read;
    }
    EXPECT_GE(read, 10);
}

TEST(RegionFuzzCorpus, HoldsWholeFilesToStartFrom) {
    const std::string text = test::slurp(test::source_path("tests/fuzz/corpus/region/roads"));
    const auto bytes = std::as_bytes(std::span(text));
    const test::Bytes whole(bytes.begin(), bytes.end());
    EXPECT_TRUE(test::read_or_refuse(whole, Checksums::of_everything));
    EXPECT_EQ(test::relaid(whole), whole);
}

}  // namespace
}  // namespace loamway
