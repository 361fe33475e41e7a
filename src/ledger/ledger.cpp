// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/ledger.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <map>
#include <set>
#include <utility>

#include "address.h"
#include "belt_states.h"
#include "connection.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "schema.h"

namespace loamway {

struct Ledger::Store : LedgerConnection {
    using LedgerConnection::LedgerConnection;
    soci::session& sql = *session;
    BeltStates states{*session};

    /// Where a walk over events begins: after this one.
    struct After {
        long long happened = 0, id = 0;
    };
    void each(const EventQuery& q, const std::optional<After>& after,
              const std::function<void(Event&&)>& take) const;
    [[nodiscard]] std::vector<Event> select(const EventQuery& q) const;
    [[nodiscard]] BeltTally tally(const std::string& belts, const std::optional<Instant>& until,
                                  const std::function<void(const BeltTally&, const Event&)>& seen) const;
    void keep_states(std::span<const Event> written) const;
    [[nodiscard]] std::optional<Event> find(std::int64_t id) const;
    [[nodiscard]] std::vector<std::string> names(const char* column, EventKind kind) const;
    [[nodiscard]] bool undone(std::int64_t id) const;
    [[nodiscard]] bool added(EventKind kind, const char* column, const std::string& name) const;
    [[nodiscard]] std::string fitted(const char* key, const std::string& name, Instant at,
                                     const char* wanted) const;
    void check_possible(const Event& event) const;
    [[nodiscard]] Written insert(const Event& event) const;
};

namespace {

/// One line of the table, as the library fills it in.
struct Line {
    long long id = 0, happened = 0, noted = 0;
    int kind = 0;
    std::string machine, belts, person, token, data;

    static constexpr const char* columns = "id, happened, noted, kind, machine, belts, person, token, data";

    void bind(soci::statement& st) {
        st.exchange(soci::into(id));
        st.exchange(soci::into(happened));
        st.exchange(soci::into(noted));
        st.exchange(soci::into(kind));
        st.exchange(soci::into(machine));
        st.exchange(soci::into(belts));
        st.exchange(soci::into(person));
        st.exchange(soci::into(token));
        st.exchange(soci::into(data));
    }

