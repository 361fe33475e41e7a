// SPDX-License-Identifier: Apache-2.0
// Verbs of `loamway ledger` that write.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "command.h"
#include "console.h"
#include "ledger_verbs.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/ledger/belt_report.h"
#include "loamway/ledger/event_lines.h"
#include "loamway/ledger/noting.h"
#include "loamway/ledger/plausible.h"
#include "loamway/text/document_kind.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;
constexpr std::size_t largest_import = std::size_t{1} << 30;

Value machine_document(const std::string& path) {
    require_readable(path);
    Value document = parse_document(read_text_file(path, largest_profile), path, DocumentKind::machine);
    (void)read_machine(document, path);
    return document;
}

/// The keys whose values differ, as a path from the top. Numbers are compared as they are kept.
void find_changes(const Value& a, const Value& b, const std::string& at, std::vector<std::string>& out) {
    if (a.as_object() == nullptr || b.as_object() == nullptr) {
        if (to_json(parse_json(to_json(a), "")) != to_json(parse_json(to_json(b), "")))
            out.push_back(at);
        return;
    }
    const std::string start = at.empty() ? at : at + ".";
    for (const auto& [key, value] : *a.as_object()) {
        const Value* other = b.find(key);
        if (other == nullptr)
            out.push_back(start + key);
        else
            find_changes(value, *other, start + key, out);
    }
    for (const auto& [key, value] : *b.as_object())
        if (a.find(key) == nullptr)
            out.push_back(start + key);
}

std::string some_of(const std::vector<std::string>& names) {
    constexpr std::size_t most = 4;
    std::string out;
    for (std::size_t i = 0; i < std::min(most, names.size()); ++i)
        out += fmt::format("{}{}", i == 0 ? "" : ", ", names[i]);
    return names.size() > most ? fmt::format("{} and {} more", out, names.size() - most) : out;
}

}  // namespace

Event event_of(const LedgerFlags& f, EventKind kind) {
    Event e;
    e.kind = kind;
    e.at = ledger_moment(f.at, "--at");
    check_happened(e.at, now(), "--at");
    e.machine = f.machine;
    e.belts = f.belts;
    e.by = f.by;
    e.data = Value(Value::Object{});
    for (const auto& [key, text] : f.numbers)
        if (!text.empty())
            e.data.set(key, flag_number(f.flags.at(key), text, "a number"));
    for (const auto& [key, text] : f.words)
        if (!text.empty())
            e.data.set(key, text);
    for (const auto& [key, on] : f.switches)
        if (on)
            e.data.set(key, true);
    if (!f.note.empty())
        e.data.set("note", f.note);
    return e;
}

void check_said(const LedgerFlags& f, const Event& e) {
    try {
        check_event(e, std::string(name_of(e.kind)));
    } catch (const Error& wrong) {
        // "data.hours" of the event is "--hours" to who typed it.
        const std::string& item = wrong.place().item;
        const auto dot = item.rfind('.');
        const auto flag = dot == std::string::npos ? f.flags.end() : f.flags.find(item.substr(dot + 1));
        std::string message = wrong.message();
        const auto at = message.find(item);
        if (flag == f.flags.end() || at == std::string::npos)
            throw;
        message.replace(at, item.size(), flag->second);
        throw Error(wrong.kind(), message, message.ends_with("missing") ? "give it" : wrong.what_to_do(),
                    {{}, {}, flag->second});
    }
}

int report_written(const LedgerFlags& f, const Event& e, const Written& w) {
    if (f.json) {
        print(to_json(Value(Value::Object{{"event", w.id}, {"was_there", w.was_there}})) + "\n");
        return 0;
    }
    const std::string subject = e.belts.empty() ? printable(e.machine)
                                : e.machine.empty()
                                    ? printable(e.belts)
                                    : fmt::format("{} on {}", printable(e.belts), printable(e.machine));
    print(w.was_there ? fmt::format("event {}: was noted before\n", w.id)
                      : fmt::format("event {}: {}{}\n", w.id, event_words(e.kind),
                                    subject.empty() ? "" : ", " + subject));
    return 0;
}

Event with_belts(const Ledger& ledger, Event e, bool needed) {
    if (e.belts.empty() && !e.machine.empty())
        e.belts = needed ? belts_then(ledger, e.machine, e.at) : ledger.belts_on(e.machine, e.at);
    return e;
}

std::string ledger_of(const LedgerFlags& f) {
    return f.ledger.empty() ? default_ledger() : f.ledger;
}

