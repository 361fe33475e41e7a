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

/// Input Error for field work and moves that cannot have been: faster than the machine goes
/// (implausible_speed), or more hours on the belts than lie between two things noted of them (other work, or
/// being fitted) and a day (assumption: a day's entries are written one after the other). An event whose
/// token is there already passes, and any other kind.
void require_possible(const Ledger& ledger, const Event& event);

/// Input Error when another move of these belts was noted from the same plan: their tokens start with `plan`.
/// `otherwise` says what to do if both were driven.
void require_driven_once(const Ledger& ledger, const Event& event, const std::string& plan,
                         const std::string& otherwise);

}  // namespace loamway

#endif
