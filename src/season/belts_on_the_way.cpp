// SPDX-License-Identifier: Apache-2.0
#include "belts_on_the_way.h"

#include <algorithm>

#include "loamway/belt/break_in.h"
#include "loamway/ledger/plan_move.h"
#include "loamway/plan/belts_left.h"

namespace loamway {

void BeltsOnTheWay::move(const Plan& plan, const Option& option) {
    if (option.mode == Mode::haul)
        return;
    const MoveDone done = move_done(plan, option);
    m_powdered = m_powdered || done.lubricated;
    m_now = belts_after(m_now, option);
    worked(done.hours, option.wear.mm.value_or(0));
}

void BeltsOnTheWay::work(Duration hours, double mm) {
    m_on_soil = m_on_soil + hours;
    worked(hours.hours(), mm);
}

void BeltsOnTheWay::worked(double hours, double mm) {
    if (m_now.hours)
        *m_now.hours += hours;
    if (m_now.bar_height)
        m_now.bar_height = Length::from_mm(std::max(1.0, m_now.bar_height->mm() - mm));
    if (m_powdered || m_now.preconditioned)
        m_worked_powdered += hours;
    if (m_now.condition == BeltsNow::Condition::not_run_in &&
        worked_in(Duration::from_hours(m_worked_powdered), m_on_soil))
        m_now.condition = BeltsNow::Condition::run_in;
}

}  // namespace loamway
