// SPDX-License-Identifier: Apache-2.0
// A whole text as `ledger import` reads it: refused, or events that are written and read back the same. What
// is read goes into an empty ledger, which takes all of it or nothing, stays whole, and knows it again.

#include <filesystem>

#include "loamway/ledger/event_lines.h"
#include "loamway/ledger/ledger.h"
#include "support/test_files.h"
#include "target.h"

namespace {

using namespace loamway;

std::string lines_of(const std::vector<Event>& events) {
    std::string out;
    for (const Event& e : events)
        out += to_json(e.to_value()) + "\n";
    return out;
}

void take_in(const std::vector<Event>& events) {
    static const test::TempDir dir;
    const std::string file = dir.file("fuzz.ledger");
    for (const char* more : {"", "-wal", "-shm", "-journal"})
        std::filesystem::remove(file + more);
    Ledger ledger = Ledger::open(file, LedgerUse::write);
    const bool taken = fuzz::accepts([&] { ledger.import(events); },
                                     {ErrorKind::input, ErrorKind::limit, ErrorKind::not_found});
    EventQuery all;
    all.with_undone = true;
    const std::size_t there = ledger.events(all).size();
    fuzz::promise(taken ? there <= events.size() : there == 0, "a ledger took half of an import");
    ledger.verify();
    if (!taken)
        return;
    for (const Written& w : ledger.import(events))
        fuzz::promise(w.was_there, "an import read again adds an event");
    for (const std::string& belts : ledger.belts_names())
        static_cast<void>(ledger.record(belts));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::vector<Event> events;
    if (!fuzz::accepts([&] { events = parse_event_lines(fuzz::text_of(data, size), "fuzz"); }))
        return 0;
    const std::string once = lines_of(events);
    fuzz::promise(lines_of(parse_event_lines(once, "once")) == once, "events that do not read back");
    if (!events.empty())
        take_in(events);
    return 0;
}
