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
#include "loamway/ledger/plan_move.h"
#include "loamway/ledger/plausible.h"
#include "loamway/region/digest.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;
constexpr std::size_t largest_import = std::size_t{1} << 30;

Event event_of(const LedgerFlags& f, EventKind kind) {
    Event e;
    e.kind = kind;
    e.at = ledger_moment(f.at, "--at");
    e.machine = f.machine;
    e.belts = f.belts;
    e.by = f.by;
    e.data = Value(Value::Object{});
    for (const auto& [key, text] : f.numbers)
        if (!text.empty())
            e.data.set(key, flag_number("--" + key, text, "a number"));
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

/// Work done by a machine concerns the belts it carries then.
Event with_belts(const Ledger& ledger, Event e, bool needed) {
    if (!e.belts.empty() || e.machine.empty())
        return e;
    e.belts = ledger.belts_on(e.machine, e.at);
    if (e.belts.empty() && needed)
        throw Error(ErrorKind::input, fmt::format("no belts are fitted to \"{}\" then", printable(e.machine)),
                    "loamway ledger belts fit NAME --machine NAME");
    return e;
}

/// What was otherwise than planned.
AsDriven as_driven(const LedgerFlags& f) {
    AsDriven driven;
    if (!f.driven_km.empty())
        driven.length = Length::from_km(flag_number("--driven-km", f.driven_km, "kilometres"));
    if (!f.departed.empty())
        driven.departed = ledger_moment(f.departed, "--departed");
    if (!f.at.empty())
        driven.arrived = ledger_moment(f.at, "--at");
    return driven;
}

std::vector<double> numbers_of(const std::vector<std::string>& said) {
    std::vector<double> out;
    for (const std::string& one : said)
        out.push_back(flag_number("--mm", one, "millimetres"));
    return out;
}

std::optional<BeltsAdded> set_named(const Ledger& ledger, const std::string& name) {
    const std::vector<std::string> known = ledger.belts_names();
    if (std::find(known.begin(), known.end(), name) == known.end())
        return std::nullopt;  // which the ledger says better when it is written to
    return ledger.record(name).added;
}

/// Heights with decimal commas come apart into twice as many: asked for when the pairs make heights.
std::string heights_meant(const BeltsAdded& set, const std::vector<std::string>& said) {
    const auto digits = [](const std::string& s) {
        return std::all_of(s.begin(), s.end(), [](char c) { return c >= '0' && c <= '9'; });
    };
    constexpr const char* otherwise =
        "leave a torn bar out and note it with: loamway ledger condition --chunking; decimals take a point";
    if (said.size() % 2 != 0 || !std::all_of(said.begin(), said.end(), digits))
        return otherwise;
    std::string joined;
    for (std::size_t i = 0; i < said.size(); i += 2)
        joined += fmt::format("{}{}.{}", i == 0 ? "" : ",", said[i], said[i + 1]);
    return implausible_heights(set, numbers_of(flag_list("--mm", joined))).empty()
               ? fmt::format("did you mean {}? decimals take a point, commas part the bars", joined)
               : otherwise;
}

/// Why what was just read settles nothing, as `show` says it.
std::vector<std::string> not_used(const Ledger& ledger, const std::string& belts, std::int64_t event) {
    const LedgerReport report = report_on_ledger(ledger, belts);
    std::vector<std::string> out;
    if (const auto& heat = report.belts.front().heat) {
        const std::string mine = fmt::format("event {}: ", event);
        for (const std::string& why : heat->refused)
            if (why.starts_with(mine))
                out.push_back(why.substr(mine.size()));
        out.insert(out.end(), heat->notes.begin(), heat->notes.end());
    }
    return out;
}

Value machine_document(const std::string& path) {
    require_readable(path);
    Value document = parse_toml(read_text_file(path, largest_profile), path);
    (void)read_machine(document, path);
    return document;
}

}  // namespace

std::string ledger_of(const LedgerFlags& f) {
    return f.ledger.empty() ? default_ledger() : f.ledger;
}

