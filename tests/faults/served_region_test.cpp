// SPDX-License-Identifier: Apache-2.0
// `loamway serve` while another region is copied over its file, as `cp` does it: in place. Nobody gets an
// answer out of changed roads, and the server does not die of a signal.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <thread>

#include "program.h"
#include "region_in_memory.h"
#include "server/served.h"

namespace loamway {
namespace {

using server_fuzz::Served;
using server_fuzz::Wire;

constexpr const char* key = "0123456789abcdefghijklmnopqrstuv";

std::string ask(std::uint16_t port, const std::string& method, const std::string& path,
                const std::string& body = {}) {
    const Wire wire(port, 1);
    wire.send(method + " /api/1/" + path + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port) +
              "\r\nAuthorization: Bearer " + key +
              "\r\nConnection: close\r\nContent-Type: application/json\r\n" +
              "Content-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
    return wire.read_all();
}
std::string body_of(const std::string& reply) {
    const auto at = reply.find("\r\n\r\n");
    return at == std::string::npos ? std::string() : reply.substr(at + 4);
}
bool is_fine(const std::string& reply) {
    return reply.starts_with("HTTP/1.1 200");
}
bool says_so(const std::string& reply) {
    return reply.starts_with("HTTP/1.1 500") &&
           reply.find("was cut or changed while it was in use") != std::string::npos;
}
const std::string move =
    R"({"from":"47.0856393,-35.6471584","to":"47.2446997,-35.3997285","machine":"medium","modes":["drive"],)"
    R"("trials":20,"depart":"2026-07-14T09:00"})";
const std::string picture = "map.png?bbox=-35.7,47.0,-35.3,47.3";

void copy_over(const std::string& from, const std::string& to) {
    EXPECT_EQ(std::system(("cp '" + from + "' '" + to + "'").c_str()), 0);
}

TEST(ServedRegion, ASmallOneIsInMemoryWhole) {
    const test::TempDir dir;
    std::filesystem::copy_file(test::demo_files().file("demo.region"), dir.file("r.region"));
    Served server(LOAMWAY_PROGRAM, dir.file("r.region"), key);
    const std::string before = ask(server.port(), "GET", picture);
    ASSERT_TRUE(is_fine(before)) << before.substr(0, 500);
    copy_over(dir.write("other", "no region at all"), dir.file("r.region"));
    EXPECT_EQ(body_of(ask(server.port(), "GET", picture)), body_of(before));
    EXPECT_TRUE(is_fine(ask(server.port(), "POST", "plan", move)));
    EXPECT_EQ(server.stop(), 0);
}

// It is mapped: what is read after the copy is what was copied, or nothing at all.
TEST(ServedRegion, ALargeOneIsSeenToHaveChanged) {
    const test::TempDir dir;
    const std::string region = dir.file("r.region");
    {
        const std::string bytes = test::large_region();
        std::ofstream(region, std::ios::binary) << bytes;
    }
    Served server(LOAMWAY_PROGRAM, region, key);
    const std::string whole = body_of(ask(server.port(), "GET", picture));
    ASSERT_FALSE(whole.empty());
    ASSERT_TRUE(is_fine(ask(server.port(), "POST", "plan", move)));
    std::atomic<bool> over = false;
    std::atomic<int> before = 0, after = 0, others = 0;
    std::string odd;
    std::vector<std::thread> askers;
    for (int i = 0; i < 3; ++i)
        askers.emplace_back([&, i] {
            while (!over) {
                const bool drawn = i != 0;
                std::string reply;
                try {
                    reply =
                        drawn ? ask(server.port(), "GET", picture) : ask(server.port(), "POST", "plan", move);
                } catch (const std::exception&) {
                    break;  // nobody listens any more
                }
                if (is_fine(reply) && (!drawn || body_of(reply) == whole))
                    ++before;
                else if (says_so(reply) || reply.empty())
                    ++after;
                else if (others++ == 0)
                    odd = reply.substr(0, 1000);
            }
        });
    while (before < 6)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    copy_over(test::demo_files().file("demo.region"), region);
    for (int i = 0; i < 500 && server.runs() && after < 6; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    over = true;
    for (std::thread& t : askers)
        t.join();
    EXPECT_EQ(others, 0) << odd;
    EXPECT_GT(after, 0);
    if (server.runs()) {
        EXPECT_TRUE(says_so(ask(server.port(), "GET", picture)));
    }
    // It says so to each who asks, or has ended with a line: whichever it saw first.
    const int status = server.stop();
    EXPECT_TRUE(status == 0 || status == 1) << status;
    std::cout << before << " answers before, " << after << " without one after\n";
}

}  // namespace
}  // namespace loamway
