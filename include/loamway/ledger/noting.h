// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_NOTING_H
#define LOAMWAY_LEDGER_NOTING_H

// What command and page share when they note what happened: which belts it concerns, and what becomes of an
// event that is noted again.

#include <string>

#include "loamway/ledger/ledger.h"

namespace loamway {

/// The belts that a machine carries at a moment. Input Error that says why none are known: no such machine,
/// fitted later, taken off, never fitted; and what to do.
[[nodiscard]] std::string belts_then(const Ledger& ledger, const std::string& machine, Instant at);

/// To the minute and in UTC, as the ledger's verbs take it: "2026-07-14T14:00Z".
[[nodiscard]] std::string minute_words(Instant t);

/// Whether work, powder, washing, a look or a reading is noted for after the moment of this state.
[[nodiscard]] bool noted_for_later(const Ledger& ledger, const BeltRecord& then);

/// An event with a token that is there already stays one. Where it was undone, it is given another token, so
/// that it is written anew. A move that is there with other figures is an input Error that names both: they
/// would be lost. Events without a token pass.
void settle_repeat(const Ledger& ledger, Event& event);

}  // namespace loamway

#endif
