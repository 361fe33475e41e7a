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

std::vector<std::string> ledger_migration(int version, bool sqlite) {
    switch (version) {
        case 1:
            return version_1(sqlite);
        case 2:
            return version_2();
        default:
            return {};
    }
}

std::vector<std::string> move_result_migration(int version, bool) {
    if (version != 1)
        return {};
    return {
        "create table move_result_version (version integer not null)",
        "insert into move_result_version (version) values (1)",
        "create table move_result (run text not null, move text not null, digest text not null, "
        "answer text not null, tries integer not null, stored bigint not null, primary key (run, move))",
    };
}

}  // namespace

const StoreTables ledger_tables{"ledger", "ledger_version", "move_result_version", 2, ledger_migration};
const StoreTables move_result_tables{"result store", "move_result_version", "ledger_version", 1,
                                     move_result_migration};

}  // namespace loamway
