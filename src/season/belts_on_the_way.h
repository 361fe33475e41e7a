// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_BELTS_ON_THE_WAY_H
#define LOAMWAY_SRC_SEASON_BELTS_ON_THE_WAY_H

// Belts that go through a list of jobs: what each leaves behind for the next.

#include "loamway/plan/plan.h"
#include "loamway/profile/machine.h"

namespace loamway {

class BeltsOnTheWay {
public:
    explicit BeltsOnTheWay(const BeltsNow& now)
        : m_now(now), m_on_soil(Duration::from_hours(now.hours.value_or(0.0))) {}
    [[nodiscard]] const BeltsNow& now() const { return m_now; }
    /// The option was driven; one that hauls all the way leaves the belts as they are.
    void move(const Plan& plan, const Option& option);
    /// Hours in the field. The way since the last powder stays what it was (plan/belts_left.h).
    void work(Duration hours, double mm);

private:
    void worked(double hours, double mm);

    BeltsNow m_now;
    Duration m_on_soil;  // what came before the list counts as field work
    double m_worked_powdered = 0.0;
    bool m_powdered = false;
};

}  // namespace loamway

#endif
