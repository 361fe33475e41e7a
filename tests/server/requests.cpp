// SPDX-License-Identifier: Apache-2.0
#include "requests.h"

#include <algorithm>
#include <iterator>
#include <utility>
#include <vector>

namespace loamway::server_fuzz {

namespace {

struct Sample {
    const char *method, *address, *body;
};

constexpr Sample samples[] = {
    {"GET", "/", ""},
    {"GET", "/health", ""},
    {"GET", "/metrics", ""},
    {"GET", "/page/nothing.js", ""},
    {"GET", "/api/1/region", ""},
    {"GET", "/api/1/places?q=nettle&limit=5", ""},
    {"GET", "/api/1/machines", ""},
    {"GET", "/api/1/road?lat=47.0856&lon=-35.6471&within_m=900", ""},
    {"GET", "/api/1/stop-places?bbox=-35.7,47.05,-35.6,47.15", ""},
    {"GET", "/api/1/map.png?bbox=-35.7,47.05,-35.6,47.15&width=64&height=64", ""},
    {"GET", "/api/1/tiles/12/1642/1439.mvt", ""},
    {"GET", "/api/1/corrections", ""},
    {"GET", "/api/1/belts/red", ""},
    {"POST", "/api/1/plan",
     R"({"from":"Nettle Farm yard","to":"Nowhere at all","machine":"medium","depart":"2026-07-14T09:00"})"},
    {"POST", "/api/1/sheet?format=svg", R"({"plan":{"schema":"loamway.plan/1"}})"},
    {"POST", "/api/1/export?format=gpx", R"({"plan":{}})"},
    {"POST", "/api/1/load?format=txt", R"({"machine":"medium","trailer":"low-bed"})"},
    {"POST", "/api/1/budget", R"({"title":"t","machine":"medium","job":[{"name":"a","field":"b"}]})"},
    {"POST", "/api/1/corrections", R"({"kind":"max_height","at":"1,2","value":"3.8","unit":"m"})"},
    {"DELETE", "/api/1/corrections/c999", ""},
    {"POST", "/api/1/moves", R"({"plan":{},"machine":"red"})"}};

/// Those a page asks for and gets.
constexpr std::size_t good_ones[] = {0, 1, 2, 4, 5, 6, 7, 8, 10, 11};

constexpr const char* methods[] = {"GET",     "POST",  "DELETE", "PUT",  "HEAD", "OPTIONS", "PATCH",
                                   "CONNECT", "TRACE", "get",    "G\tT", "",     "PROPFIND"};
constexpr const char* address_tricks[] = {"/../../etc/passwd",
                                          "/%2e%2e/%2e%2e/etc/passwd",
                                          "/..%2f..%2f",
                                          "/page/../page_files.cpp",
                                          "%00",
                                          "/a%00.js",
                                          "//",
                                          "/\\..\\..",
                                          "%5c..%5c",
                                          "%",
                                          "%zz",
                                          "%c0%ae%c0%ae/",
                                          "/./",
                                          "?",
                                          "?a=%",
                                          "?lat=nan&lon=inf",
                                          "?limit=99999999999999999999",
                                          "?bbox=,,,",
                                          "#x",
                                          ";x",
                                          "?q=%ff%fe",
                                          "?q=\xff",
                                          "/api/1/tiles/99/-1/0.mvt",
                                          "/api/1/tiles/15/99999999999/0.mvt",
                                          "/api/2/region",
                                          "/api/1/corrections/../x"};
constexpr const char* header_tricks[] = {"Host: evil.example",
                                         "Host: localhost",
                                         "Host: 127.0.0.1.evil.example",
                                         "Host: 192.0.2.7",
                                         "Origin: http://evil.example",
                                         "Origin: null",
                                         "Sec-Fetch-Site: cross-site",
                                         "Sec-Fetch-Site: same-site",
                                         "Content-Type: text/plain",
                                         "Content-Type: application/json; charset=utf-8",
                                         "Accept: application/x-ndjson",
                                         "If-None-Match: *",
                                         "If-None-Match: \"x\"",
                                         "Expect: 100-continue",
                                         "Expect: x",
                                         "Range: bytes=0-1",
                                         "Connection: close",
                                         "Connection: upgrade",
                                         "Upgrade: websocket",
                                         "Transfer-Encoding: gzip, chunked",
                                         "X: a\r\n b",
                                         "No colon",
                                         ": empty",
                                         "X : y",
                                         "X: \x01\x7f",
                                         "Accept-Encoding: gzip",
                                         "TE: trailers",
                                         "Forwarded: for=127.0.0.1",
                                         "X-Forwarded-For: 127.0.0.1",
                                         "Cookie: a=b"};
constexpr const char* length_tricks[] = {"-1", "99999999999999999999", "0x10", "1, 1", "5000000", "+3", "",
                                         "1e1"};
constexpr const char* body_pieces[] = {"{",
                                       "}",
                                       "[",
                                       "]",
                                       "null",
                                       "1e999",
                                       "-1",
                                       "\"\\ud800\"",
                                       "\"\"",
                                       ",",
                                       ":",
                                       "true",
                                       "\xff",
                                       "NaN",
                                       "\"../../etc/passwd\"",
                                       "9007199254740993",
                                       "{\"a\":1,\"a\":2}"};

template <class T, std::size_t n>
std::size_t size_of(const T (&)[n]) {
    return n;
}

}  // namespace

struct Requests::Pieces {
    std::string method, address, body;
    std::vector<std::string> headers;
    bool chunked = false;
    std::string length;  // in place of the right one
};

std::string Requests::noise(std::size_t most) {
    std::string out(below(most), ' ');
    for (char& c : out)
        c = static_cast<char>(m_random() & 0xff);
    return out;
}

Requests::Pieces Requests::sample() {
    const Sample& s = samples[below(size_of(samples))];
    return {s.method, s.address, s.body, {}, false, {}};
}

std::string Requests::good() {
    const Sample& s = samples[good_ones[below(size_of(good_ones))]];
    return written({s.method, s.address, s.body, {}, false, {}});
}

void Requests::change_method(Pieces& p) {
    p.method = methods[below(size_of(methods))];
}

void Requests::change_address(Pieces& p) {
    switch (below(4)) {
        case 0:
            p.address = address_tricks[below(size_of(address_tricks))];
            break;
        case 1:
            p.address += address_tricks[below(size_of(address_tricks))];
            break;
        case 2:
            p.address.insert(below(p.address.size() + 1), noise(8));
            break;
        default:
            p.address += std::string(below(40) == 0 ? 20'000 : below(300), 'a');
    }
}

void Requests::change_headers(Pieces& p) {
    for (std::size_t n = 1 + below(3); n > 0; --n)
        p.headers.emplace_back(header_tricks[below(size_of(header_tricks))]);
    if (below(30) == 0)
        for (int i = 0; i < 300; ++i)
            p.headers.push_back("X-Many-" + std::to_string(i) + ": y");
    if (below(60) == 0)
        p.headers.push_back("X-Long: " + std::string(20'000, 'z'));
}

void Requests::change_body(Pieces& p) {
    const std::string piece = body_pieces[below(size_of(body_pieces))];
    switch (below(5)) {
        case 0:
            p.body = p.body.substr(0, below(p.body.size() + 1));
            break;
        case 1:
            p.body.insert(below(p.body.size() + 1), piece);
            break;
        case 2:
            p.body = noise(200);
            break;
        case 3:
            p.body = std::string(below(500), '[') + piece;
            break;
        default:
            if (!p.body.empty())
                p.body.replace(below(p.body.size()), 1 + below(12), piece);
    }
    p.chunked = below(3) == 0;
}

void Requests::change_length(Pieces& p) {
    p.length = length_tricks[below(size_of(length_tricks))];
    p.chunked = below(4) == 0;
}

void Requests::change_bytes(std::string& bytes) {
    for (std::size_t n = 1 + below(4); n > 0 && !bytes.empty(); --n) {
        const std::size_t at = below(bytes.size());
        switch (below(4)) {
            case 0:
                bytes[at] = static_cast<char>(m_random() & 0xff);
                break;
            case 1:
                bytes.erase(at, 1 + below(10));
                break;
            case 2:
                bytes.insert(at, noise(10));
                break;
            default:
                bytes.insert(at, bytes.substr(below(bytes.size()), below(40)));
        }
    }
}

std::string Requests::chunked(std::string_view body) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string out;
    while (!body.empty()) {
        const std::size_t n = std::min<std::size_t>(1 + below(15), body.size());
        out += std::string(1, digits[n]) + (below(8) == 0 ? ";x=y" : "") + "\r\n" +
               std::string(body.substr(0, n)) + "\r\n";
        body.remove_prefix(n);
    }
    if (below(12) == 0)
        out += "fffffffffffffffff\r\n";
    return out + (below(12) == 0 ? "0\r\nTrailer: x\r\n\r\n" : "0\r\n\r\n");
}

std::string Requests::written(const Pieces& p) {
    std::string out = p.method + " " + p.address + " HTTP/1.1\r\n";
    const bool own_host = std::any_of(p.headers.begin(), p.headers.end(),
                                      [](const std::string& h) { return h.starts_with("Host:"); });
    if (!own_host)
        out += "Host: 127.0.0.1\r\n";
    out += "Authorization: Bearer " + std::string(right_token) + "\r\n";
    for (const std::string& h : p.headers)
        out += h + "\r\n";
    if (p.method == "GET" && p.body.empty() && p.length.empty())
        return out + "\r\n";
    out += "Content-Type: application/json\r\n";
    if (p.chunked)
        out += "Transfer-Encoding: chunked\r\n";
    if (!p.chunked || !p.length.empty())
        out += "Content-Length: " + (p.length.empty() ? std::to_string(p.body.size()) : p.length) + "\r\n";
    return out + "\r\n" + (p.chunked ? chunked(p.body) : p.body);
}

std::string Requests::fuzzed() {
    Pieces p = sample();
    void (Requests::*const changes[])(Pieces&) = {&Requests::change_method, &Requests::change_address,
                                                  &Requests::change_headers, &Requests::change_body,
                                                  &Requests::change_length};
    for (std::size_t n = below(3); n > 0; --n)
        (this->*changes[below(std::size(changes))])(p);
    std::string bytes = written(p);
    if (below(4) == 0)
        change_bytes(bytes);
    return bytes;
}

}  // namespace loamway::server_fuzz
