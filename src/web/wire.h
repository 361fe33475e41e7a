// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_WIRE_H
#define LOAMWAY_SRC_WEB_WIRE_H

// Requests and replies between their bytes on the wire and plain data. Pure functions.

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "http.h"

namespace loamway {

/// Fills path and query from a request's target; a 400 when it is no plain path (other forms, wrong escapes,
/// control characters, "." and ".." as pieces, no UTF-8).
[[nodiscard]] std::optional<HttpReply> read_target(std::string_view target, HttpRequest& request);

/// How long a body is known to be; none for a stream.
using BodyLength = std::optional<std::size_t>;

struct WireManner {
    bool keep_alive = true;
    bool chunked = false;  // for a stream; without it the end of the connection ends the body
};

/// Status line and headers with those every reply carries, up to the empty line. Control characters in values
/// are left out, so that no value can add a header.
[[nodiscard]] std::string reply_head(const HttpReply& reply, BodyLength length, WireManner manner);

/// One piece of a chunked body; empty pieces would end it and give nothing.
[[nodiscard]] std::string chunk(std::string_view piece);
constexpr std::string_view last_chunk = "0\r\n\r\n";

struct AccessEntry {
    std::chrono::system_clock::time_point at;
    std::string_view client, method, path;
    int status = 0;
    std::size_t bytes = 0;
    double milliseconds = 0;
};
/// "2026-05-04T06:00:00Z 127.0.0.1 GET /health 200 12 0.3"; the path without what a terminal would act on.
[[nodiscard]] std::string access_line(const AccessEntry& entry);

/// The reply with a page's file, or 304 when the client has it.
struct PageFile;
[[nodiscard]] HttpReply page_reply(const PageFile& file, const HttpRequest& request);

}  // namespace loamway

#endif
