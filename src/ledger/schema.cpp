// SPDX-License-Identifier: Apache-2.0
#include "schema.h"

#include <fmt/format.h>

namespace loamway {

namespace {

std::vector<std::string> version_1(bool sqlite) {
    return {
        "create table ledger_version (version integer not null)",
        "insert into ledger_version (version) values (1)",
        // In SQLite an integer primary key that counts up never gives a number twice.
        fmt::format(
            "create table ledger_event (id {}, happened bigint not null, noted bigint not null, "
            "kind integer not null, machine text not null, belts text not null, person text not null, "
            "token text not null, data text not null, undoes bigint references ledger_event (id))",
            sqlite ? "integer primary key autoincrement" : "bigserial primary key"),
        "create unique index ledger_token on ledger_event (token) where token <> ''",
        "create unique index ledger_undoes on ledger_event (undoes) where undoes is not null",
        "create index ledger_belts on ledger_event (belts, happened, id)",
        "create index ledger_machine on ledger_event (machine, happened, id)",
        "create index ledger_kind on ledger_event (kind)",
    };
}

// What belts had been through up to an event, so that their state needs no more than the events since; and
// the ways by which single kinds of events are found.
std::vector<std::string> version_2() {
    return {
        "create table ledger_state (belts text not null, happened bigint not null, id bigint not null, "
        "form integer not null, data text not null, primary key (belts, happened, id))",
        "create index ledger_belts_kind on ledger_event (belts, kind, happened, id)",
        "create index ledger_machine_kind on ledger_event (machine, kind, happened, id)",
        "drop index ledger_kind",
        "create index ledger_kind_names on ledger_event (kind, belts, machine)",
        "update ledger_version set version = 2",
    };
}

}  // namespace

std::vector<std::string> migration_to(int version, bool sqlite) {
    switch (version) {
        case 1:
            return version_1(sqlite);
        case 2:
            return version_2();
        default:
            return {};
    }
}

}  // namespace loamway
