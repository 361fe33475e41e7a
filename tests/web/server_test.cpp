// SPDX-License-Identifier: Apache-2.0
// The server as a command uses it: what it refuses before it opens anything, its address, and one request
// through to the answers.
#include "loamway/web/server.h"

#include <gtest/gtest.h>

#include <atomic>
#include <charconv>
#include <thread>

#include "loamway/base/error.h"
#include "raw_client.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

class ServerTest : public ::testing::Test {
protected:
    ServerTest() {
        TinyMap map;
        const auto a = map.node(53.50, 13.20), b = map.node(53.51, 13.20);
        map.edge(a, b, {{"highway", "track"}}, SurfaceOdds{0, 200, 0}, true, "Mill Lane");
        write_region(map.build(), m_region);
    }
    [[nodiscard]] ServeSetup setup() const {
        ServeSetup s;
        s.shelf.region = m_region;
        s.port = 0;
        return s;
    }
    static std::string refusal(const ServeSetup& setup) {
        try {
            const Server server(setup, {});
        } catch (const Error& e) {
            return e.message();
        }
        return "nothing refused";
    }

    test::TempDir m_dir;
    std::string m_region = m_dir.file("tiny.region");
};

std::uint16_t port_of(const std::string& address) {
    const std::size_t colon = address.rfind(':');
    std::uint16_t port = 0;
    std::from_chars(address.data() + colon + 1, address.data() + address.size(), port);
    return port;
}

TEST_F(ServerTest, RefusesWordsBeforeItOpensARegion) {
    ServeSetup s = setup();
    s.shelf.region = "not there";
    s.listen = "farm.example";
    EXPECT_EQ(refusal(s), "--listen \"farm.example\" is no IP address");
    s.listen = "127.0.0.1";
    s.token = "short";
    EXPECT_EQ(refusal(s), "--token has the wrong form");
}

TEST_F(ServerTest, AddressOnThisMachineHasNoKey) {
    const Server server(setup(), {});
    EXPECT_EQ(server.address(), "http://127.0.0.1:" + std::to_string(port_of(server.address())) + "/");
    EXPECT_FALSE(server.is_for_others());
}

TEST_F(ServerTest, OthersNeedAKey) {
    ServeSetup s = setup();
    s.listen = "0.0.0.0";
    const Server made(s, {});
    EXPECT_TRUE(made.is_for_others());
    const std::size_t at = made.address().find("/#key=");
    ASSERT_NE(at, std::string::npos) << made.address();
    EXPECT_EQ(made.address().size() - at, 6 + 26u);
    EXPECT_EQ(made.address().find("0.0.0.0"), std::string::npos) << "nobody can open that";
    s.token = "hay-and-straw";
    EXPECT_TRUE(Server(s, {}).address().ends_with("/#key=hay-and-straw"));
}

TEST_F(ServerTest, AnswersUntilItIsStopped) {
    std::atomic<int> lines = 0;
    Server server(setup(), [&](std::string_view) { ++lines; });
    std::thread running([&] { server.run(); });
    RawClient client(port_of(server.address()));
    client.send("GET /api/1/region HTTP/1.1\r\nHost: localhost\r\n\r\n");
    const std::string reply = client.read_reply();
    EXPECT_EQ(status_of(reply), 200);
    EXPECT_NE(reply.find("\"name\":"), std::string::npos);
    server.stop();
    running.join();
    EXPECT_EQ(lines, 1);
}

}  // namespace
}  // namespace loamway
