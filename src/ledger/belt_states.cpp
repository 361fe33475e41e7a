// SPDX-License-Identifier: Apache-2.0
#include "belt_states.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <limits>

namespace loamway {

std::optional<KeptState> BeltStates::latest(const std::string& belts,
                                            const std::optional<Instant>& until) const {
    const long long last = until ? until->unix_seconds : std::numeric_limits<long long>::max();
    const int form = BeltTally::form;
    long long happened = 0, id = 0;
    std::string data;
    m_sql
        << "select happened, id, data from ledger_state where belts = :belts and happened <= :last and form = :form "
           "order by happened desc, id desc limit 1",
        soci::use(belts, "belts"), soci::use(last, "last"), soci::use(form, "form"), soci::into(happened),
        soci::into(id), soci::into(data);
    if (!m_sql.got_data())
        return std::nullopt;
    return KeptState{happened, id, BeltTally::from_value(parse_json(data, "kept state of belts"), belts)};
}

bool BeltStates::due(const std::string& belts) const {
    long long happened = std::numeric_limits<long long>::min(), id = 0;
    const int form = BeltTally::form;
    m_sql << "select happened, id from ledger_state where belts = :belts and form = :form "
             "order by happened desc, id desc limit 1",
        soci::use(belts, "belts"), soci::use(form, "form"), soci::into(happened), soci::into(id);
    int count = 0;
    m_sql << fmt::format(
        "select count(*) from (select 1 from ledger_event where belts = :belts and "
        "(happened, id) > (:happened, :id) limit {}) as newer",
        spacing),
        soci::use(belts, "belts"), soci::use(happened, "happened"), soci::use(id, "id"), soci::into(count);
    return count >= spacing;
}

void BeltStates::keep(const std::string& belts, const KeptState& s) const {
    const std::string data = to_json(s.tally.to_value());
    const int form = BeltTally::form;
    m_sql << "delete from ledger_state where belts = :belts and happened = :happened and id = :id",
        soci::use(belts, "belts"), soci::use(s.happened, "happened"), soci::use(s.id, "id");
    m_sql
        << "insert into ledger_state (belts, happened, id, form, data) values (:belts, :happened, :id, :form, :data)",
        soci::use(belts, "belts"), soci::use(s.happened, "happened"), soci::use(s.id, "id"),
        soci::use(form, "form"), soci::use(data, "data");
}

void BeltStates::thin_out(const std::string& belts) const {
    int count = 0;
    m_sql << "select count(*) from ledger_state where belts = :belts", soci::use(belts, "belts"),
        soci::into(count);
    if (count <= most_kept)
        return;
    // The latest stays: it is the one that is asked for.
    m_sql
        << "delete from ledger_state where belts = :belts and id in (select id from (select id, row_number() over "
           "(order by happened desc, id desc) as place from ledger_state where belts = :same) as ordered "
           "where place % 2 = 0)",
        soci::use(belts, "belts"), soci::use(belts, "same");
}

void BeltStates::forget_after(const std::string& belts, Instant happened) const {
    const long long when = happened.unix_seconds;
    m_sql << "delete from ledger_state where belts = :belts and happened > :when", soci::use(belts, "belts"),
        soci::use(when, "when");
}

void BeltStates::forget_from(const std::string& belts, Instant happened, long long id) const {
    const long long when = happened.unix_seconds;
    m_sql << "delete from ledger_state where belts = :belts and (happened, id) >= (:when, :id)",
        soci::use(belts, "belts"), soci::use(when, "when"), soci::use(id, "id");
}

}  // namespace loamway
