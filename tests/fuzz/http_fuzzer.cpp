// SPDX-License-Identifier: Apache-2.0
// Any bytes as a request of HTTP/1.1, taken apart line by line, then as the server goes on: its address, who
// may ask, the answer over the invented county. A client that left stands behind it, so that a plan that
// could be made stops at its first step. Every answer is one, and of a status that such bytes can cause.

#include <unistd.h>
#include <algorithm>
#include <filesystem>
#include <optional>

#include "../../src/web/api.h"
#include "../../src/web/security.h"
#include "../../src/web/wire.h"
#include "loamway/base/names.h"
#include "loamway/desk/correction_book.h"
#include "support/demo_region.h"
#include "target.h"

namespace {

using namespace loamway;

/// The county on a shelf, in a folder that goes with the program.
class Desk {
public:
    Desk() : m_region(m_dir.file("demo.region")) {
        test::write_demo_region(m_region);
        ShelfSetup setup;
        setup.region = m_region;
        setup.places = std::string(LOAMWAY_SOURCE_DIR) + "/regions/demo/places.geojson";
        m_shelf.emplace(setup);
        m_api.emplace(*m_shelf);
    }
    [[nodiscard]] Api& api() { return *m_api; }
    /// Each request finds the county as it was.
    void forget_corrections() const { std::filesystem::remove(corrections_beside(m_region)); }

private:
    test::TempDir m_dir;
    std::string m_region;
    std::optional<Shelf> m_shelf;
    std::optional<Api> m_api;
};

class Taken : public Exchange {
public:
    void reply(HttpReply reply) override {
        ++answers;
        got = std::move(reply);
    }
    void begin(std::string_view) override { ++answers; }
    void write(std::string_view) override {}
    void end() override { ended = true; }
    [[nodiscard]] bool gone() const override { return true; }

    int answers = 0;
    bool ended = false;
    std::optional<HttpReply> got;
};

std::string_view take_line(std::string_view& rest) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    std::string_view line = rest.substr(0, end);
    rest.remove_prefix(std::min(end + 1, rest.size()));
    if (line.ends_with('\r'))
        line.remove_suffix(1);
    return line;
}

std::optional<HttpRequest> request_of(std::string_view rest) {
    HttpRequest r;
    const std::string_view first = take_line(rest);
    const std::size_t method = std::min(first.find(' '), first.size());
    r.method = first.substr(0, method);
    const std::string_view after = first.substr(std::min(method + 1, first.size()));
    if (const auto refused = read_target(after.substr(0, after.find(' ')), r)) {
        fuzz::promise(refused->status == 400, "an address is refused another way");
        return std::nullopt;
    }
    for (std::string_view line = take_line(rest); !line.empty(); line = take_line(rest)) {
        const std::size_t colon = std::min(line.find(':'), line.size());
        std::string_view value = line.substr(std::min(colon + 1, line.size()));
        while (value.starts_with(' '))
            value.remove_prefix(1);
        r.headers.emplace_back(ascii_lower(line.substr(0, colon)), std::string(value));
    }
    r.body = rest;
    return r;
}

/// Large pictures are drawn for seconds, which is what they cost.
bool is_costly(const HttpRequest& r) {
    return r.path == "/api/1/map.png" &&
           (r.parameter("width").size() != 2 || r.parameter("height").size() != 2);
}

bool is_expected(int status) {
    constexpr int all[] = {200, 201, 204, 400, 404, 405, 413, 422};
    return std::find(std::begin(all), std::end(all), status) != std::end(all);
}

void check_answer(const Taken& taken) {
    fuzz::promise(taken.answers == 1, "not one answer");
    if (!taken.got) {
        fuzz::promise(taken.ended, "a stream without an end");
        return;
    }
    const HttpReply& reply = *taken.got;
    const bool stopped = reply.status == 503 && reply.body.find("\"stopped\"") != std::string::npos;
    if (!stopped && !is_expected(reply.status))
        throw std::logic_error("an unexpected answer: " + reply.body);
    const std::string head = reply_head(reply, reply.body.size(), {});
    fuzz::promise(head.find("\r\nContent-Security-Policy: default-src 'none'") != std::string::npos,
                  "an answer without its guards");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static Desk desk;
    const Guard guard{.listen = "127.0.0.1", .token = "hay-and-straw"};
    const auto r = request_of(fuzz::text_of(data, size));
    if (!r)
        return 0;
    if (const auto refused = refusal_of(*r, guard))
        fuzz::promise(refused->status == 400 || refused->status == 403 || refused->status == 415,
                      "a request is refused another way");
    static_cast<void>(token_state(*r, guard));
    // Answered all the same: what refuses here must not be the only thing that keeps the rest whole.
    if (is_costly(*r))
        return 0;
    Taken taken;
    desk.api().answer(*r, taken);
    check_answer(taken);
    if (r->method != "GET")
        desk.forget_corrections();
    return 0;
}
