// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SERVER_REQUESTS_H
#define LOAMWAY_TESTS_SERVER_REQUESTS_H

// Requests as a stranger would send them: those the page sends, and those with something done to them.

#include <random>
#include <string>
#include <string_view>

namespace loamway::server_fuzz {

constexpr std::string_view right_token = "hay-and-straw";

class Requests {
public:
    explicit Requests(std::uint32_t seed) : m_random(seed) {}

    /// A request that is to be answered with 200.
    [[nodiscard]] std::string good();
    /// One of any route with something wrong in its method, address, headers, body or bytes; seldom nothing.
    [[nodiscard]] std::string fuzzed();
    [[nodiscard]] std::size_t below(std::size_t n) { return m_random() % n; }

private:
    struct Pieces;
    void change_method(Pieces& p);
    void change_address(Pieces& p);
    void change_headers(Pieces& p);
    void change_body(Pieces& p);
    void change_length(Pieces& p);
    void change_bytes(std::string& bytes);
    [[nodiscard]] Pieces sample();
    [[nodiscard]] std::string written(const Pieces& p);
    [[nodiscard]] std::string chunked(std::string_view body);
    [[nodiscard]] std::string noise(std::size_t most);

    std::mt19937 m_random;
};

}  // namespace loamway::server_fuzz

#endif
