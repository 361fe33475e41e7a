// SPDX-License-Identifier: Apache-2.0
// loamway ledger: what happened to machines and belts, and what it adds up to
#include <CLI/CLI.hpp>
#include <functional>
#include <memory>

#include "command.h"
#include "ledger_verbs.h"

namespace loamway {

namespace {

using Flags = std::shared_ptr<LedgerFlags>;

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
        option("--at", m_flags->at, "when it happened, 2026-07-14T14:00Z or with an offset, +02:00 (now)",
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
        m_flags->flags[key] = flag;
        return option(flag, m_flags->numbers[key], what, unit);
    }
    Verb& word(const char* flag, const char* key, const char* what) {
        m_flags->flags[key] = flag;
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
    return [=](const LedgerFlags& f) { return ledger_write(f, kind, belts_needed); };
}
std::function<int(const LedgerFlags&)> changes(EventKind kind) {
    return [=](const LedgerFlags& f) { return ledger_change_belts(f, kind); };
}

void add_machine_verbs(CLI::App* ledger, Chosen& chosen) {
    CLI::App* machine = ledger->add_subcommand("machine", "machines");
    machine->require_subcommand(1);
    Verb add(machine, "add",
             "a machine and its profile; a later one under the same name replaces the profile", chosen);
    add.named("name", "what it is called from now on").written();
    add.option("--profile", add.flags().profile, "machine profile", "FILE")
        .require("--profile")
        .runs(ledger_add_machine);
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
    add.runs(ledger_add_belts);
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
    add.option("--driven-km", add.flags().driven_km, "trip meter, of the driven part (the plan's length)",
               "KM");
    add.option("--departed", add.flags().departed,
               "when it left, with Z or an offset; with --at, when it arrived (as planned)", "TIME");
    add.flag("--again", add.flags().again,
             "the plan was driven once more; with --at, when it arrived this time");
    add.written().machine("machine (the plan's)").belts();
    add.number("--paved-km", "hard_km", "paved", "KM").number("--gravel-km", "gravel_km", "gravel", "KM");
    add.number("--earth-km", "earth_km", "earth", "KM").number("--hours", "hours", "driven", "H");
    add.on("--lubricated", "lubricated", "powdered on the way or before it");
    add.number("--since-lube", "since_relube_km", "driven since the last powder, at the end", "KM");
    add.runs(ledger_add_move);
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
    reading.word("--state", "state", "working state of the machine then (its first)")
        .number("--bar-mm", "bar_mm", "height of the bars, measured then (estimated)", "MM")
        .number("--sd", "sd_c", "how far instrument and spot may be off (2)", "C");
    for (const char* needed : {"--c", "--after-min", "--km", "--kmh", "--air"})
        reading.require(needed);
    reading.runs(ledger_add_reading);
    Verb height(ledger, "height", "heights of bars, the same ones each time", chosen);
    height.written()
        .machine()
        .belts()
        .option("--mm", height.flags().heights, "bar by bar", "MM,MM,...")
        .require("--mm");
    height.runs(ledger_add_heights);
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
    cost.word("--currency", "currency", "of the amount");
    cost.option("--note", cost.flags().words["what"], "for what, in words", "TEXT");
    cost.runs(writes(EventKind::cost, false));
}

void add_store_verbs(CLI::App* ledger, Chosen& chosen) {
    Verb show_verb(ledger, "show", "what it adds up to: all belts, or one set by its name or its machine's",
                   chosen);
    show_verb.named("name", "belts or machine", false);
    show_verb.option("--as-of", show_verb.flags().as_of,
                     "as it was then, 2026-07-14T14:00Z or with an offset (now)", "TIME");
    show_verb.flag("--events", show_verb.flags().events, "every event instead").runs(ledger_show);
    Verb out(ledger, "export", "every event, one JSON object a line", chosen);
    out.option("-o,--output", out.flags().output, "file (standard output)", "FILE").runs(ledger_export);
    Verb in(ledger, "import", "events as exported; those that are there already are left alone", chosen);
    in.named("file", "exported events, - for standard input").written().runs(ledger_import);
    Verb undo_verb(ledger, "undo", "takes an event back, by another event", chosen);
    undo_verb.named("event", "its number, as show --events lists it", false)
        .written()
        .note()
        .runs(ledger_undo);
    Verb verify_verb(ledger, "verify", "whether the store is whole", chosen);
    verify_verb.runs(ledger_verify);
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
}

}  // namespace loamway
