// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_BELT_TALLY_H
#define LOAMWAY_SRC_LEDGER_BELT_TALLY_H

// Adds the events of one set of belts up, one after the other. What has been added up so far can be kept as
// JSON and gone on from: a set's state then costs no more than its latest events.

#include <string>

#include "loamway/ledger/belt_record.h"

namespace loamway {

class BeltTally {
public:
    explicit BeltTally(const std::string& belts) { m_r.belts = belts; }
    void add(const Event& event);
    /// With its estimates. not_found Error when the belts were never added.
    [[nodiscard]] BeltRecord record() const;

    /// Kept tallies of another form are not read: they are made again from the events.
    static constexpr int form = 3;
    [[nodiscard]] Value to_value() const;
    /// Damaged Error for what to_value() did not write.
    [[nodiscard]] static BeltTally from_value(const Value& value, const std::string& belts);

private:
    void worked(double hours);
    void move(const Event& e, const MoveDone& m);
    [[nodiscard]] double last_known_mm() const;
    void drove(const WearVector& d);
    void keep_hottest(HotMove m);
    void field(const FieldWork& f);
    void survey(const Event& e, const HeightSurvey& h);
    void look(const BeltCondition& c);

    BeltRecord m_r;
    bool m_was_added = false;
    double m_worked_powdered = 0.0;
};

}  // namespace loamway

#endif
