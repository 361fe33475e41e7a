// SPDX-License-Identifier: Apache-2.0
// Files that are cut short, flipped, lengthened, of another version or byte order, or not ours at all.
#include <gtest/gtest.h>

#include <bit>
#include <random>

#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::Bytes;
using test::drawn_region;
using test::read_or_refuse;
using test::region_bytes;
using test::TempDir;

std::string_view text_of(const Bytes& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

/// The line a person reads when opening these bytes, without the file's name; empty when they open.
std::string open_line(const Bytes& bytes) {
    EXPECT_EQ(read_or_refuse(bytes), read_or_refuse(bytes, Checksums::of_everything));
    try {
        static_cast<void>(read_region(bytes, "x.region", Checksums::of_header));
        return {};
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::damaged) << e.what();
        const std::string line = e.what();
        EXPECT_TRUE(line.starts_with("x.region: ")) << line;
        return line.substr(10);
    }
}

TEST(RegionDamage, EveryFlippedByteIsFoundByVerify) {
    const Bytes whole = region_bytes(drawn_region());
    ASSERT_TRUE(read_or_refuse(whole, Checksums::of_everything));
    for (std::size_t i = 0; i < whole.size(); ++i) {
        Bytes flipped = whole;
        for (const unsigned mask : {0x01u, 0x80u, 0xffu, 0x10u}) {
            flipped[i] = whole[i] ^ static_cast<std::byte>(mask);
            EXPECT_FALSE(read_or_refuse(flipped, Checksums::of_everything)) << "byte " << i;
        }
    }
}

/// The same through files; a sample, because writing thousands of them is slow on some disks.
TEST(RegionDamage, DamagedFiles) {
    const TempDir dir;
    const Bytes whole = region_bytes(drawn_region());
    for (std::size_t i = 0; i < whole.size(); i += 89) {
        Bytes flipped = whole;
        flipped[i] ^= std::byte{4};
        const Bytes part(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(i));
        for (const Bytes& bytes : {flipped, part}) {
            const std::string path = dir.write(std::to_string(i) + ".region", text_of(bytes));
            try {
                verify_region(path);
                ADD_FAILURE() << "byte " << i << " is not reported";
            } catch (const Error& e) {
                EXPECT_EQ(e.kind(), ErrorKind::damaged) << e.what();
                EXPECT_TRUE(std::string(e.what()).starts_with(path + ": ")) << e.what();
            }
        }
        EXPECT_THROW(static_cast<void>(Region::open(dir.file(std::to_string(i) + ".region"))), Error) << i;
    }
}

TEST(RegionDamage, EveryFlippedByteIsRefusedOrHarmlessAtOpen) {
    const Bytes whole = region_bytes(drawn_region());
    const RegionHead head = test::head_of(whole);
    int refused = 0;
    int accepted = 0;
    for (std::size_t i = 0; i < whole.size(); ++i)
        for (int bit = 0; bit < 8; ++bit) {
            Bytes flipped = whole;
            flipped[i] ^= static_cast<std::byte>(1 << bit);
            const bool opened = read_or_refuse(flipped);
            (opened ? accepted : refused) += 1;
            const bool in_head_or_meta = i < head.table[1].offset;
            EXPECT_FALSE(opened && in_head_or_meta) << "byte " << i;
            for (const SectionEntry& s : head.table)
                EXPECT_FALSE(opened && i >= s.offset + s.size && i < s.offset + padded_size(s.size))
                    << "padding byte " << i;
        }
    // Values without a rule (OSM ids, a letter of a name) can change; indices and layout cannot.
    EXPECT_GT(accepted, 0);
    EXPECT_GT(refused, 4 * accepted);
}

TEST(RegionDamage, VerifyNamesTheSection) {
    const TempDir dir;
    const Bytes whole = region_bytes(drawn_region());
    for (std::size_t i = 0; i < section_count; ++i) {
        Bytes flipped = whole;
        flipped[test::head_of(whole).table[i].offset] ^= std::byte{1};
        try {
            verify_region(dir.write(std::to_string(i), text_of(flipped)));
            ADD_FAILURE() << section_name(i);
        } catch (const Error& e) {
            EXPECT_EQ(e.message(),
                      "section " + std::string(section_name(i)) + " of the region file is damaged");
        }
    }
}