Instant ledger_moment(const std::string& text, const char* flag) {
    if (text.empty())
        return now();
    Instant t;
    try {
        t = parse_time(text, TimeZone());
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("{}: {}", flag, e.message()),
                    "write 2026-07-14T14:00Z, or with an offset such as +02:00 in place of Z");
    }
    // No region is read here, so nobody knows on whose clock a time without an offset is.
    if (text.find_first_of("Zz+-", text.find_first_of("Tt")) == std::string::npos)
        throw Error(
            ErrorKind::input,
            fmt::format("{}: \"{}\" does not say its time zone, and no region is read here that would", flag,
                        printable(text)),
            fmt::format("write {0}Z for UTC, or an offset such as {0}+02:00", printable(text)));
    return t;
}

int ledger_write(const LedgerFlags& f, EventKind kind, bool belts_needed) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, kind), belts_needed);
    // Belts that are spoken of by their name carry their machine along.
    if (e.machine.empty() && !e.belts.empty())
        e.machine = ledger.machine_of(e.belts, e.at);
    check_said(f, e);
    require_possible(ledger, e);
    return report_written(f, e, ledger.write(e));
}

int ledger_change_belts(const LedgerFlags& f, EventKind kind) {
    LedgerFlags named = f;
    named.belts = f.name;
    return ledger_write(named, kind, false);
}

int ledger_add_machine(const LedgerFlags& f) {
    Event e = event_of(f, EventKind::machine_added);
    e.machine = f.name;
    e.data.set("profile", machine_document(f.profile));
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    EventQuery added;
    added.machine = e.machine;
    added.kinds = {EventKind::machine_added};
    const std::vector<Event> before = ledger.events(added);
    if (before.empty())
        return report_written(f, e, ledger.write(e));
    std::vector<std::string> changed;
    find_changes(*before.back().data.find("profile"), *e.data.find("profile"), {}, changed);
    if (changed.empty() && !f.json)
        print(fmt::format("{} is there with this profile, nothing is written\n", printable(e.machine)));
    if (changed.empty())
        return f.json ? report_written(f, e, {before.back().id, true}) : 0;
    const int status = report_written(f, e, ledger.write(e));
    if (!f.json)
        print(e.at < before.back().at
                  ? fmt::format("{} was there: the profile of event {}, a later one, still counts\n",
                                printable(e.machine), before.back().id)
                  : fmt::format("{} was there: its profile is replaced ({})\n", printable(e.machine),
                                printable(some_of(changed))));
    return status;
}

int ledger_add_belts(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = event_of(f, EventKind::belts_added);
    e.belts = f.name;
    e.machine.clear();
    if (const auto machine = machine_named(ledger, f.machine)) {
        if (e.data.find("new_bar_mm") == nullptr)
            e.data.set("new_bar_mm", machine->belts.bar_height.mm());
        if (e.data.find("worn_mm") == nullptr)
            e.data.set("worn_mm", machine->belts.worn_height.mm());
    } else if (f.fit) {
        throw Error(ErrorKind::input, "--fit without a machine the ledger knows", "give --machine NAME");
    }
    check_said(f, e);
    std::vector<Event> both{e};
    if (f.fit) {
        Event fit = event_of(LedgerFlags{}, EventKind::fitted);
        fit.at = e.at;
        fit.belts = e.belts;
        fit.machine = f.machine;
        fit.by = f.by;
        both.push_back(fit);
    }
    const std::vector<Written> written = ledger.write_all(both);
    for (std::size_t i = 0; i < both.size(); ++i)
        report_written(f, both[i], written[i]);
    return 0;
}

int ledger_undo(const LedgerFlags& f) {
    if (f.name.empty())
        throw Error(ErrorKind::input, "which event is taken back?",
                    "loamway ledger show --events lists them with their numbers: loamway ledger undo N");
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    std::int64_t id = 0;
    const auto [end, fault] = std::from_chars(f.name.data(), f.name.data() + f.name.size(), id);
    if (fault != std::errc() || end != f.name.data() + f.name.size())
        throw Error(ErrorKind::input, fmt::format("\"{}\" is no number of an event", printable(f.name)),
                    "loamway ledger show --events lists them");
    Event e = event_of(f, EventKind::undone);
    e.data.set("event", id);
    return report_written(f, e, ledger.write(e));
}

int ledger_import(const LedgerFlags& f) {
    if (f.name != "-")
        require_readable(f.name);
    const std::vector<Event> events = parse_event_lines(read_text_file(f.name, largest_import), f.name);
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    const std::vector<Written> written = ledger.import(events);
    const auto there =
        std::count_if(written.begin(), written.end(), [](const Written& w) { return w.was_there; });
    if (f.json)
        print(to_json(Value(Value::Object{{"read", static_cast<std::int64_t>(written.size())},
                                          {"were_there", static_cast<std::int64_t>(there)}})) +
              "\n");
    else
        print(fmt::format("{} events read, {} of them were there before\n", written.size(), there));
    return 0;
}

}  // namespace loamway
