// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <soci/soci.h>

#include <utility>

#include "address.h"
#include "store.h"

namespace loamway {

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
    const long long since = q.since ? q.since->unix_seconds : 0;
    const After from = after.value_or(After{});
    if (!q.machine.empty())
        condition += " and machine = :machine";
    if (!q.belts.empty())
        condition += " and belts = :belts";
    if (q.since)
        condition += " and happened > :since";
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
    if (q.since)
        st.exchange(soci::use(since, "since"));
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

std::int64_t Ledger::Store::id_of(const std::string& token) const {
    if (token.empty())
        return 0;
    long long id = 0;
    sql << "select id from ledger_event where token = :token", soci::use(token, "token"), soci::into(id);
    return sql.got_data() ? id : 0;
}

bool Ledger::Store::undone(std::int64_t id) const {
    int count = 0;
    const long long wanted = id;
    sql << "select count(*) from ledger_event where undoes = :id", soci::use(wanted, "id"), soci::into(count);
    return count > 0;
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

}  // namespace loamway