Instant ledger_moment(const std::string& text, const char* flag) {
    if (text.empty())
        return now();
    try {
        return parse_time(text, TimeZone());
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("{}: {}", flag, e.message()), e.what_to_do());
    }
}

int ledger_write(const LedgerFlags& f, EventKind kind, bool belts_needed) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, kind), belts_needed);
    // Belts that are spoken of by their name carry their machine along.
    if (e.machine.empty() && !e.belts.empty())
        e.machine = ledger.machine_of(e.belts, e.at);
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
    return report_written(f, e, ledger.write(e));
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

int ledger_add_move(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = event_of(f, EventKind::moved);
    if (!f.plan.empty()) {
        if (f.plan == "-")
            throw Error(ErrorKind::input, "a plan to be noted cannot come through a pipe", "name its file");
        require_readable(f.plan);
        const Plan plan = plan_from_json(parse_json(read_text_file(f.plan), f.plan), f.plan);
        if (f.option.empty() && plan.verdict.option.empty())
            throw Error(ErrorKind::input, "this plan advises no option: nothing of it can be done as asked",
                        "name the one that was driven all the same: --option ID", {f.plan, {}, {}});
        const Option& option = plan.option_for_output(f.option);
        e.data = to_value(move_done(plan, option, as_driven(f)));
        if (f.at.empty() && option.arrive)
            e.at = *option.arrive;
        if (e.machine.empty() && e.belts.empty())
            e.machine = plan.move.machine;
        // The same plan driven at the same time is one move, however often it is written.
        e.token = fmt::format("plan {} {} {}", digest_of_file(f.plan), option.id, e.at.unix_seconds);
    } else {
        if (!f.driven_km.empty() || !f.departed.empty())
            throw Error(ErrorKind::input, "--driven-km and --departed go with the plan that was driven",
                        "give PLAN.json, or --paved-km, --gravel-km, --earth-km and --hours alone");
        Value metres{Value::Object{}};
        for (const auto& [key, value] : *e.data.as_object())
            metres.set(key.ends_with("_km") ? key.substr(0, key.size() - 3) + "_m" : key,
                       key.ends_with("_km") ? Value(value.number() * 1000) : value);
        e.data = metres;
        if (read_move_done(e.data, "the move").length_m() <= 0)
            throw Error(ErrorKind::input, "a move without length",
                        "give PLAN.json, or --paved-km, --gravel-km, --earth-km");
    }
    e = with_belts(ledger, e, true);
    return report_written(f, e, ledger.write(e));
}

int ledger_add_heights(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, EventKind::heights), true);
    const std::vector<std::string> said = flag_list("--mm", f.heights);
    const std::vector<double> mm = numbers_of(said);
    if (const auto set = set_named(ledger, e.belts))
        if (const std::string why = implausible_heights(*set, mm); !why.empty())
            throw Error(ErrorKind::input, fmt::format("--mm {}: {}", printable(f.heights), why),
                        heights_meant(*set, said));
    e.data.set("mm", Value::Array(mm.begin(), mm.end()));
    const int status = report_written(f, e, ledger.write(e));
    if (mm.size() < 10 && !f.json)
        print("fewer than ten bars: the height is kept, but it teaches no wear rate\n");
    return status;
}

int ledger_add_reading(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, EventKind::reading), true);
    if (e.machine.empty())
        e.machine = ledger.machine_of(e.belts, e.at);
    // A state that the machine does not have would make the reading useless later.
    if (const auto machine = machine_named(ledger, e.machine))
        (void)machine->state(read_reading_note(e.data, "the reading").state);
    const Written w = ledger.write(e);
    const std::vector<std::string> unused = not_used(ledger, e.belts, w.id);
    if (f.json) {
        print(to_json(Value(Value::Object{{"event", w.id},
                                          {"was_there", w.was_there},
                                          {"not_used", Value::Array(unused.begin(), unused.end())}})) +
              "\n");
        return 0;
    }
    const int status = report_written(f, e, w);
    for (const std::string& why : unused)
        print(fmt::format("noted, not used: {}\n", why));
    return status;
}

int ledger_undo(const LedgerFlags& f) {
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
