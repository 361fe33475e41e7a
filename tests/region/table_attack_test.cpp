// SPDX-License-Identifier: Apache-2.0
// Files with right checksums and a table of sections that lies: places, sizes, numbers.
#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"

namespace loamway {
namespace {

constexpr std::uint64_t huge = std::numeric_limits<std::uint64_t>::max();

/// Changes the head of a good file, makes the head's checksum right again and reads it.
std::string line_after(const std::function<void(RegionHead&)>& change, std::size_t extra = 0) {
    test::Bytes bytes = test::region_bytes(test::drawn_region());
    bytes.resize(bytes.size() + extra);
    RegionHead head = test::head_of(bytes);
    head.header.file_size = bytes.size();
    change(head);
    seal_head(head);
    test::set_head(bytes, head);
    EXPECT_FALSE(test::read_or_refuse(bytes));
    try {
        static_cast<void>(read_region(bytes, "x.region", Checksums::of_everything));
        return {};
    } catch (const Error& e) {
        return e.message();
    }
}

constexpr std::size_t arcs = 4;  // place of the section in the table
constexpr std::size_t last = section_count - 1;

TEST(RegionTable, UnchangedHeadIsRead) {
    test::Bytes bytes = test::region_bytes(test::drawn_region());
    test::reseal(bytes);
    EXPECT_TRUE(test::read_or_refuse(bytes, Checksums::of_everything));
    EXPECT_EQ(bytes, test::region_bytes(test::drawn_region()));
    EXPECT_EQ(test::relaid(bytes), bytes);
}

TEST(RegionTable, SectionsThatOverlap) {
    EXPECT_NE(line_after([](RegionHead& h) {
                  h.table[arcs].offset = h.table[arcs - 1].offset;
              }).find("arcs starts at byte"),
              std::string::npos);
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].offset = 0; }).find("arcs starts at byte 0"),
              std::string::npos);
    // Longer than its place: the next section would start inside it.
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].size += 64; }).find("edges starts at byte"),
              std::string::npos);
}

TEST(RegionTable, PlacesBeyondTheFile) {
    for (const std::uint64_t offset : {std::uint64_t{1} << 32, std::uint64_t{1} << 63, huge - 63, huge})
        EXPECT_NE(
            line_after([=](RegionHead& h) { h.table[arcs].offset = offset; }).find("arcs starts at byte"),
            std::string::npos);
}

TEST(RegionTable, SizesBeyondTheFile) {
    for (const std::uint64_t size :
         {huge, huge - 63, huge - 15, std::uint64_t{1} << 63, std::uint64_t{1} << 40}) {
        EXPECT_NE(line_after([=](RegionHead& h) { h.table[arcs].size = size; }).find("more than the file"),
                  std::string::npos)
            << size;
        EXPECT_NE(line_after([=](RegionHead& h) { h.table[last].size = size; }).find("more than the file"),
                  std::string::npos)
            << size;
    }
    // The last section's bytes would fit, the zeros behind them would not.
    EXPECT_NE(line_after([](RegionHead& h) {
                  h.table[last].size = padded_size(h.table[last].size) + 4;
              }).find("more than the file"),
              std::string::npos);
}

TEST(RegionTable, SizesThatAreNoWholeElements) {
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].size -= 1; }).find("no multiple of 16"),
              std::string::npos);
}

TEST(RegionTable, SectionsOutOfOrderOrOfAnotherKind) {
    EXPECT_NE(
        line_after([](RegionHead& h) { std::swap(h.table[1], h.table[2]); }).find("node_lat is not where"),
        std::string::npos);
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].id = 99; }).find("arcs is not where"),
              std::string::npos);
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].element_size = 0; }).find("arcs is not where"),
              std::string::npos);
    EXPECT_NE(line_after([](RegionHead& h) { h.table[arcs].element_size = 8; }).find("arcs is not where"),
              std::string::npos);
}

TEST(RegionTable, NumberOfSectionsAndReservedFields) {
    const std::string damaged = "the region file's header is damaged";
    for (const std::uint32_t count : {0u, 1u, 23u, 25u, 0xffffffffu})
        EXPECT_EQ(line_after([=](RegionHead& h) { h.header.section_count = count; }), damaged);
    EXPECT_EQ(line_after([](RegionHead& h) { h.header.reserved = 1; }), damaged);
    EXPECT_EQ(line_after([](RegionHead& h) { h.header.reserved_too = 1; }), damaged);
}

TEST(RegionTable, SizeOfTheFile) {
    EXPECT_NE(line_after([](RegionHead& h) { h.header.file_size = huge; }).find("cut short"),
              std::string::npos);
    EXPECT_NE(line_after([](RegionHead& h) { h.header.file_size = 0; }).find("instead of 0"),
              std::string::npos);
    EXPECT_NE(line_after([](RegionHead&) {}, 64).find("sections end at byte"), std::string::npos);
    EXPECT_NE(line_after([](RegionHead&) {}, 1).find("sections end at byte"), std::string::npos);
}

TEST(RegionTable, WrongDigestWithRightChecksum) {
    test::Bytes bytes = test::region_bytes(test::drawn_region());
    RegionHead head = test::head_of(bytes);
    head.header.digest[0] ^= 1;
    head.header.checksum = 0;
    test::set_head(bytes, head);
    head.header.checksum = hash64(std::span(bytes).first(head_size));
    test::set_head(bytes, head);
    EXPECT_FALSE(test::read_or_refuse(bytes));
}

TEST(RegionTable, MetaThatIsNoMeta) {
    const auto line = [](const std::string& text) {
        test::Bytes bytes = test::region_bytes(test::drawn_region());
        const RegionHead head = test::head_of(bytes);
        const SectionEntry& meta = head.table[0];
        std::string padded = text;
        padded.resize(meta.size, ' ');
        std::memcpy(bytes.data() + meta.offset, padded.data(), padded.size());
        test::reseal(bytes);
        static_cast<void>(test::read_or_refuse(bytes));
        try {
            static_cast<void>(read_region(bytes, "x.region", Checksums::of_header));
            return std::string();
        } catch (const Error& e) {
            return e.message();
        }
    };
    for (const char* text : {"", "{", "[]", "null", "{}", "{\"name\":1}", "[[[[[[[[[[[[[[[[[[[[", "\xff\xfe"})
        EXPECT_TRUE(line(text).starts_with("section meta of the region file is damaged: ")) << line(text);
    const std::string good = meta_to_json(test::drawn_region().meta);
    EXPECT_EQ(line(good), "");
}

}  // namespace
}  // namespace loamway
