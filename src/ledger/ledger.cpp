// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/ledger.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <utility>

#include "address.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "schema.h"
#include "store.h"

namespace loamway {

Ledger::Ledger(std::unique_ptr<Store> store) : m_store(std::move(store)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Ledger Ledger::open(const std::string& where, LedgerUse use, Duration wait) {
    auto store = std::make_unique<Store>(where, std::max(1, static_cast<int>(std::lround(wait.seconds()))),
                                         ledger_tables);
    store->connect(use);
    if (use == LedgerUse::write) {
        store->bring_up();
    } else {
        const int found = store->guarded([&] { return store->version(); });
        if (found == 0)
            throw Error(ErrorKind::input, "this holds no ledger",
                        "write to it first: loamway ledger machine add ...",
                        {without_password(where), {}, {}});
        if (found != ledger_tables.version)
            throw Error(
                ErrorKind::input,
                fmt::format("the ledger is of version {}, this program knows {}", found,
                            ledger_tables.version),
                found > ledger_tables.version ? "use a newer program" : "any writing command brings it up",
                {without_password(where), {}, {}});
    }
    return Ledger(std::move(store));
}

Written Ledger::write(const Event& event) {
    return write_all(std::span(&event, 1)).front();
}

std::vector<Written> Ledger::write_all(std::span<const Event> events) {
    for (const Event& e : events)
        check_event(e, std::string(name_of(e.kind)));
    return m_store->in_transaction([&] {
        std::vector<Written> out;
        for (const Event& e : events)
            out.push_back(m_store->insert(e));
        m_store->keep_states(events);
        return out;
    });
}

std::vector<Written> Ledger::import(std::span<const Event> events) {
    for (const Event& e : events)
        check_event(e, std::string(name_of(e.kind)));
    return m_store->in_transaction([&] {
        std::map<std::int64_t, std::int64_t> here;  // by the number it had
        std::vector<Written> out;
        for (Event e : events) {
            if (e.kind == EventKind::undone) {
                const auto undoes = here.find(read_undone_id(e.data, "undo"));
                if (undoes == here.end())
                    throw impossible(
                        e,
                        fmt::format("event {} is not among the events read", read_undone_id(e.data, "undo")),
                        "read the whole export");
                Value data{Value::Object{}};
                data.set("event", undoes->second);
                if (const Value* note = e.data.find("note"))
                    data.set("note", *note);
                e.data = data;
            }
            out.push_back(m_store->insert(e));
            here[e.id] = out.back().id;
        }
        m_store->keep_states(events);
        return out;
    });
}

std::vector<Event> Ledger::events(const EventQuery& query) const {
    return m_store->select(query);
}

BeltRecord Ledger::record(const std::string& belts, std::optional<Instant> until) const {
    return m_store->in_one_view([&] { return m_store->tally(belts, until, {}).record(); });
}

std::optional<Event> Ledger::event(std::int64_t id) const {
    return m_store->find(id);
}

bool Ledger::is_undone(std::int64_t id) const {
    return m_store->guarded([&] { return m_store->undone(id); });
}

std::optional<Event> Ledger::with_token(const std::string& token) const {
    const std::int64_t id = m_store->guarded([&] { return m_store->id_of(token); });
    return id == 0 ? std::nullopt : m_store->find(id);
}

std::vector<std::string> Ledger::machine_names() const {
    return m_store->names("machine", EventKind::machine_added);
}
std::vector<std::string> Ledger::belts_names() const {
    return m_store->names("belts", EventKind::belts_added);
}

std::optional<Value> Ledger::profile(const std::string& machine) const {
    EventQuery q;
    q.machine = machine;
    q.kinds = {EventKind::machine_added};
    const std::vector<Event> added = events(q);
    return added.empty() ? std::nullopt : std::optional(*added.back().data.find("profile"));
}

std::string Ledger::belts_on(const std::string& machine, Instant at) const {
    return m_store->guarded([&] { return m_store->fitted("machine", machine, at, "belts"); });
}

std::string Ledger::machine_of(const std::string& belts, Instant at) const {
    return m_store->guarded([&] { return m_store->fitted("belts", belts, at, "machine"); });
}

void Ledger::verify() const {
    m_store->guarded([&] {
        if (!m_store->sqlite)
            return 0;
        std::string answer;
        m_store->sql << "pragma integrity_check", soci::into(answer);
        if (answer != "ok")
            throw Error(ErrorKind::damaged, fmt::format("the ledger is damaged: {}", printable(answer)),
                        "bring back a copy, or export what can be read", {m_store->where, {}, {}});
        return 0;
    });
    EventQuery all;
    all.with_undone = true;
    (void)events(all);
}

bool is_ledger_address(const std::string& where) {
    return is_address(where);
}

std::string shown_ledger(const std::string& where) {
    return without_password(where);
}

std::string default_ledger() {
    const char* named = std::getenv("LOAMWAY_LEDGER");
    return named != nullptr && *named != '\0' ? named : "loamway.ledger";
}

}  // namespace loamway