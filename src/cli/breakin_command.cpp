// SPDX-License-Identifier: Apache-2.0
// loamway breakin: break-in and preconditioning plan
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>
#include <optional>

#include "command.h"
#include "console.h"
#include "loamway/base/names.h"
#include "loamway/belt/break_in.h"
#include "loamway/desk/belts.h"
#include "loamway/ledger/noting.h"
#include "loamway/plan/cautions.h"
#include "loamway/report/layout.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t text_width = 92;

struct BreakInFlags {
    std::string machine, state, belts, ledger, hours, air;
    bool preconditioned = false, json = false;
};

struct Question {
    Machine machine;
    WorkingState state;
    BeltsNow belts;
    Conditions conditions;
    std::string set, as_of;  // of the ledger; empty without
    bool later = false;      // something is noted for after that
};

double number_within(std::string_view flag, const std::string& text, std::string_view unit, double low,
                     double high) {
    const double v = flag_number(flag, text, unit);
    if (v < low || v > high)
        throw Error(ErrorKind::input, fmt::format("{} {} is out of range", flag, printable(text)),
                    fmt::format("{:g} to {:g} {}", low, high, unit));
    return v;
}

MoveRequest request_of(const BreakInFlags& flags) {
    MoveRequest r;
    if (!flags.machine.empty()) {
        r.machine = flags.machine;
        if (flags.ledger.empty())
            require_readable(flags.machine);
    }
    if (!flags.ledger.empty())
        r.ledger = flags.ledger;
    if (!flags.state.empty())
        r.state = flags.state;
    // Who asks about breaking in without a ledger asks about new belts.
    if (!flags.belts.empty() || flags.ledger.empty())
        r.belts = flags.belts.empty() ? "new" : flags.belts;
    if (!flags.hours.empty())
        r.belt_hours = number_within("--hours", flags.hours, "hours", 0, 100000);
    if (flags.preconditioned)
        r.preconditioned = true;
    return r;
}

Question question_of(const BreakInFlags& flags) {
    if (flags.machine.empty() && flags.ledger.empty())
        throw Error(ErrorKind::input, "the machine is missing",
                    "give --machine FILE.toml; examples/profiles has some to copy");
    Question q;
    if (!flags.air.empty()) {
        q.conditions.air =
            Temperature::from_celsius(number_within("--air", flags.air, "degrees Celsius", -50, 60));
        q.conditions.air_assumed = false;
    }
    const Instant at = now();
    MachineBelts known = prepare_belts(request_of(flags), at);
    if (!flags.ledger.empty() && (known.record || flags.belts.empty())) {
        const Ledger ledger = Ledger::open(flags.ledger, LedgerUse::read);
        // Asked of a ledger that knows nothing of this machine's belts, the answer would be another set's.
        if (!known.record)
            (void)belts_then(ledger, flags.machine, at);
        q.set = known.record->belts;
        q.as_of = minute_words(at);
        q.later = noted_for_later(ledger, *known.record);
    }
    q.machine = std::move(known.machine);
    q.belts = known.belts;
    q.state = q.machine.state(flags.state);
    if (flags.preconditioned && q.belts.condition != BeltsNow::Condition::not_run_in)
        throw Error(ErrorKind::input, "--preconditioned speaks of new belts",
                    "leave it out, or give --belts new");
    return q;
}

// ---- text, to print and to tick

std::string phase_text(const BreakInPhase& phase) {
    std::string out = fmt::format("\n{}\n", phase.title);
    for (const BreakInLine& line : phase.lines)
        out += wrapped("  [ ] ", fmt::format("{} ({})", line.text, name_of(line.basis)), text_width);
    return out;
}

/// To the tenth that a meter shows: "136.2".
std::string meter_text(double hours) {
    return fmt::format("{:g}", std::round(hours * 10) / 10);
}

std::string hours_text(const RoadStage& s) {
    return s.to_h ? fmt::format("{}-{}", meter_text(s.from_h), meter_text(*s.to_h))
                  : fmt::format("from {}", meter_text(s.from_h));
}

std::string stages_text(const BreakInPlan& plan, const Question& q) {
    std::string out =
        fmt::format("\nRoad by belt hours, air {:.0f} °C{}, sun {:g}\n", q.conditions.air.celsius(),
                    q.conditions.air_assumed ? " (assumed)" : "", q.conditions.sun);
    out += fmt::format("  {:<9}  {:>10}  {:>13}  {:>15}  {:>14}  {:>11}\n", "hours", "paved km/h",
                       "share of time", "paved in one go", "powder at last", "start, 3-5 km");
    for (const RoadStage& s : plan.stages)
        out += fmt::format(
            "  {:<9}  {:>10.0f}  {:>13}  {:>15}  {:>14}  {:>11}\n", hours_text(s), s.paved_cap.kmh(),
            s.road_share ? fmt::format("to {:.0f} %", 100 * *s.road_share) : "-",
            fmt::format("{}{:.0f} km", s.paved_run_is_longer ? "over " : "", std::floor(s.paved_run.km())),
            s.relube_interval > Length() ? fmt::format("{:.1f} km", s.relube_interval.km()) : "drive slower",
            s.lube_at_start ? "powder, look" : "-");
    out += wrapped(
        "  ",
        "Speed and share: assumption; that they rise slowly is common practice. Plans keep to the speed of the hours "
        "the belts have at departure. Paved in one go: estimate, not "
        "calibrated: from cold until the upper edge of the bar's temperature reaches its limit. Powder at "
        "last: the shorter of 15 km (common practice) and what the guide-lug estimate allows.",
        text_width);
    return out;
}

