// SPDX-License-Identifier: Apache-2.0
// The state of belts in a ledger of a million events: 100 sets of 10,000 events each, more than a set sees in
// its life (twenty years of two events a working day). Prints rows of a Markdown table; the reference is
// adding the same events up from the first. ledger_bench [EVENTS]
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/ledger/ledger.h"
#include "stopwatch.h"

namespace {

using namespace loamway;

constexpr int sets = 100;

Event note(EventKind kind, int set, std::int64_t at, Value data) {
    Event e;
    e.kind = kind;
    e.machine = kind == EventKind::belts_added ? "" : fmt::format("machine {}", set);
    e.belts = kind == EventKind::machine_added ? "" : fmt::format("set {}", set);
    e.at = {at};
    e.data = std::move(data);
    return e;
}

Event work(std::mt19937& random, int set, std::int64_t at) {
    switch (random() % 10) {
        case 0:
        case 1:
        case 2:
        case 3:
            return note(EventKind::moved, set, at,
                        Value::Object{{"hard_m", 12345},
                                      {"gravel_m", 4567},
                                      {"hard_weighted_km", 14.2},
                                      {"hours", 0.7},
                                      {"sharp_turns", 9},
                                      {"bar_peak_c", 70 + 0.01 * static_cast<double>(random() % 4000)},
                                      {"bar_high_c", 105.0},
                                      {"limit_c", 110.0},
                                      {"lubricated", random() % 2 == 0},
                                      {"since_relube_m", 8123},
                                      {"wear_mm", 0.071},
                                      {"fuel_l", 31.2},
                                      {"from", "a yard"},
                                      {"to", "a field"}});
        case 4:
            return note(EventKind::lubricated, set, at, Value::Object{});
        case 5:
            if (random() % 50 == 0)
                return note(EventKind::heights, set, at,
                            Value::Object{{"mm", Value::Array(12, Value(54.0))}});
            [[fallthrough]];
        default:
            return note(EventKind::field_work, set, at, Value::Object{{"hours", 0.3}});
    }
}

void fill(Ledger& ledger, int events) {
    std::mt19937 random(1);
    std::vector<Event> batch;
    for (int s = 0; s < sets; ++s) {
        batch.push_back(
            note(EventKind::machine_added, s, 0, Value::Object{{"profile", Value::Object{{"name", "m"}}}}));
        batch.push_back(
            note(EventKind::belts_added, s, 0, Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}}));
        batch.push_back(note(EventKind::fitted, s, 0, Value::Object{}));
    }
    for (int i = static_cast<int>(batch.size()); i < events; ++i) {
        batch.push_back(work(random, i % sets, 1000 + i));
        if (batch.size() == 20000) {
            (void)ledger.write_all(batch);
            batch.clear();
        }
    }
    (void)ledger.write_all(batch);
}

class Clock {
public:
    [[nodiscard]] double seconds() const { return bench::now() - m_begin; }

private:
    double m_begin = bench::now();
};

int run(int events) {
    const std::filesystem::path file = std::filesystem::temp_directory_path() /
                                       fmt::format("loamway-bench-{}.ledger", static_cast<long>(::getpid()));
    const std::string place = file.string();
    const auto clean = [&] {
        for (const char* end : {"", "-wal", "-shm"})
            std::filesystem::remove(place + end);
    };
    clean();
    const Clock filling;
    {
        Ledger ledger = Ledger::open(place, LedgerUse::write);
        fill(ledger, events);
    }
    const double filled_s = filling.seconds();
    std::vector<double> state_ms, open_ms, whole_ms, write_ms;
    for (int s = 0; s < sets; s += 5) {
        const Clock opening;
        const Ledger ledger = Ledger::open(place, LedgerUse::read);
        open_ms.push_back(opening.seconds() * 1000);
        const std::string belts = fmt::format("set {}", s);
        const Clock state;
        const double hours = ledger.record(belts).hours;
        state_ms.push_back(state.seconds() * 1000);
        EventQuery q;
        q.belts = belts;
        const Clock whole;
        const double again = belt_record(ledger.events(q), belts).hours;
        whole_ms.push_back(whole.seconds() * 1000);
        if (hours != again)
            throw Error(ErrorKind::internal, "the two ways differ");
    }
    Ledger ledger = Ledger::open(place, LedgerUse::write);
    for (int i = 0; i < 20; ++i) {
        const Clock writing;
        (void)ledger.write(note(EventKind::field_work, i, 10'000'000, Value::Object{{"hours", 1}}));
        write_ms.push_back(writing.seconds() * 1000);
    }
    fmt::print(
        "| {} events, {} sets of belts, {:.0f} MB | {:.1f} ms | {:.1f} ms, slowest {:.1f} | {:.1f} ms | {:.1f} ms "
        "| {:.0f} s |\n",
        events, sets, static_cast<double>(std::filesystem::file_size(file)) / 1e6, bench::median(open_ms),
        bench::median(state_ms), *std::max_element(state_ms.begin(), state_ms.end()), bench::median(whole_ms),
        bench::median(write_ms), filled_s);
    clean();
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    int events = 1'000'000;
    if (argc > 1) {
        const std::string text = argv[1];
        if (std::from_chars(text.data(), text.data() + text.size(), events).ptr !=
                text.data() + text.size() ||
            events < 1000) {
            fmt::print(stderr, "usage: ledger_bench [EVENTS, 1000 or more]\n");
            return 2;
        }
    }
    try {
        return run(events);
    } catch (const Error& e) {
        fmt::print(stderr, "ledger_bench: {}\n", e.what());
        return 1;
    }
}
