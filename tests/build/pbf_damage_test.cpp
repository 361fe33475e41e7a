// SPDX-License-Identifier: Apache-2.0
// PBF files that are wrong in one place: each is refused in words, and none takes memory it does not need.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <libdeflate.h>

#include "loamway/base/error.h"
#include "made_pbf.h"
#include "support/read_any_pbf.h"
#include "support/test_files.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

using testing::HasSubstr;

RawMap read_bytes(const std::string& bytes) {
    const TempDir dir;
    return read_extract(dir.write("m.osm.pbf", bytes), {});
}

void expect_refused(const std::string& bytes, ErrorKind kind, const std::string& words) {
    const TempDir dir;
    const std::string path = dir.write("m.osm.pbf", bytes);
    try {
        (void)read_extract(path, {});
        ADD_FAILURE() << "read: " << words;
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), kind) << e.what();
        EXPECT_THAT(e.what(), HasSubstr(words));
        EXPECT_EQ(e.place().file, path);
        EXPECT_FALSE(e.what_to_do().empty());
    }
}

/// The made map with one thing changed.
template <class Change>
std::string changed(Change change) {
    MadeBlock block;
    change(block);
    return pbf_of({block.bytes()});
}

std::string deflated(const std::string& data) {
    libdeflate_compressor* const compressor = libdeflate_alloc_compressor(6);
    std::string out(libdeflate_zlib_compress_bound(compressor, data.size()), '\0');
    out.resize(libdeflate_zlib_compress(compressor, data.data(), data.size(), out.data(), out.size()));
    libdeflate_free_compressor(compressor);
    return out;
}

TEST(PbfDamage, TheMadeMapIsReadWhenNothingIsWrong) {
    const RawMap map = read_bytes(changed([](MadeBlock& b) { b.with_relation = true; }));
    ASSERT_EQ(map.roads.size(), 1u);
    EXPECT_EQ(map.node_points[1], (GeoPoint{535'001'000, 132'001'000}));
    EXPECT_EQ(map.restrictions.size(), 1u);
    const std::string data = MadeBlock().bytes();
    const auto size = static_cast<std::int32_t>(data.size());
    EXPECT_EQ(read_bytes(header_block({}) + framed_block("OSMData", packed_blob(3, size, deflated(data))))
                  .roads.size(),
              1u);
}

TEST(PbfDamage, KindsThatAreNotRead) {
    const std::string header = header_block({"OsmSchema-V0.6"});
    const std::pair<std::uint32_t, const char*> kinds[] = {
        {4, "lzma"}, {5, "bzip2"}, {6, "lz4"}, {7, "zstd"}};
    for (const auto& [field, name] : kinds)
        expect_refused(header + framed_block("OSMData", packed_blob(field, 9, "something")), ErrorKind::input,
                       name);
    expect_refused(header_block({"OsmSchema-V0.6", "Roundabouts"}), ErrorKind::input, "\"Roundabouts\"");
    expect_refused(header_block({"HistoricalInformation"}), ErrorKind::input, "history");
}

TEST(PbfDamage, NumbersThatPointNowhere) {
    const auto damaged = [](const char* words, auto change) {
        expect_refused(changed(change), ErrorKind::damaged, words);
    };
    damaged("names a text", [](MadeBlock& b) { b.way_keys = plain_list({5}); });
    damaged("names a text", [](MadeBlock& b) { b.way_values = plain_list({UINT64_MAX}); });
    damaged("names a text", [](MadeBlock& b) { b.way_keys = plain_list({(1ull << 32) + 1}); });
    damaged("names a text", [](MadeBlock& b) { b.node_tags = plain_list({1, 99, 0}); });
    damaged("names a text", [](MadeBlock& b) {
        b.with_relation = true;
        b.roles = plain_list({7});
    });
    damaged("unknown kind", [](MadeBlock& b) {
        b.with_relation = true;
        b.types = plain_list({3});
    });
}

TEST(PbfDamage, ListsThatDoNotGoTogether) {
    const auto damaged = [](const char* words, auto change) {
        expect_refused(changed(change), ErrorKind::damaged, words);
    };
    damaged("no position", [](MadeBlock& b) { b.node_lats = signed_list({535'000'000}); });
    damaged("no position", [](MadeBlock& b) { b.node_lons.clear(); });
    damaged("no value", [](MadeBlock& b) { b.node_tags = plain_list({1}); });
    damaged("not equally many", [](MadeBlock& b) { b.way_values.clear(); });
    damaged("no role or no kind", [](MadeBlock& b) {
        b.with_relation = true;
        b.types.clear();
    });
    damaged("two tables", [](MadeBlock& b) { b.second_text_table = true; });
    damaged("scale", [](MadeBlock& b) { b.granularity = 0; });
    damaged("too long", [](MadeBlock& b) { b.texts.push_back(std::string(1025, 'x')); });
    damaged("", [](MadeBlock& b) { b.way_refs = "\x80"; });
    damaged("", [](MadeBlock& b) { b.way_refs = std::string(11, '\xff'); });
}