TEST(RegionDamage, EveryLengthCutShort) {
    const Bytes whole = region_bytes(drawn_region());
    for (std::size_t length = 0; length < whole.size(); ++length) {
        const Bytes part(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(length));
        const std::string line = open_line(part);
        EXPECT_NE(line.find(length == 0 ? "is empty" : "cut short"), std::string::npos)
            << length << ": " << line;
        EXPECT_NE(line.find("(build it again with `loamway region build`)"), std::string::npos) << line;
        EXPECT_FALSE(read_or_refuse(part, Checksums::of_everything)) << length;
    }
}

TEST(RegionDamage, BytesBehindTheEnd) {
    Bytes longer = region_bytes(drawn_region());
    const std::size_t size = longer.size();
    longer.resize(size + 64);
    EXPECT_EQ(open_line(longer), "the region file has " + std::to_string(size + 64) + " bytes instead of " +
                                     std::to_string(size) + " (build it again with `loamway region build`)");
}

TEST(RegionDamage, OtherVersion) {
    Bytes bytes = region_bytes(drawn_region());
    RegionHead head = test::head_of(bytes);
    head.header.version = 7;
    seal_head(head);
    test::set_head(bytes, head);
    const std::string expected =
        "the region file was made by format version 7, this program reads 3 (build it again with `loamway "
        "region build`)";
    EXPECT_EQ(open_line(bytes), expected);
    // A later version may lay out everything behind the version in its own way.
    bytes.resize(64);
    EXPECT_EQ(open_line(bytes), expected);
}

TEST(RegionDamage, OtherByteOrder) {
    Bytes bytes = region_bytes(drawn_region());
    std::reverse(bytes.begin() + 8, bytes.begin() + 12);
    std::reverse(bytes.begin() + 12, bytes.begin() + 16);
    EXPECT_EQ(open_line(bytes),
              "the region file was made on a machine with the other byte order (build it again with `loamway "
              "region build`)");
    bytes[8] = std::byte{9};
    EXPECT_EQ(open_line(bytes),
              "the region file's header is damaged (build it again with `loamway region build`)");
}

TEST(RegionDamage, OtherKindsOfFiles) {
    const std::string expected = "not a Loamway region file (name a file that `loamway region build` made)";
    for (const std::string_view text :
         {"x", "LOAMRGN\r\n", "<?xml version='1.0'?><osm></osm>", "{\"type\":\"FeatureCollection\"}"}) {
        const auto bytes = std::as_bytes(std::span(text));
        EXPECT_EQ(open_line(Bytes(bytes.begin(), bytes.end())), expected) << text;
    }
    EXPECT_EQ(open_line(Bytes(5000)), expected);
}

TEST(RegionDamage, RandomBytes) {
    std::mt19937 random(11);
    std::uniform_int_distribution<int> byte(0, 255);
    std::uniform_int_distribution<std::size_t> length(0, 6000);
    const Bytes whole = region_bytes(drawn_region());
    for (int round = 0; round < 500; ++round) {
        Bytes bytes(length(random));
        for (std::byte& b : bytes)
            b = static_cast<std::byte>(byte(random));
        EXPECT_FALSE(read_or_refuse(bytes));
        // The same behind a good magic, endian tag and version, and behind a whole head.
        for (const std::size_t kept : {std::size_t{16}, head_size}) {
            std::copy_n(whole.begin(), std::min(kept, bytes.size()), bytes.begin());
            EXPECT_FALSE(read_or_refuse(bytes));
        }
        // Laid out and with good checksums, only the structural check is left.
        read_or_refuse(test::relaid(bytes), Checksums::of_everything);
    }
}

TEST(RegionDamage, RandomChangesWithGoodChecksums) {
    std::mt19937 random(12);
    const Bytes whole = region_bytes(drawn_region());
    std::uniform_int_distribution<std::size_t> where(head_size, whole.size() - 1);
    std::uniform_int_distribution<int> byte(0, 255);
    std::uniform_int_distribution<int> many(1, 4);
    int accepted = 0;
    for (int round = 0; round < 20000; ++round) {
        Bytes bytes = whole;
        for (int i = many(random); i > 0; --i)
            bytes[where(random)] = static_cast<std::byte>(byte(random));
        test::reseal(bytes);
        accepted += read_or_refuse(bytes, Checksums::of_everything) ? 1 : 0;
    }
    EXPECT_GT(accepted, 0);
    EXPECT_LT(accepted, 10000);
}

}  // namespace
}  // namespace loamway
