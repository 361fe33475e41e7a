// SPDX-License-Identifier: Apache-2.0
// A real `loamway serve` under strangers: fuzzed requests, slow readers and writers, a crowd, guessed keys.
//   fuzz_server PROGRAM REGION REQUESTS [SEED]
// Prints what was answered; status 1 when a promise was broken. No promise is about a time, but that a guess
// waits.

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <functional>
#include <map>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "answers.h"
#include "requests.h"
#include "served.h"

namespace {

using namespace loamway::server_fuzz;
using Clock = std::chrono::steady_clock;

constexpr int drivers = 4;
constexpr std::size_t in_one_go = 8;     // requests in a row on one connection, at most
constexpr long most_growth_kb = 65'536;  // of the server's memory from the first thousands of requests on

void promise(bool kept, const std::string& what) {
    if (!kept)
        throw std::runtime_error(what);
}

double seconds_since(Clock::time_point begin) {
    return std::chrono::duration<double>(Clock::now() - begin).count();
}

std::string get(const std::string& address, const std::string& more) {
    return "GET " + address + " HTTP/1.1\r\nHost: 127.0.0.1\r\n" + more + "\r\n";
}

std::string with_key(std::string_view key) {
    return "Authorization: Bearer " + std::string(key) + "\r\n";
}

int status_of(const std::string& answer) {
    const std::vector<int> all = judged(answer);
    return all.empty() ? 0 : all.front();
}

int asked(Served& served, const std::string& request, std::uint8_t from = 1) {
    const Wire wire(served.port(), from);
    wire.send(request);
    return status_of(wire.read_one());
}

struct Tally {
    std::mutex mutex;
    std::map<int, long> statuses;
    long sent = 0, answered = 0;
    double slowest_good = 0;
    std::string broken;  // the first promise that was
    std::atomic<bool> stop = false;
};

/// A few requests in one go, then the end of sending: whatever they are, the server says what it has to say
/// and closes. How many they were.
long go_once(Served& served, Requests& requests, Tally& tally, std::uint8_t from) {
    std::string bytes;
    const std::size_t n = 1 + requests.below(in_one_go);
    for (std::size_t i = 0; i < n; ++i)
        bytes += requests.below(4) == 0 ? requests.good() : requests.fuzzed();
    if (requests.below(6) == 0)
        bytes.resize(requests.below(bytes.size() + 1));
    const Wire wire(served.port(), from);
    wire.send(bytes);
    wire.finish_sending();
    std::vector<int> statuses;
    try {
        statuses = judged(wire.read_all());
    } catch (const std::exception& e) {
        throw std::runtime_error(std::string(e.what()) + "\nfor the requests:\n" + bytes);
    }
    const std::lock_guard lock(tally.mutex);
    tally.sent += static_cast<long>(n);
    tally.answered += static_cast<long>(statuses.size());
    for (const int s : statuses)
        ++tally.statuses[s];
    return static_cast<long>(n);
}

/// Another client that does nothing wrong is answered, however much nonsense there was before.
void ask_well(Served& served, Requests& requests, Tally& tally) {
    const Clock::time_point begin = Clock::now();
    int status = asked(served, requests.good());
    while (status == 503)  // too much to do: a client tries again
        status = asked(served, requests.good());
    promise(status == 200 || status == 204, "a good request is answered with " + std::to_string(status));
    const std::lock_guard lock(tally.mutex);
    tally.slowest_good = std::max(tally.slowest_good, seconds_since(begin));
}

void drive(Served& served, Tally& tally, long share, std::uint32_t seed) {
    Requests requests(seed);
    try {
        for (long done = 0, turn = 0; done < share && !tally.stop; ++turn) {
            done += go_once(served, requests, tally, static_cast<std::uint8_t>(2 + requests.below(200)));
            if (turn % 50 == 0)
                ask_well(served, requests, tally);
        }
    } catch (const std::exception& e) {
        const std::lock_guard lock(tally.mutex);
        if (tally.broken.empty())
            tally.broken = e.what();
        tally.stop = true;
    }
}

void fuzz(Served& served, Tally& tally, long count, std::uint32_t seed) {
    std::vector<std::thread> threads;
    for (std::uint32_t i = 0; i < drivers; ++i)
        threads.emplace_back([&, i] { drive(served, tally, count / drivers, seed * 1000 + i); });
    for (std::thread& t : threads)
        t.join();
    promise(tally.broken.empty(), tally.broken);
}

/// Clients that write a byte now and then, that never read, and that say nothing, all at once.
void be_slow(Served& served, int bytes) {
    std::vector<Wire> writers, readers, idle;
    const std::string page = get("/", "");
    std::string many;
    for (int i = 0; i < 2000; ++i)
        many += page;
    for (int i = 0; i < 80; ++i) {
        writers.emplace_back(served.port(), 220);
        idle.emplace_back(served.port(), 221);
        if (i < 20) {
            readers.emplace_back(served.port(), 222);
            readers.back().send(std::string_view(many).substr(0, 40'000));
        }
    }
    Requests requests(7);
    const std::string whole = get("/health", "X-Slow: " + std::string(1000, 'x') + "\r\n");
    for (int i = 0; i < bytes; ++i) {
        for (const Wire& w : writers)
            w.send(std::string_view(whole).substr(static_cast<std::size_t>(i), 1));
        promise(asked(served, get("/api/1/region", with_key(right_token))) == 200,
                "slow clients keep others from an answer");
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
    }
}

/// More connections than there may be: some are told so, and later there is room again.
void be_many(Served& served) {
    std::vector<Wire> all;
    std::map<int, int> statuses;
    for (int i = 0; i < 300; ++i) {
        all.emplace_back(served.port(), 223);
        all.back().send(get("/health", ""));
    }
    for (const Wire& w : all)
        ++statuses[status_of(w.read_one())];
    promise(statuses[200] > 0 && statuses[200] <= 256, "a crowd is let in");
    all.clear();
    int status = 0;
    while (status != 200)  // the server has yet to see that they left
        status = asked(served, get("/health", ""));
}

/// A wrong key waits for its answer, longer each time; the right one does not.
void guess(Served& served) {
    const Clock::time_point begin = Clock::now();
    for (const char* key : {"a-wrong-one", "another-one", "hay-and-stra"})
        promise(asked(served, get("/api/1/region", with_key(key)), 224) == 401, "a wrong key is right");
    promise(seconds_since(begin) >= 1.7, "guesses do not wait");
    std::vector<Wire> at_once;
    for (int i = 0; i < 20; ++i) {
        at_once.emplace_back(served.port(), 225);
        at_once.back().send(get("/api/1/region", with_key("wrong-" + std::to_string(i))));
    }
    std::map<int, int> statuses;
    for (const Wire& w : at_once)
        ++statuses[status_of(w.read_one())];
    promise(statuses[401] + statuses[429] == 20 && statuses[429] > 0,
            "guesses on many connections do not wait");
    promise(asked(served, get("/api/1/region", "")) == 401, "no key is right");
    promise(asked(served, get("/api/1/region", with_key(right_token)), 224) == 200, "the right key is wrong");
}

struct Stranger {
    const char *address, *headers;
    int status;
};

void come_from_elsewhere(Served& served) {
    constexpr Stranger strangers[] = {{"/health", "Host: evil.example", 403},
                                      {"/health", "Host: 127.0.0.1.evil.example", 403},
                                      {"/", "Host: 127.0.0.1\r\nOrigin: http://evil.example", 403},
                                      {"/", "Host: 127.0.0.1\r\nOrigin: null", 403},
                                      {"/", "Host: 127.0.0.1\r\nSec-Fetch-Site: cross-site", 403},
                                      {"/page/%2e%2e/x", "Host: 127.0.0.1", 400},
                                      {"/../../etc/passwd", "Host: 127.0.0.1", 400},
                                      {"/etc/passwd", "Host: 127.0.0.1", 404},
                                      {"/a%00b", "Host: 127.0.0.1", 400}};
    for (const Stranger& s : strangers) {
        const int status =
            asked(served, std::string("GET ") + s.address + " HTTP/1.1\r\n" + s.headers + "\r\n\r\n");
        promise(status == s.status,
                std::string(s.address) + " " + s.headers + " is answered with " + std::to_string(status));
    }
}

void print(const Tally& tally, double seconds, long before_kb, long after_kb, long most_kb) {
    std::printf("requests sent %ld, answered %ld, in %.1f s (%.0f a second); slowest good one %.3f s\n",
                tally.sent, tally.answered, seconds, static_cast<double>(tally.sent) / seconds,
                tally.slowest_good);
    std::printf("memory of the server: %ld kB after the first, %ld kB at the end, %ld kB at most\n",
                before_kb, after_kb, most_kb);
    for (const auto& [status, count] : tally.statuses)
        std::printf("  %d %ld\n", status, count);
}

void run(const std::string& program, const std::string& region, long count, std::uint32_t seed) {
    Served served(program, region, right_token);
    Tally tally;
    const Clock::time_point begin = Clock::now();
    const long first = std::min(count / 10, 20'000L);
    fuzz(served, tally, first, seed + 1);
    const long before_kb = served.memory_kb("VmRSS");
    fuzz(served, tally, count - first, seed);
    const double seconds = seconds_since(begin);
    come_from_elsewhere(served);
    guess(served);
    be_slow(served, count > 100'000 ? 150 : 10);
    be_many(served);
    const long after_kb = served.memory_kb("VmRSS");
    print(tally, seconds, before_kb, after_kb, served.memory_kb("VmHWM"));
    promise(served.runs(), "the server ended");
    promise(after_kb < before_kb + most_growth_kb, "the server's memory grows");
    promise(served.stop() == 0, "the server does not end well");
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 4 || argc > 5) {
        std::fputs("usage: fuzz_server PROGRAM REGION REQUESTS [SEED]\n", stderr);
        return 2;
    }
    try {
        run(argv[1], argv[2], std::atol(argv[3]),
            argc == 5 ? static_cast<std::uint32_t>(std::atol(argv[4])) : 1);
        return 0;
    } catch (const std::exception& e) {
        std::fprintf(stderr, "fuzz_server: %s\n", e.what());
        return 1;
    }
}
