// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_HTTP_H
#define LOAMWAY_SRC_WEB_HTTP_H

// What the server and those who answer say to each other, free of any library: a request that was read whole
// and checked, and an exchange that takes the answer. Plain data; an Exchange belongs to the one thread that
// runs its handler.

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/base/error.h"

namespace loamway {

struct HttpRequest {
    std::string method;  // upper case. HEAD comes as GET: the server leaves the body away
    std::string path;    // without the query, percent-decoded; begins with "/", has no ".." and no control
                         // characters, UTF-8 as it came
    std::map<std::string, std::string> query;                  // decoded; the last of equal names counts
    std::vector<std::pair<std::string, std::string>> headers;  // names in lower case
    std::string body;
    std::string client;  // the peer's address without port

    /// Empty when it is not there. `lower_name` in lower case.
    [[nodiscard]] std::string_view header(std::string_view lower_name) const;
    /// Empty when it is not there.
    [[nodiscard]] std::string_view parameter(const std::string& name) const;
};

struct HttpReply {
    int status = 200;
    std::string content_type = "application/json";
    std::string body = {};
    std::vector<std::pair<std::string, std::string>> headers = {};  // further ones, for example ETag
};

/// Takes exactly one answer: reply(), or begin(), any number of write() and end(). A handler that returns
/// without either is answered for with 500.
class Exchange {
public:
    virtual ~Exchange() = default;
    virtual void reply(HttpReply reply) = 0;
    /// Status 200 and an answer of unknown length.
    virtual void begin(std::string_view content_type) = 0;
    /// Waits while the client is slow to read. Does nothing once the client is gone.
    virtual void write(std::string_view piece) = 0;
    virtual void end() = 0;
    /// The client closed the connection, or the server is made to stop at once: the work may end. Cheap; any
    /// thread may ask.
    [[nodiscard]] virtual bool gone() const = 0;
};

using HttpHandler = std::function<void(const HttpRequest&, Exchange&)>;

/// "a=1&b=x%20y"; nothing when a piece cannot be decoded.
[[nodiscard]] std::optional<std::map<std::string, std::string>> parsed_query(std::string_view text);

/// The status of an error's kind, nowhere else.
[[nodiscard]] int http_status(ErrorKind kind);

/// {"error":{"kind","message","what_to_do","item"}} in one line, with the kind's status.
[[nodiscard]] HttpReply error_reply(const Error& e);
/// The same for what has no kind of ours (token, too slow, not allowed ...).
[[nodiscard]] HttpReply error_reply(int status, std::string_view kind, std::string_view message,
                                    std::string_view what_to_do = {}, std::string_view item = {});
/// 405 with the methods that are there, "GET, POST".
[[nodiscard]] HttpReply method_not_allowed(std::string_view allowed);

}  // namespace loamway

#endif
