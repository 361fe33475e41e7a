// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_LEDGER_VERBS_H
#define LOAMWAY_SRC_CLI_LEDGER_VERBS_H

// What the verbs of `loamway ledger` do. Each returns the exit status.

#include <map>
#include <optional>
#include <string>

#include "loamway/ledger/ledger.h"
#include "loamway/profile/machine.h"

namespace loamway {

/// What every verb takes.
struct LedgerFlags {
    std::string ledger, machine, belts, at, by, note;
    bool json = false;
    std::string name;                            // the verb's own word
    std::map<std::string, std::string> numbers;  // by key of the event's data
    std::map<std::string, std::string> flags;    // that say those numbers and words, by key: "--ha"
    std::map<std::string, std::string> words;
    std::map<std::string, bool> switches;
    std::string profile, plan, option, heights, output, as_of, driven_km, departed;
    bool fit = false, events = false, again = false;
};

/// The ledger that is meant.
[[nodiscard]] std::string ledger_of(const LedgerFlags& f);
/// A time as a flag gives it, with Z or an offset; now when it is not given.
[[nodiscard]] Instant ledger_moment(const std::string& text, const char* flag);

// What the verbs that write share: the event as the flags say it, the belts that a machine's work concerns,
// and the line or the JSON about what was written.
[[nodiscard]] Event event_of(const LedgerFlags& f, EventKind kind);
/// As a ledger checks an event, with the flag's name in place of the key's.
void check_said(const LedgerFlags& f, const Event& e);
[[nodiscard]] Event with_belts(const Ledger& ledger, Event e, bool needed);
int report_written(const LedgerFlags& f, const Event& e, const Written& w);

// ledger_write.cpp; ledger_move.cpp; ledger_look.cpp
int ledger_write(const LedgerFlags& f, EventKind kind, bool belts_needed);
int ledger_change_belts(const LedgerFlags& f, EventKind kind);
int ledger_add_machine(const LedgerFlags& f);
int ledger_add_belts(const LedgerFlags& f);
int ledger_add_move(const LedgerFlags& f);
int ledger_add_heights(const LedgerFlags& f);
int ledger_add_reading(const LedgerFlags& f);
int ledger_undo(const LedgerFlags& f);
int ledger_import(const LedgerFlags& f);

// ledger_read.cpp
int ledger_show(const LedgerFlags& f);
int ledger_export(const LedgerFlags& f);
int ledger_verify(const LedgerFlags& f);

}  // namespace loamway

#endif
