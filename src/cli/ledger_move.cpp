// SPDX-License-Identifier: Apache-2.0
// loamway ledger move add: a move that was driven, as planned or otherwise.
#include <fmt/format.h>

#include "command.h"
#include "console.h"
#include "ledger_verbs.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/ledger/noting.h"
#include "loamway/ledger/plan_move.h"
#include "loamway/ledger/plausible.h"
#include "loamway/region/digest.h"
#include "loamway/text/document_kind.h"

namespace loamway {

namespace {

constexpr double most_km = 10000;

/// What was otherwise than planned.
AsDriven as_driven(const LedgerFlags& f) {
    AsDriven driven;
    if (!f.driven_km.empty())
        driven.length = Length::from_km(flag_number("--driven-km", f.driven_km, "kilometres"));
    if (!f.departed.empty())
        check_happened(*(driven.departed = ledger_moment(f.departed, "--departed")), now(), "--departed");
    if (!f.at.empty())
        driven.arrived = ledger_moment(f.at, "--at");
    return driven;
}

Plan plan_driven(const LedgerFlags& f) {
    if (f.plan == "-")
        throw Error(ErrorKind::input, "a plan to be noted cannot come through a pipe", "name its file");
    require_readable(f.plan);
    Plan plan = plan_from_json(parse_document(read_text_file(f.plan), f.plan, DocumentKind::plan), f.plan);
    if (f.option.empty() && plan.verdict.option.empty())
        throw Error(ErrorKind::input, "this plan advises no option: nothing of it can be done as asked",
                    "name the one that was driven all the same: --option ID", {f.plan, {}, {}});
    return plan;
}

/// Powder that was not planned; the other figures of a move without a plan would be lost beside one.
void take_powder(const Value& said, MoveDone& m) {
    for (const auto& [key, value] : *said.as_object()) {
        if (key == "lubricated")
            m.lubricated = true;
        else if (key == "since_relube_km")
            m.since_relube_m = value.number() * 1000, m.lubricated = true;
        else
            throw Error(ErrorKind::input, "kilometres by surface and hours go without a plan",
                        "with PLAN.json: --driven-km, and --departed with --at");
    }
}

/// Returns what the tokens of this plan begin with.
std::string fill_from_plan(const LedgerFlags& f, Event& e) {
    const Plan plan = plan_driven(f);
    const Option& option = plan.option_for_output(f.option);
    MoveDone done = move_done(plan, option, as_driven(f));
    take_powder(e.data, done);
    e.data = to_value(done);
    if (f.at.empty() && option.arrive)
        check_happened(e.at = *option.arrive, now(), "arrival of the plan");
    if (e.machine.empty() && e.belts.empty())
        e.machine = plan.move.machine;
    // The same plan driven at the same time is one move, however often it is written.
    std::string start = fmt::format("plan {} ", digest_of_file(f.plan));
    e.token = start + fmt::format("{} {}", option.id, e.at.unix_seconds);
    return start;
}

void fill_from_figures(const LedgerFlags& f, Event& e) {
    if (!f.driven_km.empty() || !f.departed.empty())
        throw Error(ErrorKind::input, "--driven-km and --departed go with the plan that was driven",
                    "give PLAN.json, or --paved-km, --gravel-km, --earth-km and --hours alone");
    Value metres{Value::Object{}};
    for (const auto& [key, value] : *e.data.as_object()) {
        if (key.ends_with("_km") && (value.number() < 0 || value.number() > most_km))
            throw Error(ErrorKind::input, fmt::format("{} = {:g} is outside 0..{:g}", f.flags.at(key),
                                                      value.number(), most_km));
        metres.set(key.ends_with("_km") ? key.substr(0, key.size() - 3) + "_m" : key,
                   key.ends_with("_km") ? Value(value.number() * 1000) : value);
    }
    e.data = metres;
    check_said(f, e);
    if (read_move_done(e.data, "the move").length_m() <= 0)
        throw Error(ErrorKind::input, "a move without length",
                    "give PLAN.json, or --paved-km, --gravel-km, --earth-km");
}

}  // namespace

int ledger_add_move(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = event_of(f, EventKind::moved);
    if (f.plan.empty() && f.again)
        throw Error(ErrorKind::input, "--again goes with the plan that was driven once more",
                    "give PLAN.json; a move by its kilometres is noted each time");
    if (f.plan.empty())
        fill_from_figures(f, e);
    const std::string start = f.plan.empty() ? std::string() : fill_from_plan(f, e);
    e = with_belts(ledger, e, true);
    settle_repeat(ledger, e);
    if (!start.empty() && !f.again)
        require_driven_once(ledger, e, start, "if it was driven once more, say so: --again");
    require_possible(ledger, e);
    return report_written(f, e, ledger.write(e));
}

}  // namespace loamway
