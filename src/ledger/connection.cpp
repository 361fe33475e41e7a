// SPDX-License-Identifier: Apache-2.0
#include "connection.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <filesystem>
#include <utility>

#include "address.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/text/document_kind.h"
#include "schema.h"

namespace loamway {

namespace {

/// What the library says, as a person can act on it.
Error store_error(const std::string& where, const std::string& called, const std::string& what,
                  int wait_seconds) {
    const std::string text = ascii_lower(what);
    const auto says = [&](std::string_view words) { return text.find(words) != std::string::npos; };
    const ErrorPlace place{without_password(where), {}, {}};
    if (says("disk is full") || says("no space left"))
        return {ErrorKind::io, "the disk is full; nothing of this was kept", "make room and write it again",
                place};
    if (says("not a database"))
        require_kind(kind_of_file(where), where, DocumentKind::database);
    if (says("not a database") || says("malformed"))
        return {ErrorKind::damaged, fmt::format("this is no {}, or it is damaged", called),
                fmt::format("name a {}, or bring back a copy", called), place};
    if (says("locked") || says("busy") || says("lock timeout"))
        return {ErrorKind::io, fmt::format("another program has kept the {} for {} s", called, wait_seconds),
                "try again", place};
    if (says("readonly") || says("read-only") || says("unable to open") || says("cannot open"))
        return {ErrorKind::io, fmt::format("the {} cannot be opened for this", called),
                "look at the permissions of file and folder", place};
    // A server's own words come in the last line.
    const std::string said = what.substr(0, what.find_last_not_of('\n') + 1);
    return {ErrorKind::io,
            fmt::format("the {} does not answer: {}", called, printable(said.substr(said.rfind('\n') + 1))),
            "look whether the server runs and the address is right", place};
}

}  // namespace

LedgerConnection::LedgerConnection(std::string place, int wait, const StoreTables& of)
    : where(std::move(place)),
      sqlite(!is_address(where)),
      wait_seconds(wait),
      tables(of),
      session(std::make_unique<soci::session>()) {}
LedgerConnection::~LedgerConnection() = default;

void LedgerConnection::rethrow() const {
    try {
        throw;
    } catch (const soci::soci_error& e) {
        throw store_error(where, tables.called, e.get_error_message(), wait_seconds);
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
        throw Error(ErrorKind::input,
                    fmt::format("the path of a {} cannot hold a quotation mark", tables.called), {},
                    {where, {}, {}});
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

bool LedgerConnection::has_table(const std::string& name) const {
    int count = 0;
    if (sqlite)
        *session << "select count(*) from sqlite_master where type = 'table' and name = :name",
            soci::use(name), soci::into(count);
    else
        *session << "select count(*) from information_schema.tables where table_schema = current_schema() "
                    "and table_name = :name",
            soci::use(name), soci::into(count);
    return count > 0;
}

void LedgerConnection::refuse_the_other_kind() const {
    if (has_table(tables.never_beside))
        throw Error(ErrorKind::input, fmt::format("this holds something else than a {}", tables.called),
                    "ledgers and results of moves are kept apart: name another",
                    {without_password(where), {}, {}});
}

int LedgerConnection::version() const {
    int v = 0;
    if (has_table(tables.version_table))
        *session << fmt::format("select version from {}", tables.version_table), soci::into(v);
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
    if (found == 0)
        guarded([&] { refuse_the_other_kind(); });
    if (found > tables.version)
        throw Error(ErrorKind::input,
                    fmt::format("the {} is of version {}, this program knows {}", tables.called, found,
                                tables.version),
                    "use a newer program", {without_password(where), {}, {}});
    // The file keeps this: who only reads must not set it, least of all in what turns out to be no ledger.
    if (sqlite)
        guarded([&] {
            std::string mode;
            *session << "pragma journal_mode = wal", soci::into(mode);
        });
    if (found == tables.version)
        return;
    in_transaction([&] {
        for (int v = version(); v < tables.version; ++v)
            for (const std::string& statement : tables.migration_to(v + 1, sqlite))
                *session << statement;
        return 0;
    });
}

}  // namespace loamway
