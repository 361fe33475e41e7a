// SPDX-License-Identifier: Apache-2.0
// Moves of strangers, as they come over the network or a queue: names instead of files.
#include "loamway/desk/shelf.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;

std::string message_of(const Shelf& shelf, const std::string& json) {
    try {
        (void)shelf.read(parse_json(json, "request"), "request");
    } catch (const Error& e) {
        return e.what();
    }
    return "no error";
}

class ShelfTest : public ::testing::Test {
protected:
    ShelfTest() {
        TinyMap map;
        map.edge(map.node(53.50, 13.20), map.node(53.51, 13.20));
        write_region(map.build(), m_dir.file("a.region"));
    }
    [[nodiscard]] Shelf shelf() const {
        ShelfSetup setup;
        setup.region = m_dir.file("a.region");
        return Shelf(setup);
    }
    test::TempDir m_dir;
};

TEST_F(ShelfTest, GenericProfilesAreThoseToCopy) {
    for (const auto& [name, text] : generic_profiles())
        EXPECT_EQ(text, read_text_file(std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/" +
                                       std::string(name) + ".toml"));
    EXPECT_GE(generic_profiles().size(), 3U);
}

TEST_F(ShelfTest, NamesBecomeProfiles) {
    const Shelf s = shelf();
    const MoveRequest r =
        s.read(parse_json(R"({"from":"53.5,13.2","to":"53.51,13.2","machine":"medium","trailer":"low-bed"})",
                          "request"),
               "request");
    EXPECT_TRUE(r.machine_table.has_value());
    EXPECT_FALSE(r.machine.has_value());
    EXPECT_TRUE(r.low_bed_table.has_value());
    const Prepared p = s.prepare(r, parse_time("2026-05-01T08:00:00Z", TimeZone()));
    EXPECT_EQ(p.inputs.machine.name, "medium two-belt machine");
    EXPECT_EQ(p.region.get(), &s.region());
}

// A request that could name files would let strangers look around on the disk by the wording of the errors.
TEST_F(ShelfTest, FilesCannotBeNamed) {
    const Shelf s = shelf();
    for (const char* key : {"region", "places", "corrections", "ledger"})
        EXPECT_THAT(message_of(s, std::string(R"({"machine":"medium",")") + key + R"(":"/etc/passwd"})"),
                    HasSubstr(std::string(key) + " cannot be named here"));
    EXPECT_THAT(message_of(s, R"({"machine":"medium","rates":"/etc/passwd"})"),
                HasSubstr("write them as a table"));
    EXPECT_THAT(message_of(s, R"({"conditions":{"air_csv":"/etc/passwd"}})"),
                HasSubstr("air_csv cannot be named"));
    EXPECT_THAT(message_of(s, R"({"machine":"/etc/passwd"})"),
                HasSubstr("there is no machine \"/etc/passwd\""));
    EXPECT_THAT(message_of(s, R"({"trailer":"../x"})"), HasSubstr("there is no trailer"));
    EXPECT_THAT(message_of(s, R"({"machine":"low-bed"})"), HasSubstr("there is no machine"));
    EXPECT_THAT(message_of(s, R"({"machine":"mediun"})"), HasSubstr("did you mean medium?"));
    EXPECT_THAT(message_of(s, R"([1])"), HasSubstr("a move is a table"));
}

}  // namespace
}  // namespace loamway
