// SPDX-License-Identifier: Apache-2.0
#include "connection.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <filesystem>
#include <utility>

#include "address.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "schema.h"

namespace loamway {

namespace {

/// What the library says, as a person can act on it.
Error store_error(const std::string& where, const std::string& what, int wait_seconds) {
    const std::string text = ascii_lower(what);
    const auto says = [&](std::string_view words) { return text.find(words) != std::string::npos; };
    const ErrorPlace place{without_password(where), {}, {}};
    if (says("disk is full") || says("no space left"))
        return {ErrorKind::io, "the disk is full; nothing of this was kept", "make room and write it again",
                place};
    if (says("not a database") || says("malformed"))
        return {ErrorKind::damaged, "this is no ledger, or it is damaged",
                "name a ledger, or bring back a copy", place};
    if (says("locked") || says("busy") || says("lock timeout"))
        return {ErrorKind::io, fmt::format("another program has kept the ledger for {} s", wait_seconds),
                "try again", place};
    if (says("readonly") || says("read-only") || says("unable to open") || says("cannot open"))
        return {ErrorKind::io, "the ledger cannot be opened for this",
                "look at the permissions of file and folder", place};
    // A server's own words come in the last line.
    const std::string said = what.substr(0, what.find_last_not_of('\n') + 1);
    return {ErrorKind::io,
            fmt::format("the ledger does not answer: {}", printable(said.substr(said.rfind('\n') + 1))),
            "look whether the server runs and the address is right", place};
}

}  // namespace

LedgerConnection::LedgerConnection(std::string place, int wait)
    : where(std::move(place)),
      sqlite(!is_address(where)),
      wait_seconds(wait),
      session(std::make_unique<soci::session>()) {}
LedgerConnection::~LedgerConnection() = default;

void LedgerConnection::rethrow() const {
    try {
        throw;
    } catch (const soci::soci_error& e) {
        throw store_error(where, e.get_error_message(), wait_seconds);
    }
}

void LedgerConnection::connect(LedgerUse use) {
    if (!sqlite) {
        guarded([&] {
            session->open("postgresql", connection_text(where));
            *session << fmt::format("set lock_timeout = {}", wait_seconds * 1000);
        });
        return;
    }
    require_plain_path(where);
    // The library reads a connection text: a quote in a path would end it.
    if (where.find('"') != std::string::npos)
        throw Error(ErrorKind::input, "a ledger's path cannot hold a quotation mark", {}, {where, {}, {}});
    std::error_code ec;
    if (use == LedgerUse::read && !std::filesystem::exists(where, ec))
        throw Error(ErrorKind::not_found, "there is no ledger",
                    "write to it first: loamway ledger machine add ...", {where, {}, {}});
    guarded([&] {
        session->open("sqlite3", fmt::format("db=\"{}\" timeout={}", where, wait_seconds));
        *session << "pragma busy_timeout = " << wait_seconds * 1000;
        *session << "pragma synchronous = full";
        *session << "pragma foreign_keys = on";
    });
}

bool LedgerConnection::has_tables() const {
    int count = 0;
    if (sqlite)
        *session << "select count(*) from sqlite_master where type = 'table' and name = 'ledger_version'",
            soci::into(count);
    else
        *session << "select count(*) from information_schema.tables where table_schema = current_schema() "
                    "and table_name = 'ledger_version'",
            soci::into(count);
    return count > 0;
}

int LedgerConnection::version() const {
    int v = 0;
    if (has_tables())
        *session << "select version from ledger_version", soci::into(v);
    return v;
}

void LedgerConnection::commit() const {
    *session << "commit";
}

void LedgerConnection::begin() const {
    *session << (sqlite ? "begin immediate" : "begin");
    if (!sqlite)
        *session << "select pg_advisory_xact_lock(" << advisory_lock << ")";
}

void LedgerConnection::begin_view() const {
    *session << (sqlite ? "begin" : "begin isolation level repeatable read read only");
}

void LedgerConnection::roll_back() const noexcept {
    try {
        *session << "rollback";
    } catch (const soci::soci_error&) {
        // The connection is gone, and with it the transaction.
    }
}

void LedgerConnection::bring_up() const {
    const int found = guarded([&] { return version(); });
    if (found > schema_version)
        throw Error(ErrorKind::input,
                    fmt::format("the ledger is of version {}, this program knows {}", found, schema_version),
                    "use a newer program", {without_password(where), {}, {}});
    // The file keeps this: who only reads must not set it, least of all in what turns out to be no ledger.
    if (sqlite)
        guarded([&] {
            std::string mode;
            *session << "pragma journal_mode = wal", soci::into(mode);
        });
    if (found == schema_version)
        return;
    in_transaction([&] {
        for (int v = version(); v < schema_version; ++v)
            for (const std::string& statement : migration_to(v + 1, sqlite))
                *session << statement;
        return 0;
    });
}

}  // namespace loamway
