// SPDX-License-Identifier: Apache-2.0
// The pieces of a request that a stranger writes: its address, hosts and origins, keys, and values on their
// way into a reply's head. Fast, for many tries; http_fuzzer.cpp takes whole requests.

#include "../../src/web/security.h"
#include "../../src/web/wire.h"
#include "loamway/base/names.h"
#include "loamway/base/percent.h"
#include "target.h"

namespace {

using namespace loamway;

bool is_control(char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
}

void address(std::string_view text) {
    HttpRequest r;
    if (const auto refused = read_target(text, r)) {
        fuzz::promise(refused->status == 400, "another refusal");
        return;
    }
    fuzz::promise(r.path.starts_with('/') && is_utf8(r.path), "a path that is none");
    for (const char c : r.path)
        fuzz::promise(!is_control(c) && c != '\\', "a path with a control character");
    fuzz::promise(
        (r.path + "/").find("/../") == std::string::npos && (r.path + "/").find("/./") == std::string::npos,
        "a path that climbs");
}

void guards(std::string_view text) {
    const Guard desk{.listen = "127.0.0.1", .token = {}};
    const Guard network{.listen = "0.0.0.0", .token = "hay-and-straw"};
    const std::string_view name = text.substr(0, text.find_last_of(':'));
    if (host_allowed(text, desk) || host_allowed(text, network)) {
        for (const char c : text)
            fuzz::promise(!is_control(c) && c != '/' && c != '@' && c != ' ', "a host that is none");
        fuzz::promise(ascii_lower(name) == "localhost" || ascii_lower(text) == "localhost" ||
                          name.find_first_not_of("0123456789abcdefABCDEF.:[]") == std::string_view::npos,
                      "a host by name");
    }
    if (!text.empty() && origin_allowed(text, "localhost:8421"))
        fuzz::promise(ascii_lower(text) == "http://localhost:8421", "a stranger's page");
    static_cast<void>(is_json_type(text));
    fuzz::promise(same_secret(text, "hay-and-straw") == (text == "hay-and-straw"), "a wrong key is right");
}

void head(std::string_view text) {
    HttpReply reply;
    reply.headers.emplace_back("X-Any", text);
    reply.content_type = text;
    const std::string out = reply_head(reply, 0, {});
    HttpReply empty;
    empty.headers.emplace_back("X-Any", "");
    const std::string plain = reply_head(empty, 0, {});
    fuzz::promise(
        std::count(out.begin(), out.end(), '\n') == std::count(plain.begin(), plain.end(), '\n') &&
            std::count(out.begin(), out.end(), '\r') == std::count(plain.begin(), plain.end(), '\r'),
        "a value adds a header");
    AccessEntry entry{};
    entry.client = "::1";
    entry.method = entry.path = text;
    for (const char c : access_line(entry))
        fuzz::promise(!is_control(c), "a log line with a control character");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0)
        return 0;
    const std::string_view text = fuzz::text_of(data + 1, size - 1);
    switch (data[0] % 3) {
        case 0:
            address(text);
            break;
        case 1:
            guards(text);
            break;
        default:
            head(text);
    }
    return 0;
}
