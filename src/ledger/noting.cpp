// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/noting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr double same_m = 1.0, same_h = 1.0 / 3600;  // nearer than this nobody notes

void require_machine(const Ledger& ledger, const std::string& machine) {
    const std::vector<std::string> known = ledger.machine_names();
    if (std::find(known.begin(), known.end(), machine) != known.end())
        return;
    std::string names;
    for (const std::string& each : known)
        names += fmt::format("{}{}", names.empty() ? "it has " : ", ", printable(each));
    throw Error(ErrorKind::input, fmt::format("no machine \"{}\" in the ledger", printable(machine)),
                names.empty() ? "add it first: loamway ledger machine add" : names, {{}, {}, "machine"});
}

/// Fitted to or taken off this machine, in the order in which it happened.
std::vector<Event> changes_of(const Ledger& ledger, const std::string& machine) {
    EventQuery q;
    q.machine = machine;
    q.kinds = {EventKind::fitted, EventKind::removed};
    return ledger.events(q);
}

std::string figures(const MoveDone& m) {
    std::string out = fmt::format("{:.1f} km in {:.2f} h", m.length_m() / 1000, m.hours);
    if (m.departed)
        out += fmt::format(", left {}", minute_words(*m.departed));
    if (m.lubricated)
        out += fmt::format(", powder {:.1f} km before its end", m.since_relube_m / 1000);
    return out;
}

bool same_figures(const MoveDone& a, const MoveDone& b) {
    return std::abs(a.length_m() - b.length_m()) < same_m && std::abs(a.hours - b.hours) < same_h &&
           a.departed == b.departed && a.lubricated == b.lubricated &&
           (!a.lubricated || std::abs(a.since_relube_m - b.since_relube_m) < same_m);
}

}  // namespace

std::string minute_words(Instant t) {
    return format_rfc3339(t, TimeZone()).substr(0, 16) + "Z";
}

bool noted_for_later(const Ledger& ledger, const BeltRecord& then) {
    const BeltRecord all = ledger.record(then.belts);
    return all.hours != then.hours || all.moves != then.moves || all.since_lube_km != then.since_lube_km ||
           all.washed != then.washed || all.surveys.size() != then.surveys.size() ||
           all.readings.size() != then.readings.size();
}

std::string belts_then(const Ledger& ledger, const std::string& machine, Instant at) {
    std::string on = ledger.belts_on(machine, at);
    if (!on.empty())
        return on;
    require_machine(ledger, machine);
    const std::string name = printable(machine);
    const std::vector<Event> changes = changes_of(ledger, machine);
    const auto later = std::find_if(changes.begin(), changes.end(), [at](const Event& e) {
        return e.at > at && e.kind == EventKind::fitted;
    });
    if (later != changes.end())
        throw Error(
            ErrorKind::input,
            fmt::format("\"{}\" carried no belts at {}: {} is fitted since {}", name, minute_words(at),
                        printable(later->belts), minute_words(later->at)),
            fmt::format(
                "if it was on before, say since when: loamway ledger belts fit {} --machine {} --at {}",
                printable(later->belts), name, minute_words(at)),
            {{}, {}, "machine"});
    throw Error(
        ErrorKind::input,
        changes.empty()
            ? fmt::format("no belts are fitted to \"{}\"", name)
            : fmt::format("\"{}\" carried no belts at {}: {} was taken off at {}", name, minute_words(at),
                          printable(changes.back().belts), minute_words(changes.back().at)),
        fmt::format("loamway ledger belts add NAME --machine {0} --fit, or: belts fit NAME --machine {0}; "
                    "--at says since when",
                    name),
        {{}, {}, "machine"});
}

void settle_repeat(const Ledger& ledger, Event& event) {
    while (const auto there = ledger.with_token(event.token)) {
        if (ledger.is_undone(there->id)) {
            event.token += fmt::format(" after {}", there->id);
            continue;
        }
        if (event.kind != EventKind::moved || there->kind != EventKind::moved)
            return;
        const MoveDone kept = read_move_done(there->data, fmt::format("event {}", there->id));
        const MoveDone said = read_move_done(event.data, "the move");
        const bool other_belts = there->belts != event.belts;
        if (same_figures(kept, said) && !other_belts)
            return;
        const auto of = [&](const MoveDone& m, const Event& e) {
            return figures(m) + (other_belts ? fmt::format(" on {}", printable(e.belts)) : std::string());
        };
        throw Error(ErrorKind::input,
                    fmt::format("this move is event {} already{}: {}; {} would be lost", there->id,
                                kept.planned_m || kept.departed ? "" : ", as planned", of(kept, *there),
                                of(said, event)),
                    fmt::format("loamway ledger undo {}, then again", there->id), {{}, {}, "driven_km"});
    }
}

}  // namespace loamway