std::string headline(const BreakInPlan& plan, const Question& q) {
    if (plan.road_waits)
        return fmt::format(
            "Not on the road yet: precondition {} first.",
            q.machine.belts.count == 2 ? "both belts" : fmt::format("all {} belts", q.machine.belts.count));
    if (q.belts.condition == BeltsNow::Condition::washed)
        return "Washed belts run dry: powder, then 15 minutes slowly, before the road.";
    if (!plan.stages.empty())
        return "Run in gently: speed and road share rise with the hours.";
    return "Nothing left to break in. After washing, a ford or new belts: ask again.";
}

std::string plan_text(const BreakInPlan& plan, const Question& q) {
    std::string out = headline(plan, q) + "\n";
    out += fmt::format("{}, {}; belts {}{}\n", printable(q.machine.name), printable(q.state.name),
                       name_of(q.belts.condition),
                       q.belts.hours ? fmt::format(", {} h", meter_text(*q.belts.hours)) : "");
    if (!q.set.empty())
        out += fmt::format("{} as of {}{}\n", printable(q.set), q.as_of,
                           q.later ? "; what is noted for later is left out" : "");
    for (const BreakInPhase& phase : plan.phases)
        out += phase_text(phase);
    if (!plan.stages.empty())
        out += stages_text(plan, q);
    out += "\nCautions\n";
    for (const std::string& caution : standard_cautions(plan.road_waits))
        out += wrapped("- ", caution, text_width);
    return out;
}

// ---- JSON

Value tenths(double v) {
    return Value(std::round(v * 10.0) / 10.0);
}

Value stage_json(const RoadStage& s) {
    return Value::Object{{"from_h", Value(s.from_h)},
                         {"to_h", s.to_h ? Value(*s.to_h) : Value()},
                         {"paved_kmh", tenths(s.paved_cap.kmh())},
                         {"road_share", s.road_share ? Value(*s.road_share) : Value()},
                         {"paved_run_km", tenths(s.paved_run.km())},
                         {"paved_run_is_longer", s.paved_run_is_longer},
                         {"limit_c", tenths(s.limit.celsius())},
                         {"relube_interval_m", Value(std::round(s.relube_interval.metres()))},
                         {"lube_at_start", s.lube_at_start},
                         {"check_stop", s.check_stop}};
}

Value plan_json(const BreakInPlan& plan, const Question& q) {
    Value::Array phases, stages;
    for (const BreakInPhase& p : plan.phases) {
        Value::Array lines;
        for (const BreakInLine& line : p.lines)
            lines.push_back(Value::Object{{"text", line.text}, {"basis", Value(name_of(line.basis))}});
        phases.push_back(Value::Object{{"title", p.title}, {"lines", lines}});
    }
    for (const RoadStage& s : plan.stages)
        stages.push_back(stage_json(s));
    const std::vector<std::string> cautions = standard_cautions(plan.road_waits);
    return Value::Object{{"schema", "loamway.breakin/1"},
                         {"headline", headline(plan, q)},
                         {"machine", q.machine.name},
                         {"state", q.state.name},
                         {"belts", Value(name_of(q.belts.condition))},
                         {"hours", q.belts.hours ? Value(*q.belts.hours) : Value()},
                         {"set", q.set.empty() ? Value() : Value(q.set)},
                         {"as_of", q.as_of.empty() ? Value() : Value(q.as_of)},
                         {"preconditioned", q.belts.preconditioned},
                         {"air_c", Value(q.conditions.air.celsius())},
                         {"air_assumed", q.conditions.air_assumed},
                         {"calibrated", false},
                         {"road_waits", plan.road_waits},
                         {"phases", phases},
                         {"stages", stages},
                         {"cautions", Value::Array(cautions.begin(), cautions.end())}};
}

int run_break_in(const BreakInFlags& flags) {
    const Question q = question_of(flags);
    const BreakInPlan plan = break_in_plan(q.machine, q.state, q.belts, q.conditions);
    print(flags.json ? to_json(plan_json(plan, q), 2) + "\n" : plan_text(plan, q));
    return 0;
}

}  // namespace

void add_breakin_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("breakin", "break-in and preconditioning of a set of belts");
    auto flags = std::make_shared<BreakInFlags>();
    sub->add_option("--machine", flags->machine, "machine profile, or a machine of the ledger")
        ->type_name("FILE");
    sub->add_option("--belts", flags->belts,
                    "new, run-in, washed, or a set of the ledger (new; with a ledger those on the machine)")
        ->type_name("WORD");
    sub->add_option("--ledger", flags->ledger, "ledger that knows machine or belts by name")
        ->type_name("FILE|URL");
    sub->add_option("--hours", flags->hours, "hours the belts have run (new belts 0, others past 100)")
        ->type_name("H");
    sub->add_flag("--preconditioned", flags->preconditioned,
                  "new belts that have been powdered and driven slowly");
    sub->add_option("--state", flags->state, "working state of the machine (its first one)")
        ->type_name("NAME");
    sub->add_option("--air", flags->air, "air temperature the road table holds for (20, assumed)")
        ->type_name("C");
    sub->add_flag("--json", flags->json, "print JSON");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run_break_in(*flags); }; });
}

}  // namespace loamway
