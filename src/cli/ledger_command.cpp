// SPDX-License-Identifier: Apache-2.0
// loamway ledger: what happened to machines and belts, and what it adds up to
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <functional>
#include <memory>

#include "command.h"
#include "console.h"
#include "ledger_text.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/ledger/ledger.h"
#include "loamway/ledger/plan_move.h"
#include "loamway/region/digest.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;
constexpr std::size_t largest_import = std::size_t{1} << 30;

/// What every verb takes.
struct LedgerFlags {
    std::string ledger, machine, belts, at, by, note;
    bool json = false;
    std::string name;                            // the verb's own word
    std::map<std::string, std::string> numbers;  // by key of the event's data
    std::map<std::string, std::string> words;
    std::map<std::string, bool> switches;
    std::string profile, plan, option, heights, output, as_of;
    bool fit = false, events = false;
};

using Flags = std::shared_ptr<LedgerFlags>;

std::string where(const LedgerFlags& f) {
    return f.ledger.empty() ? default_ledger() : f.ledger;
}

Instant moment(const std::string& text, const char* flag) {
    if (text.empty())
        return now();
    try {
        return parse_time(text, TimeZone());
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("{}: {}", flag, e.message()), e.what_to_do());
    }
}

Event event_of(const LedgerFlags& f, EventKind kind) {
    Event e;
    e.kind = kind;
    e.at = moment(f.at, "--at");
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
                      : fmt::format("event {}: {}{}\n", w.id, name_of(e.kind),
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

int write_event(const LedgerFlags& f, EventKind kind, bool belts_needed) {
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, kind), belts_needed);
    // Belts that are spoken of by their name carry their machine along.
    if (e.machine.empty() && !e.belts.empty())
        e.machine = ledger.machine_of(e.belts, e.at);
    return report_written(f, e, ledger.write(e));
}

// ---- verbs with more to them

Value machine_document(const std::string& path) {
    require_readable(path);
    Value document = parse_toml(read_text_file(path, largest_profile), path);
    (void)read_machine(document, path);
    return document;
}

int add_machine(const LedgerFlags& f) {
    Event e = event_of(f, EventKind::machine_added);
    e.machine = f.name;
    e.data.set("profile", machine_document(f.profile));
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
    return report_written(f, e, ledger.write(e));
}

/// The latest profile of a machine, or nullopt.
std::optional<Machine> machine_named(const Ledger& ledger, const std::string& name) {
    std::optional<Machine> out;
    if (name.empty())
        return out;
    EventQuery q;
    q.machine = name;
    for (const Event& e : ledger.events(q))
        if (e.kind == EventKind::machine_added)
            out = read_machine(*e.data.find("profile"), fmt::format("event {}", e.id));
    return out;
}

