// SPDX-License-Identifier: Apache-2.0
// Verbs of `loamway ledger` that read.
#include <fmt/format.h>

#include <algorithm>

#include "command.h"
#include "console.h"
#include "ledger_text.h"
#include "ledger_verbs.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/ledger/noting.h"

namespace loamway {

namespace {

int show_events(const LedgerFlags& f, const Ledger& ledger, EventQuery q) {
    q.with_undone = true;
    const std::vector<Event> events = ledger.events(q);
    std::vector<bool> undone;
    for (const Event& e : events)
        undone.push_back(ledger.is_undone(e.id));
    if (!f.json) {
        print(events_text(events, undone));
        return 0;
    }
    Value::Array out;
    for (std::size_t i = 0; i < events.size(); ++i) {
        Value v = events[i].to_value();
        v.set("undone", static_cast<bool>(undone[i]));
        out.push_back(std::move(v));
    }
    print(to_json(Value(Value::Object{{"schema", "loamway.ledger.events/1"}, {"events", out}}), 1) + "\n");
    return 0;
}

/// What a name stands for: belts by that name, or those on the machine of that name.
std::string belts_meant(const Ledger& ledger, const std::string& name, Instant at) {
    const std::vector<std::string> belts = ledger.belts_names(), machines = ledger.machine_names();
    if (std::find(belts.begin(), belts.end(), name) != belts.end())
        return name;
    if (std::find(machines.begin(), machines.end(), name) != machines.end()) {
        std::string on = ledger.belts_on(name, at);
        if (on.empty())
            throw Error(ErrorKind::not_found,
                        fmt::format("\"{}\" carries no belts at {}", printable(name), minute_words(at)),
                        "loamway ledger belts fit NAME --machine NAME");
        return on;
    }
    std::vector<std::string_view> known(belts.begin(), belts.end());
    known.insert(known.end(), machines.begin(), machines.end());
    const std::string near = nearest_name(name, known);
    throw Error(
        ErrorKind::not_found, fmt::format("the ledger knows no belts or machine \"{}\"", printable(name)),
        near.empty() ? "loamway ledger show lists those it knows" : fmt::format("did you mean {}?", near));
}

}  // namespace

int ledger_show(const LedgerFlags& f) {
    const Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::read);
    std::optional<Instant> until;
    if (!f.as_of.empty())
        until = ledger_moment(f.as_of, "--as-of");
    const Instant at = until.value_or(now());
    EventQuery q;
    q.until = until;
    if (!f.name.empty())
        q.belts = belts_meant(ledger, f.name, at);
    if (f.events)
        return show_events(f, ledger, q);
    const LedgerReport report = report_on_ledger(ledger, q.belts, until);
    if (f.json)
        print(to_json(to_value(report), 1) + "\n");
    else if (f.name.empty())
        print(overview_text(report));
    else
        print(
            belts_text(report.belts.front(), !until && noted_for_later(ledger, ledger.record(q.belts, at))));
    return 0;
}

int ledger_export(const LedgerFlags& f) {
    if (!f.output.empty()) {
        require_apart({ledger_of(f)}, f.output, "the ledger");
        require_writable(f.output);
        require_replaceable(f.output, "{\"id\":", "an export of a ledger");
    }
    const Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::read);
    EventQuery all;
    all.with_undone = true;
    std::vector<Event> events = ledger.events(all);
    std::sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.id < b.id; });
    std::string out;
    for (const Event& e : events)
        out += to_json(e.to_value()) + "\n";
    if (f.output.empty() || f.output == "-")
        print(out);
    else
        write_file(f.output, out);
    return 0;
}

int ledger_verify(const LedgerFlags& f) {
    const Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::read);
    ledger.verify();
    print(f.json ? "{\"sound\":true}\n" : "the ledger is sound: every event reads back\n");
    return 0;
}

}  // namespace loamway