    [[nodiscard]] Event event(const std::string& where) const {
        const std::string document = fmt::format("{}: event {}", where, id);
        Event e;
        e.id = id;
        e.at = {happened};
        e.noted = {noted};
        e.kind = static_cast<EventKind>(kind);
        e.machine = machine;
        e.belts = belts;
        e.by = person;
        e.token = token;
        e.data = parse_json(data, document);
        check_event(e, document);
        return e;
    }
};

Error impossible(const Event& e, std::string what, std::string what_to_do = {}) {
    return {ErrorKind::input, fmt::format("{}: {}", name_of(e.kind), what), std::move(what_to_do)};
}

std::string numbers_of(const std::vector<EventKind>& kinds) {
    std::string out;
    for (const EventKind k : kinds)
        out += fmt::format("{}{}", out.empty() ? "" : ", ", static_cast<int>(k));
    return out;
}

}  // namespace

void Ledger::Store::each(const EventQuery& q, const std::optional<After>& after,
                         const std::function<void(Event&&)>& take) const {
    std::string condition = "1 = 1";
    const long long until = q.until ? q.until->unix_seconds : 0;
    const After from = after.value_or(After{});
    if (!q.machine.empty())
        condition += " and machine = :machine";
    if (!q.belts.empty())
        condition += " and belts = :belts";
    if (q.until)
        condition += " and happened <= :until";
    if (after)
        condition += " and (happened, id) > (:afterwhen, :afterid)";
    if (!q.kinds.empty())
        condition += fmt::format(" and kind in ({})", numbers_of(q.kinds));
    if (!q.with_undone)
        condition +=
            fmt::format(" and kind <> {} and not exists (select 1 from ledger_event u where u.undoes = e.id)",
                        static_cast<int>(EventKind::undone));
    Line line;
    soci::statement st(sql);
    st.alloc();
    st.prepare(fmt::format("select {} from ledger_event e where {} order by happened, id", Line::columns,
                           condition));
    line.bind(st);
    if (!q.machine.empty())
        st.exchange(soci::use(q.machine, "machine"));
    if (!q.belts.empty())
        st.exchange(soci::use(q.belts, "belts"));
    if (q.until)
        st.exchange(soci::use(until, "until"));
    if (after) {
        st.exchange(soci::use(from.happened, "afterwhen"));
        st.exchange(soci::use(from.id, "afterid"));
    }
    st.define_and_bind();
    st.execute(false);
    const std::string place = without_password(where);
    while (st.fetch())
        take(line.event(place));
}

std::vector<Event> Ledger::Store::select(const EventQuery& q) const {
    return guarded([&] {
        std::vector<Event> out;
        each(q, {}, [&](Event&& e) { out.push_back(std::move(e)); });
        return out;
    });
}

BeltTally Ledger::Store::tally(const std::string& belts, const std::optional<Instant>& until,
                               const std::function<void(const BeltTally&, const Event&)>& seen) const {
    const std::optional<KeptState> kept = states.latest(belts, until);
    BeltTally out = kept ? kept->tally : BeltTally(belts);
    EventQuery q;
    q.belts = belts;
    q.until = until;
    each(q, kept ? std::optional(After{kept->happened, kept->id}) : std::nullopt, [&](Event&& e) {
        out.add(e);
        if (seen)
            seen(out, e);
    });
    return out;
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

std::optional<Event> Ledger::Store::find(std::int64_t id) const {
    return guarded([&]() -> std::optional<Event> {
        Line line;
        const long long wanted = id;
        soci::statement st(sql);
        st.alloc();
        st.prepare(fmt::format("select {} from ledger_event where id = :id", Line::columns));
        line.bind(st);
        st.exchange(soci::use(wanted, "id"));
        st.define_and_bind();
        st.execute(false);
        if (!st.fetch())
            return std::nullopt;
        return line.event(without_password(where));
    });
}

bool Ledger::Store::added(EventKind kind, const char* column, const std::string& name) const {
    int count = 0;
    const int number = static_cast<int>(kind);
    sql << fmt::format(
        "select count(*) from ledger_event e where {} = :name and kind = :kind and not exists "
        "(select 1 from ledger_event u where u.undoes = e.id)",
        column),
        soci::use(name, "name"), soci::use(number, "kind"), soci::into(count);
    return count > 0;
}

// The last time the belts were fitted or removed decides; `key` is what is asked by, `wanted` what is told.
std::string Ledger::Store::fitted(const char* key, const std::string& name, Instant at,
                                  const char* wanted) const {
    const long long until = at.unix_seconds;
    std::string other;
    int kind = 0;
    // A machine may have had several sets; each set tells by its own last event.
    soci::statement st(sql);
    st.alloc();
    st.prepare(fmt::format(
        "select {1}, kind from ledger_event e where {0} = :name and happened <= :until and kind in ({2}, {3}) "
        "and not exists (select 1 from ledger_event u where u.undoes = e.id) order by happened desc, id desc limit 1",
        key, wanted, static_cast<int>(EventKind::fitted), static_cast<int>(EventKind::removed)));
    st.exchange(soci::into(other));
    st.exchange(soci::into(kind));
    st.exchange(soci::use(name, "name"));
    st.exchange(soci::use(until, "until"));
    st.define_and_bind();
    st.execute(false);
    return st.fetch() && kind == static_cast<int>(EventKind::fitted) ? other : std::string();
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

bool Ledger::Store::undone(std::int64_t id) const {
    int count = 0;
    const long long wanted = id;
    sql << "select count(*) from ledger_event where undoes = :id", soci::use(wanted, "id"), soci::into(count);
    return count > 0;
}

Written Ledger::Store::insert(const Event& given) const {
    if (!given.token.empty()) {
        long long id = 0;
        sql << "select id from ledger_event where token = :token", soci::use(given.token, "token"),
            soci::into(id);
        if (sql.got_data())
            return {id, true};
    }
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

Ledger::Ledger(std::unique_ptr<Store> store) : m_store(std::move(store)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Ledger Ledger::open(const std::string& where, LedgerUse use, Duration wait) {
    auto store = std::make_unique<Store>(where, std::max(1, static_cast<int>(std::lround(wait.seconds()))));
    store->connect(use);
    if (use == LedgerUse::write) {
        store->bring_up();
    } else {
        const int found = store->guarded([&] { return store->version(); });
        if (found == 0)
            throw Error(ErrorKind::input, "this holds no ledger",
                        "write to it first: loamway ledger machine add ...",
                        {without_password(where), {}, {}});
        if (found != schema_version)
            throw Error(
                ErrorKind::input,
                fmt::format("the ledger is of version {}, this program knows {}", found, schema_version),
                found > schema_version ? "use a newer program" : "any writing command brings it up",
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

std::vector<std::string> Ledger::Store::names(const char* column, EventKind kind) const {
    return guarded([&] {
        std::string name;
        const int number = static_cast<int>(kind);
        soci::statement st(sql);
        st.alloc();
        st.prepare(
            fmt::format("select distinct {0} from ledger_event e where kind = :kind and not exists "
                        "(select 1 from ledger_event u where u.undoes = e.id) order by {0}",
                        column));
        st.exchange(soci::into(name));
        st.exchange(soci::use(number, "kind"));
        st.define_and_bind();
        st.execute(false);
        std::vector<std::string> out;
        while (st.fetch())
            out.push_back(name);
        return out;
    });
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
