// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_BELT_STATES_H
#define LOAMWAY_SRC_LEDGER_BELT_STATES_H

// What belts had been through up to some of their events, kept beside the events. It only saves work: every
// state can be made again from the events, and one that an earlier or undone event makes wrong is forgotten
// in the transaction that writes that event.

#include <cstdint>
#include <optional>
#include <string>

#include "belt_tally.h"

namespace soci {
class session;
}

namespace loamway {

struct KeptState {
    long long happened = 0, id = 0;  // of the last event in it
    BeltTally tally;
};

class BeltStates {
public:
    static constexpr int spacing = 512;   // events from one kept state to the next
    static constexpr int most_kept = 64;  // of one set; beyond, every second one goes

    explicit BeltStates(soci::session& sql) : m_sql(sql) {}

    [[nodiscard]] std::optional<KeptState> latest(const std::string& belts,
                                                  const std::optional<Instant>& until) const;
    /// Whether so many events have come since the last one that another is worth it.
    [[nodiscard]] bool due(const std::string& belts) const;
    void keep(const std::string& belts, const KeptState& state) const;
    void thin_out(const std::string& belts) const;
    void forget_after(const std::string& belts, Instant happened) const;
    void forget_from(const std::string& belts, Instant happened, long long id) const;

private:
    soci::session& m_sql;
};

}  // namespace loamway

#endif
