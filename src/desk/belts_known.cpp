// SPDX-License-Identifier: Apache-2.0
#include "belts_known.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "loamway/base/error.h"
#include "loamway/desk/belts.h"
#include "move_words.h"
#include "profile_files.h"

namespace loamway {

BeltsNow belts_now(const MoveRequest& r, const Machine& machine, const std::optional<BeltRecord>& record) {
    using Condition = BeltsNow::Condition;
    BeltsNow b = record ? record->now() : BeltsNow{};
    const auto words = desk_words::belts();
    if (const auto word = r.belts ? std::find(words.begin(), words.end(), *r.belts) : words.end();
        word != words.end()) {
        constexpr std::array<Condition, 3> conditions{Condition::not_run_in, Condition::run_in,
                                                      Condition::washed};
        b.condition = conditions[static_cast<std::size_t>(word - words.begin())];
        b.condition_assumed = false;
    } else if (r.washed && b.condition != Condition::not_run_in) {
        b.condition = *r.washed ? Condition::washed : Condition::run_in;
        b.condition_assumed = false;
    }
    if (r.belt_hours)
        b.hours = r.belt_hours;
    if (r.since_lube_km) {
        b.since_lube = Length::from_km(*r.since_lube_km);
        b.since_lube_assumed = false;
    }
    b.preconditioned = r.preconditioned.value_or(b.preconditioned);
    if (r.bar_mm) {
        b.bar_height = Length::from_mm(*r.bar_mm);
        // A tenth more than new passes: a new belt is not measured to the millimetre.
        if (*b.bar_height > machine.belts.bar_height * 1.1)
            throw Error(ErrorKind::input,
                        fmt::format("the bars measure {:g} mm, but are {:g} mm high when new", *r.bar_mm,
                                    machine.belts.bar_height.mm()),
                        "check bar_mm in the move and in the machine's [belts]", place_of(r, "belts_state"));
    }
    return b;
}

KnownHeat known_heat(const MoveRequest& r, const Machine& machine, const std::optional<BeltRecord>& record) {
    // A profile does not say which set it was read on: a set of the ledger has readings of its own, and
    // nobody has yet read one that is new.
    const bool on_other_belts = record || r.belts == desk_words::belts().front();
    std::vector<NotedReading> readings;
    if (record)
        readings = record->noted_readings();
    else if (!on_other_belts)
        readings = machine.readings;
    readings.insert(readings.end(), r.readings.begin(), r.readings.end());
    KnownHeat out = learn_heat(machine, readings);
    if (const std::size_t left = machine.readings.size(); on_other_belts && left > 0)
        out.notes.push_back(fmt::format(
            "{} of the machine's profile left aside: {}", left,
            record ? "it does not say on which belts; loamway ledger reading notes one of this set"
                   : "not of belts that are new"));
    return out;
}

void take_record(const BeltRecord& record, PlanInputs& in, Learnt& learnt) {
    in.machine.belts.bar_height = Length::from_mm(record.added.new_bar_mm);
    in.machine.belts.worn_height = Length::from_mm(record.added.worn_mm);
    in.wear = record.known_wear();
    const bool same_money = record.added.currency.empty() || record.added.currency == in.rates.currency;
    if (learnt.belts_price_open && record.added.price > 0 && same_money) {
        in.rates.belt_set = Money::from_units(record.added.price);
        in.rates.belt_fitting = Money::from_units(0);  // the ledger's price is that of a set, fitted
    }
}

MachineBelts prepare_belts(const MoveRequest& r, Instant at) {
    MachineBelts out;
    const LedgerDesk ledger(r);
    out.machine = ledger.machine();
    (void)out.machine.state(r.state.value_or(""));
    out.record = ledger.belts(at);
    out.belts = belts_now(r, out.machine, out.record);
    return out;
}

}  // namespace loamway
