// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_LEDGER_DESK_H
#define LOAMWAY_SRC_DESK_LEDGER_DESK_H

// What a request takes out of a ledger: the machine by its name, the belts by theirs or as they are on the
// machine, with what their record says. What the request says itself wins.

#include <optional>
#include <string>
#include <vector>

#include "loamway/desk/desk.h"
#include "loamway/ledger/belt_record.h"
#include "loamway/ledger/ledger.h"

namespace loamway {

class LedgerDesk {
public:
    /// Opens the ledger that the request names, if it names one.
    explicit LedgerDesk(const MoveRequest& request);

    /// The machine of the request: its table, a machine of the ledger, or a file; in this order. Its name is
    /// the ledger's where it comes from there, so that what was planned can be noted under it.
    [[nodiscard]] Machine machine() const;
    /// The belts of the request as they are at that moment; nothing where the ledger is not asked about them.
    [[nodiscard]] std::optional<BeltRecord> belts(Instant at) const;

private:
    [[nodiscard]] std::string machine_word() const;
    [[nodiscard]] bool names_belts() const;
    [[nodiscard]] bool knows_machine(const std::string& name) const;
    [[nodiscard]] std::string machine_of_belts() const;

    const MoveRequest& m_request;
    std::optional<Ledger> m_ledger;
};

/// What came out of the ledger, in words.
[[nodiscard]] std::string ledger_words(const MoveRequest& request, const std::optional<BeltRecord>& record);

/// Input Error unless the belts of a request are a word (new, run-in, washed) or it names a ledger.
void check_belts_word(const MoveRequest& request);

}  // namespace loamway

#endif
