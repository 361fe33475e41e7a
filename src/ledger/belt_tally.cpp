// SPDX-License-Identifier: Apache-2.0
#include "belt_tally.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/belt/break_in.h"

namespace loamway {

namespace {

constexpr std::size_t hottest_kept = 5;
constexpr int bars_that_teach = 10;

}  // namespace

void BeltTally::add(const Event& e) {
    if (!m_r.since)
        m_r.since = e.at;
    const std::string document = fmt::format("event {}", e.id);
    switch (e.kind) {
        case EventKind::belts_added:
            m_r.added = read_belts_added(e.data, document);
            // Work may be noted for a day before the set was: it counts as well.
            m_r.hours += m_r.added.hours;
            m_r.run_in = m_r.run_in || m_r.added.run_in;
            worked(0.0);
            m_was_added = true;
            break;
        case EventKind::fitted:
            m_r.machine = e.machine;
            m_r.removed_for.clear();
            break;
        case EventKind::removed:
            m_r.machine.clear();
            m_r.removed_for = read_belts_removed(e.data, document).cause;
            break;
        case EventKind::moved:
            move(e, read_move_done(e.data, document));
            break;
        case EventKind::field_work:
            field(read_field_work(e.data, document));
            break;
        case EventKind::lubricated:
            m_r.since_lube_km = 0.0;
            m_r.lubricated_once = true;
            m_r.washed = false;
            break;
        case EventKind::washed:
            m_r.since_lube_km.reset();
            m_r.washed = true;
            break;
        case EventKind::heights:
            survey(e, read_height_survey(e.data, document));
            break;
        case EventKind::condition:
            look(read_belt_condition(e.data, document));
            break;
        case EventKind::fault:
            m_r.faults.push_back(*e.data.find("note")->as_string());
            break;
        case EventKind::cost:
            m_r.costs += read_cost_note(e.data, document).amount;
            break;
        case EventKind::reading:
            m_r.readings.push_back(
                {e.id, e.at, read_reading_note(e.data, document), last_known_mm(), m_r.driven_since_survey});
            break;
        case EventKind::swapped:
        case EventKind::rotated:
            m_r.last_turn = BeltTurn{e.id, e.at, e.kind};
            break;
        case EventKind::machine_added:
        case EventKind::undone:
            break;
    }
}

void BeltTally::worked(double hours) {
    m_r.hours += hours;
    if (m_r.lubricated_once)
        m_worked_powdered += hours;
    // What came before the ledger counts as field work, as it does for wear.
    m_r.run_in = m_r.run_in || worked_in(Duration::from_hours(m_worked_powdered),
                                         Duration::from_hours(m_r.added.hours + m_r.field_hours));
}

void BeltTally::move(const Event& e, const MoveDone& m) {
    ++m_r.moves;
    m_r.hard_km += m.hard_m / 1000;
    m_r.gravel_km += m.gravel_m / 1000;
    m_r.earth_km += m.earth_m / 1000;
    m_r.road_hours += m.hours;
    if (m.lubricated) {
        m_r.lubricated_once = true;
        m_r.washed = false;
        m_r.since_lube_km = m.since_relube_m / 1000;
    } else if (m_r.since_lube_km) {
        *m_r.since_lube_km += m.length_m() / 1000;
    }
    worked(m.hours);
    const WearVector d{m.hard_weighted_km, m.gravel_weighted_km, m.earth_weighted_km, 0.0, m.sharp_turns};
    drove(d);
    if (m.bar_peak_c)
        keep_hottest({e.id, e.at, *m.bar_peak_c, m.bar_high_c, m.limit_c, m.from, m.to});
}

double BeltTally::last_known_mm() const {
    return m_r.surveys.empty() ? m_r.added.new_bar_mm : m_r.surveys.back().mean_mm;
}

void BeltTally::drove(const WearVector& d) {
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        m_r.driven_since_survey[i] += d[i];
        m_r.driven[i] += d[i];
    }
}

void BeltTally::keep_hottest(HotMove m) {
    m_r.hottest.push_back(std::move(m));
    std::stable_sort(m_r.hottest.begin(), m_r.hottest.end(),
                     [](const HotMove& a, const HotMove& b) { return a.bar_peak_c > b.bar_peak_c; });
    if (m_r.hottest.size() > hottest_kept)
        m_r.hottest.pop_back();
}

void BeltTally::field(const FieldWork& f) {
    m_r.field_hours += f.hours;
    drove({0, 0, 0, f.hours, 0});
    // The way driven on the road since the last powder stays what it was (plan/belts_left.h).
    worked(f.hours);
}

void BeltTally::survey(const Event& e, const HeightSurvey& h) {
    const Survey now{e.id, e.at, m_r.hours, h.mean_mm(), static_cast<int>(h.mm.size())};
    if (!m_r.surveys.empty()) {
        const Survey& before = m_r.surveys.back();
        const int bars = std::min(before.bars, now.bars);
        if (bars >= bars_that_teach)
            m_r.intervals.push_back({m_r.driven_since_survey, before.mean_mm - now.mean_mm, bars});
    }
    m_r.driven_since_survey = {};
    m_r.surveys.push_back(now);
}

void BeltTally::look(const BeltCondition& c) {
    m_r.condition.guide_lugs_lost += c.guide_lugs_lost;
    m_r.condition.edge_cuts += c.edge_cuts;
    m_r.condition.chunking = c.chunking;
    m_r.condition.cord_visible = m_r.condition.cord_visible || c.cord_visible;
    m_r.condition.note = c.note;
}

}  // namespace loamway