TEST(PbfDamage, PositionsOffTheGlobeAreNoPositions) {
    for (const std::int64_t lat : {std::int64_t{900'000'001}, INT64_MAX, INT64_MIN, std::int64_t{1} << 33}) {
        const RawMap map = read_bytes(changed([&](MadeBlock& b) { b.node_lats = signed_list({lat, 0}); }));
        EXPECT_EQ(map.node_found, (std::vector<bool>{false, false})) << lat;
    }
}

TEST(PbfDamage, FramesThatAreNone) {
    const std::string header = header_block({});
    const std::string data = framed_block("OSMData", raw_blob(MadeBlock().bytes()));
    expect_refused(header + std::string("\0\1\0\1", 4) + std::string(70'000, 'x'), ErrorKind::damaged,
                   "no length a header can have");
    expect_refused(header + std::string(4, '\0') + data, ErrorKind::damaged, "no length a header can have");
    expect_refused(data, ErrorKind::input, "not of the kind");
    expect_refused(header + header + data, ErrorKind::damaged, "not of the kind");
    expect_refused(header + framed_block("OSMData", "") + data, ErrorKind::damaged, "no length a block can");
    expect_refused(header + framed_block("OSMData", std::string((32u << 20) + 1, '\0')), ErrorKind::damaged,
                   "no length a block can");
    expect_refused(header + framed_block("OSMData", packed_blob(3, 0, "x")), ErrorKind::damaged, "how long");
    expect_refused(header + framed_block("OSMData", packed_blob(3, (32 << 20) + 1, "x")), ErrorKind::damaged,
                   "how long");
    expect_refused(header + framed_block("OSMData", packed_blob(3, -1, "x")), ErrorKind::damaged, "how long");
    expect_refused(header + framed_block("OSMData", packed_blob(1, 0, "") + raw_blob("x")),
                   ErrorKind::damaged, "twice");
    const std::string inside = MadeBlock().bytes();
    for (const int wrong : {-1, 1}) {
        const auto size = static_cast<std::int32_t>(inside.size()) + wrong;
        expect_refused(header + framed_block("OSMData", packed_blob(3, size, deflated(inside))),
                       ErrorKind::damaged, "does not unpack");
    }
}

/// A thousandfold packing of nothing: small blocks that would unpack to gigabytes.
TEST(PbfDamage, ABombIsRefused) {
    constexpr std::size_t largest = 32u << 20;
    const std::string block =
        framed_block("OSMData", packed_blob(3, largest, deflated(std::string(largest, '\0'))));
    // A field number of 0 is damage already; one block of a skipped field is not.
    std::string skipped = "\x5a\xfb\xff\xff\x0f";  // field 11, so many bytes
    skipped += std::string(largest - skipped.size(), '\0');
    const std::string bomb = framed_block("OSMData", packed_blob(3, largest, deflated(skipped)));
    EXPECT_LT(bomb.size(), largest / 900);
    std::string file = pbf_of({MadeBlock().bytes()});
    for (int i = 0; i < 40; ++i)
        file += bomb;
    expect_refused(file, ErrorKind::limit, "far more");
    expect_refused(header_block({}) + block, ErrorKind::damaged, "");
}

TEST(PbfDamage, CutOffAnywhereIsRefused) {
    const std::string whole = changed([](MadeBlock& b) { b.with_relation = true; });
    for (std::size_t size = 1; size < whole.size(); ++size) {
        if (size == header_block({"OsmSchema-V0.6", "DenseNodes"}).size())
            continue;  // a whole file without data
        const TempDir dir;
        try {
            (void)read_extract(dir.write("m.osm.pbf", whole.substr(0, size)), {});
            ADD_FAILURE() << size;
        } catch (const Error& e) {
            // Until the first block says what it is, the file may be of any form.
            const bool is_known =
                size >= header_block({"OsmSchema-V0.6", "DenseNodes"}).find("OSMHeader") + 11;
            EXPECT_EQ(e.kind(), is_known ? ErrorKind::damaged : ErrorKind::input) << size << e.what();
        }
    }
}

TEST(PbfDamage, AnyChangedByteIsReadOrRefused) {
    const std::string whole = changed([](MadeBlock& b) {
        b.with_relation = true;
        b.node_tags = plain_list({1, 2, 0, 0});
    });
    int read = 0;
    for (std::size_t at = 0; at < whole.size(); ++at)
        for (const int change : {0x01, 0x08, 0x80, 0xff}) {
            std::string bytes = whole;
            bytes[at] = static_cast<char>(bytes[at] ^ change);
            EXPECT_NO_THROW(read += read_any_pbf(bytes) ? 1 : 0) << at << " " << change;
        }
    EXPECT_GT(read, 0);
}

}  // namespace
}  // namespace loamway::test
