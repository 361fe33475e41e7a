// SPDX-License-Identifier: Apache-2.0
// Requests and replies as plain data: decoding, queries, errors.
#include "http.h"

#include <gtest/gtest.h>

namespace loamway {
namespace {

TEST(ParsedQuery, TakesPiecesApart) {
    using Map = std::map<std::string, std::string>;
    EXPECT_EQ(parsed_query(""), Map{});
    EXPECT_EQ(parsed_query("q=Alder+Farm&limit=10"), (Map{{"q", "Alder Farm"}, {"limit", "10"}}));
    EXPECT_EQ(parsed_query("a&&b=&c=1=2"), (Map{{"a", ""}, {"b", ""}, {"c", "1=2"}}));
    EXPECT_EQ(parsed_query("a=1&a=2"), (Map{{"a", "2"}}));
    EXPECT_EQ(parsed_query("a%26b=%3D"), (Map{{"a&b", "="}}));
    EXPECT_FALSE(parsed_query("a=%zz"));
}

TEST(ErrorReply, OneLineWithEveryField) {
    const HttpReply reply =
        error_reply(Error(ErrorKind::not_found, "no place \"x\ny\"", "look", {{}, {}, "from"}));
    EXPECT_EQ(reply.status, 404);
    EXPECT_EQ(
        reply.body,
        "{\"error\":{\"kind\":\"not_found\",\"message\":\"no place \\\"x\\ny\\\"\",\"what_to_do\":\"look\","
        "\"item\":\"from\"}}\n");
}

TEST(ErrorReply, EachKindHasItsStatus) {
    EXPECT_EQ(http_status(ErrorKind::input), 400);
    EXPECT_EQ(http_status(ErrorKind::not_found), 404);
    EXPECT_EQ(http_status(ErrorKind::no_route), 422);
    EXPECT_EQ(http_status(ErrorKind::limit), 413);
    EXPECT_EQ(http_status(ErrorKind::damaged), 500);
    EXPECT_EQ(http_status(ErrorKind::io), 503);
    EXPECT_EQ(http_status(ErrorKind::internal), 500);
}

TEST(MethodNotAllowed, SaysWhatIsAllowed) {
    const HttpReply reply = method_not_allowed("GET, POST");
    EXPECT_EQ(reply.status, 405);
    ASSERT_EQ(reply.headers.size(), 1u);
    EXPECT_EQ(reply.headers.front(), (std::pair<std::string, std::string>("Allow", "GET, POST")));
}

}  // namespace
}  // namespace loamway
