// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <soci/soci.h>

#include <set>
#include <utility>

#include "store.h"

namespace loamway {

Error impossible(const Event& e, std::string what, std::string what_to_do) {
    return {ErrorKind::input, fmt::format("{}: {}", event_words(e.kind), what), std::move(what_to_do)};
}

// Called within the transaction that wrote them, so that a kept state never knows less or more than the
// events.
void Ledger::Store::keep_states(std::span<const Event> written) const {
    std::set<std::string> names;
    for (const Event& e : written)
        names.insert(e.belts);
    names.erase(std::string());
    for (const std::string& belts : names) {
        if (!states.due(belts))
            continue;
        int since = 0;
        (void)tally(belts, {}, [&](const BeltTally& so_far, const Event& e) {
            if (++since < BeltStates::spacing)
                return;
            since = 0;
            states.keep(belts, {e.at.unix_seconds, e.id, so_far});
        });
        states.thin_out(belts);
    }
}

void Ledger::Store::check_possible(const Event& e) const {
    const bool makes_machine = e.kind == EventKind::machine_added;
    const bool makes_belts = e.kind == EventKind::belts_added;
    if (!e.machine.empty() && !makes_machine && !added(EventKind::machine_added, "machine", e.machine))
        throw impossible(e, fmt::format("there is no machine \"{}\"", e.machine),
                         "add it first: loamway ledger machine add");
    if (!e.belts.empty() && !makes_belts && !added(EventKind::belts_added, "belts", e.belts))
        throw impossible(e, fmt::format("there are no belts \"{}\"", e.belts),
                         "add them first: loamway ledger belts add");
    if (makes_belts && added(EventKind::belts_added, "belts", e.belts))
        throw impossible(e, fmt::format("belts \"{}\" are there already", e.belts),
                         "give the new set a name of its own");
    if (e.kind == EventKind::fitted) {
        if (const std::string on = fitted("belts", e.belts, e.at, "machine"); !on.empty())
            throw impossible(e, fmt::format("belts \"{}\" are on \"{}\"", e.belts, on), "remove them first");
        if (const std::string on = fitted("machine", e.machine, e.at, "belts"); !on.empty())
            throw impossible(e, fmt::format("\"{}\" carries belts \"{}\"", e.machine, on),
                             "remove them first");
    }
    if (e.kind == EventKind::removed && fitted("belts", e.belts, e.at, "machine").empty())
        throw impossible(e, fmt::format("belts \"{}\" are on no machine then", e.belts));
    if (e.kind == EventKind::undone) {
        const std::int64_t id = read_undone_id(e.data, "undo");
        const auto what = find(id);
        if (!what)
            throw impossible(e, fmt::format("there is no event {}", id),
                             "loamway ledger show --events lists them");
        if (what->kind == EventKind::undone)
            throw impossible(e, fmt::format("event {} is itself an undoing", id),
                             "write the event again instead");
        if (undone(id))
            throw impossible(e, fmt::format("event {} is undone already", id));
    }
}

Written Ledger::Store::insert(const Event& given) const {
    if (const std::int64_t there = id_of(given.token); there != 0)
        return {there, true};
    Event e = given;
    // An undoing belongs to the same machine and belts as what it undoes.
    long long undoes = 0;
    soci::indicator undoes_is = soci::i_null;
    check_possible(e);
    if (e.kind == EventKind::undone) {
        undoes = read_undone_id(e.data, "undo");
        undoes_is = soci::i_ok;
        const auto what = find(undoes);
        e.machine = what->machine;
        e.belts = what->belts;
    }
    const long long happened = e.at.unix_seconds, noted = now().unix_seconds;
    const int kind = static_cast<int>(e.kind);
    const std::string data = to_json(e.data);
    long long id = 0;
    sql << "insert into ledger_event (happened, noted, kind, machine, belts, person, token, data, undoes) values "
           "(:happened, :noted, :kind, :machine, :belts, :person, :token, :data, :undoes) returning id",
        soci::use(happened, "happened"), soci::use(noted, "noted"), soci::use(kind, "kind"),
        soci::use(e.machine, "machine"), soci::use(e.belts, "belts"), soci::use(e.by, "person"),
        soci::use(e.token, "token"), soci::use(data, "data"), soci::use(undoes, undoes_is, "undoes"),
        soci::into(id);
    if (undoes_is == soci::i_ok)
        states.forget_from(e.belts, find(undoes)->at, undoes);
    else
        states.forget_after(e.belts, e.at);
    return {id, false};
}

}  // namespace loamway