int add_belts(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
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

int change_belts(const LedgerFlags& f, EventKind kind) {
    LedgerFlags named = f;
    named.belts = f.name;
    return write_event(named, kind, false);
}

int add_move(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
    Event e = event_of(f, EventKind::moved);
    if (!f.plan.empty()) {
        if (f.plan == "-")
            throw Error(ErrorKind::input, "a plan to be noted cannot come through a pipe", "name its file");
        require_readable(f.plan);
        const Plan plan = plan_from_json(parse_json(read_text_file(f.plan), f.plan), f.plan);
        const Option& option = plan.option_for_output(f.option);
        e.data = to_value(move_done(plan, option));
        if (f.at.empty() && option.arrive)
            e.at = *option.arrive;
        if (e.machine.empty() && e.belts.empty())
            e.machine = plan.move.machine;
        // The same plan driven at the same time is one move, however often it is written.
        e.token = fmt::format("plan {} {} {}", digest_of_file(f.plan), option.id, e.at.unix_seconds);
    } else {
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

int add_heights(const LedgerFlags& f) {
    LedgerFlags filled = f;
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
    Event e = event_of(filled, EventKind::heights);
    Value::Array mm;
    for (const std::string& h : flag_list("--mm", f.heights))
        mm.emplace_back(flag_number("--mm", h, "millimetres"));
    const std::size_t bars = mm.size();
    e.data.set("mm", std::move(mm));
    e = with_belts(ledger, e, true);
    const int status = report_written(f, e, ledger.write(e));
    if (bars < 10 && !f.json)
        print("fewer than ten bars: the height is kept, but it teaches no wear rate\n");
    return status;
}

int undo(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
    std::int64_t id = 0;
    const auto [end, fault] = std::from_chars(f.name.data(), f.name.data() + f.name.size(), id);
    if (fault != std::errc() || end != f.name.data() + f.name.size())
        throw Error(ErrorKind::input, fmt::format("\"{}\" is no number of an event", printable(f.name)),
                    "loamway ledger show --events lists them");
    Event e = event_of(f, EventKind::undone);
    e.data.set("event", id);
    return report_written(f, e, ledger.write(e));
}

// ---- reading

BeltReport report_on(const Ledger& ledger, const std::string& belts, const std::optional<Instant>& until) {
    EventQuery q;
    q.belts = belts;
    q.until = until;
    const std::vector<Event> events = ledger.events(q);
    BeltReport out{belt_record(events, belts), std::nullopt};
    if (const auto machine = machine_named(ledger, out.record.machine))
        out.heat = learn_heat(*machine, noted_readings(events));
    return out;
}

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
            throw Error(ErrorKind::not_found, fmt::format("\"{}\" carries no belts then", printable(name)),
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

int show(const LedgerFlags& f) {
    const Ledger ledger = Ledger::open(where(f), LedgerUse::read);
    std::optional<Instant> until;
    if (!f.as_of.empty())
        until = moment(f.as_of, "--as-of");
    const Instant at = until.value_or(now());
    EventQuery q;
    q.until = until;
    if (!f.name.empty())
        q.belts = belts_meant(ledger, f.name, at);
    if (f.events)
        return show_events(f, ledger, q);
    std::vector<BeltReport> reports;
    if (!f.name.empty()) {
        reports.push_back(report_on(ledger, q.belts, until));
    } else {
        std::vector<std::string> there;
        for (const Event& e : ledger.events(q))
            if (e.kind == EventKind::belts_added)
                there.push_back(e.belts);
        for (const std::string& belts : there)
            reports.push_back(report_on(ledger, belts, until));
    }
    const std::map<std::string, int> removals =
        removal_counts(ledger.events(EventQuery{{}, {}, until, false}));
    if (f.json) {
        Value::Array belts, machines;
        for (const BeltReport& r : reports)
            belts.push_back(belts_json(r));
        for (const std::string& m : ledger.machine_names())
            machines.emplace_back(m);
        Value causes{Value::Object{}};
        for (const auto& [cause, count] : removals)
            causes.set(cause, count);
        print(to_json(Value(Value::Object{{"schema", "loamway.ledger/1"},
                                          {"machines", machines},
                                          {"belts", belts},
                                          {"removed", causes}}),
                      1) +
              "\n");
    } else {
        print(f.name.empty() ? overview_text(reports, ledger.machine_names(), removals)
                             : belts_text(reports.front()));
    }
    return 0;
}

int export_events(const LedgerFlags& f) {
    if (!f.output.empty())
        require_writable(f.output);
    const Ledger ledger = Ledger::open(where(f), LedgerUse::read);
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

// Numbers change when events move to another ledger: what an undoing points at is looked up by its old
// number.
std::vector<Event> imported_events(const std::string& path) {
    const std::string text = read_text_file(path, largest_import);
    std::vector<Event> out;
    std::size_t at = 0;
    for (int line = 1; at < text.size(); ++line) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string one = text.substr(at, end - at);
        at = end + 1;
        if (one.find_first_not_of(" \t\r") == std::string::npos)
            continue;
        try {
            out.push_back(event_from_value(parse_json(one, path), path));
        } catch (const Error& e) {
            throw Error(e.kind(), e.message(), e.what_to_do(), {path, line, e.place().item});
        }
    }
    return out;
}

int import_events(const LedgerFlags& f) {
    if (f.name != "-")
        require_readable(f.name);
    std::vector<Event> events = imported_events(f.name);
    for (Event& e : events)
        if (e.token.empty())
            e.token = fmt::format("import {} {}", e.id, format_rfc3339(e.noted, TimeZone()));
    Ledger ledger = Ledger::open(where(f), LedgerUse::write);
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

int verify(const LedgerFlags& f) {
    const Ledger ledger = Ledger::open(where(f), LedgerUse::read);
    ledger.verify();
    print(f.json ? "{\"sound\":true}\n" : "the ledger is sound: every event reads back\n");
    return 0;
}

// ---- the command line

class Verb {
public:
    Verb(CLI::App* parent, const char* name, const char* what, Chosen& chosen)
        : m_flags(std::make_shared<LedgerFlags>()),
          m_app(parent->add_subcommand(name, what)),
          m_chosen(chosen) {
        option("--ledger", m_flags->ledger,
               "file, or postgresql://USER@HOST/NAME (LOAMWAY_LEDGER, else loamway.ledger)", "FILE");
        m_app->add_flag("--json", m_flags->json, "print JSON");
    }
    Verb& named(const char* word, const char* what, bool required = true) {
        auto* o = m_app->add_option(word, m_flags->name, what)->type_name("NAME");
        if (required)
            o->required();
        return *this;
    }
    Verb& written() {
        option("--at", m_flags->at, "when it happened, 2026-07-14T14:00 in UTC or with an offset (now)",
               "TIME");
        option("--by", m_flags->by, "who says so", "WHO");
        return *this;
    }
    Verb& machine(const char* what = "machine it concerns") {
        option("--machine", m_flags->machine, what, "NAME");
        return *this;
    }
    Verb& belts() {
        option("--belts", m_flags->belts, "belts it concerns (those on the machine)", "NAME");
        return *this;
    }
    Verb& note() {
        option("--note", m_flags->note, "in words", "TEXT");
        return *this;
    }
    Verb& number(const char* flag, const char* key, const char* what, const char* unit) {
        return option(flag, m_flags->numbers[key], what, unit);
    }
    Verb& word(const char* flag, const char* key, const char* what) {
        return option(flag, m_flags->words[key], what, "WORD");
    }
    Verb& on(const char* flag, const char* key, const char* what) {
        m_app->add_flag(flag, m_flags->switches[key], what);
        return *this;
    }
    Verb& option(const char* flag, std::string& to, const char* what, const char* type) {
        m_app->add_option(flag, to, what)->type_name(type);
        return *this;
    }
    Verb& flag(const char* name, bool& to, const char* what) {
        m_app->add_flag(name, to, what);
        return *this;
    }
    LedgerFlags& flags() { return *m_flags; }
    Verb& require(const char* name) {
        m_app->get_option(name)->required();
        return *this;
    }
    void runs(std::function<int(const LedgerFlags&)> work) {
        const Flags flags = m_flags;
        Chosen& chosen = m_chosen;
        m_app->callback([flags, work, &chosen] { chosen.work = [flags, work] { return work(*flags); }; });
    }

private:
    Flags m_flags;
    CLI::App* m_app;
    Chosen& m_chosen;
};

std::function<int(const LedgerFlags&)> writes(EventKind kind, bool belts_needed) {
    return [=](const LedgerFlags& f) { return write_event(f, kind, belts_needed); };
}
std::function<int(const LedgerFlags&)> changes(EventKind kind) {
    return [=](const LedgerFlags& f) { return change_belts(f, kind); };
}

void add_machine_verbs(CLI::App* ledger, Chosen& chosen) {
    CLI::App* machine = ledger->add_subcommand("machine", "machines");
    machine->require_subcommand(1);
    Verb add(machine, "add",
             "a machine and its profile; a later one under the same name replaces the profile", chosen);
    add.named("name", "what it is called from now on").written();
    add.option("--profile", add.flags().profile, "machine profile", "FILE")
        .require("--profile")
        .runs(add_machine);
}

void add_belt_verbs(CLI::App* ledger, Chosen& chosen) {
    CLI::App* belts = ledger->add_subcommand("belts", "sets of belts");
    belts->require_subcommand(1);
    Verb add(belts, "add", "a set of belts", chosen);
    add.named("name", "what the set is called from now on").written().note();
    add.machine("machine whose profile says the heights");
    add.flag("--fit", add.flags().fit, "fitted to that machine at once");
    add.number("--new-bar-mm", "new_bar_mm", "height of a new bar (the profile's)", "MM");
    add.number("--worn-mm", "worn_mm", "height at which the set is replaced (the profile's)", "MM");
    add.number("--hours", "hours", "hours run before (0)", "H").on("--run-in", "run_in", "run in already");
    add.number("--price", "price", "what the set cost, fitted", "MONEY")
        .word("--currency", "currency", "of the price");
    add.runs(add_belts);
    Verb fit(belts, "fit", "on a machine", chosen);
    fit.named("name", "belts")
        .written()
        .note()
        .machine("machine that carries them from now on")
        .require("--machine");
    fit.runs(changes(EventKind::fitted));
    Verb remove(belts, "remove", "off their machine, with the cause", chosen);
    remove.named("name", "belts").written().note();
    remove.word("--cause", "cause",
                "worn, guide_lugs, cord, cut, delaminated, other_damage, sold, season or other (other)");
    remove.runs(changes(EventKind::removed));
    Verb swap(belts, "swap", "left and right changed over", chosen);
    swap.named("name", "belts").written().note().runs(changes(EventKind::swapped));
    Verb rotate(belts, "rotate", "turned to run the other way round", chosen);
    rotate.named("name", "belts").written().note().runs(changes(EventKind::rotated));
}

void add_work_verbs(CLI::App* ledger, Chosen& chosen) {
    CLI::App* move = ledger->add_subcommand("move", "moves by road");
    move->require_subcommand(1);
    Verb add(move, "add", "a move that was driven: a plan, or its kilometres", chosen);
    add.option("plan", add.flags().plan, "plan that was driven", "PLAN.json");
    add.option("--option", add.flags().option, "option that was driven (the verdict's)", "ID");
    add.written().machine("machine (the plan's)").belts();
    add.number("--paved-km", "hard_km", "paved", "KM").number("--gravel-km", "gravel_km", "gravel", "KM");
    add.number("--earth-km", "earth_km", "earth", "KM").number("--hours", "hours", "driven", "H");
    add.on("--lubricated", "lubricated", "powdered on the way or before it");
    add.number("--since-lube", "since_relube_km", "driven since the last powder, at the end", "KM");
    add.runs(add_move);
    Verb field(ledger, "field", "work in the field", chosen);
    field.written()
        .machine()
        .belts()
        .number("--hours", "hours", "worked", "H")
        .number("--ha", "hectares", "worked", "HA");
    field.require("--hours").runs(writes(EventKind::field_work, true));
    Verb relube(ledger, "relube", "dry powder on the inside of the belts", chosen);
    relube.written().machine().belts().note().runs(writes(EventKind::lubricated, true));
    Verb wash(ledger, "wash", "washed, or through a ford: no powder left", chosen);
    wash.written().machine().belts().note().runs(writes(EventKind::washed, true));
}

void add_look_verbs(CLI::App* ledger, Chosen& chosen) {
    Verb reading(ledger, "reading", "infrared reading of a bar after a run at one speed", chosen);
    reading.written().machine().belts().number("--c", "reading_c", "what was read", "C");
    reading.number("--after-min", "after_stop_min", "minutes after stopping", "MIN");
    reading.number("--km", "length_km", "driven up to the stop", "KM")
        .number("--kmh", "speed_kmh", "speed", "KMH");
    reading.number("--air", "air_c", "air", "C")
        .number("--sun", "sun", "0 overcast to 1 clear (0.5)", "SHARE");
    reading.word("--surface", "surface", "asphalt, concrete, gravel, earth or field (asphalt)");
    reading.word("--place", "place", "flank or tip of the bar (flank)");
    for (const char* needed : {"--c", "--after-min", "--km", "--kmh", "--air"})
        reading.require(needed);
    reading.runs(writes(EventKind::reading, true));
    Verb height(ledger, "height", "heights of bars, the same ones each time", chosen);
    height.written()
        .machine()
        .belts()
        .option("--mm", height.flags().heights, "bar by bar", "MM,MM,...")
        .require("--mm");
    height.runs(add_heights);
    Verb condition(ledger, "condition", "what the belts look like", chosen);
    condition.written().machine().belts().note();
    condition.number("--guide-lugs-lost", "guide_lugs_lost", "since the last look", "N");
    condition.number("--edge-cuts", "edge_cuts", "since the last look", "N");
    condition.on("--chunking", "chunking", "pieces out of the bars")
        .on("--cord", "cord_visible", "cord can be seen");
    condition.runs(writes(EventKind::condition, true));
    Verb fault(ledger, "fault", "something went wrong", chosen);
    fault.written().machine().belts().note().require("--note").runs(writes(EventKind::fault, false));
    Verb cost(ledger, "cost", "money spent", chosen);
    cost.written().machine().belts().number("--amount", "amount", "how much", "MONEY").require("--amount");
    cost.word("--currency", "currency", "of the amount").word("--what", "what", "for what");
    cost.runs(writes(EventKind::cost, false));
}

void add_store_verbs(CLI::App* ledger, Chosen& chosen) {
    Verb show_verb(ledger, "show", "what it adds up to: all belts, or one set by its name or its machine's",
                   chosen);
    show_verb.named("name", "belts or machine", false);
    show_verb.option("--as-of", show_verb.flags().as_of, "as it was then (now)", "TIME");
    show_verb.flag("--events", show_verb.flags().events, "every event instead").runs(show);
    Verb out(ledger, "export", "every event, one JSON object a line", chosen);
    out.option("-o,--output", out.flags().output, "file (standard output)", "FILE").runs(export_events);
    Verb in(ledger, "import", "events as exported; those that are there already are left alone", chosen);
    in.named("file", "exported events, - for standard input").written().runs(import_events);
    Verb undo_verb(ledger, "undo", "takes an event back, by another event", chosen);
    undo_verb.named("event", "its number").written().note().runs(undo);
    Verb verify_verb(ledger, "verify", "whether the store is whole", chosen);
    verify_verb.runs(verify);
}

}  // namespace

void add_ledger_command(CLI::App& app, Chosen& chosen) {
    CLI::App* ledger =
        app.add_subcommand("ledger", "what happened to machines and belts, and what it adds up to");
    ledger->require_subcommand(1);
    add_machine_verbs(ledger, chosen);
    add_belt_verbs(ledger, chosen);
    add_work_verbs(ledger, chosen);
    add_look_verbs(ledger, chosen);
    add_store_verbs(ledger, chosen);
    ledger->footer(
        "Example:\n"
        "  loamway ledger machine add red --profile examples/profiles/medium.toml\n"
        "  loamway ledger belts add red-2026 --machine red --fit --price 16000 --currency CU\n"
        "  loamway ledger relube --machine red\n"
        "  loamway ledger move add plan.json --machine red\n"
        "  loamway ledger show red");
}

}  // namespace loamway
