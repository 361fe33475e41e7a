// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/belt_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr std::size_t hottest_kept = 5;
constexpr int bars_that_teach = 10;
constexpr double one_bar_sd_mm = 0.30;  // of one height measured (assumption, as in wear_calibration.h)
constexpr double to_five_percent = 1.6449;
constexpr double new_bar_sd_mm = 1.0;        // maker's tolerance of a new bar (assumption)
constexpr double hours_for_a_forecast = 10;  // of work noted (assumption)
// A set counts as run in once it has been powdered and has worked this long since (the slow quarter of an
// hour is common practice).
constexpr double slow_start_h = 0.25;
constexpr double least_share_of_prior = 0.05;  // of an assumed rate (assumption)

Banded banded(double value, double sd) {
    return {value, value - to_five_percent * sd, value + to_five_percent * sd};
}

/// Adds events up, one after the other.
class Adder {
public:
    explicit Adder(BeltRecord& record) : m_r(record) {}

    void add(const Event& e) {
        if (!m_r.since)
            m_r.since = e.at;
        const std::string document = fmt::format("event {}", e.id);
        switch (e.kind) {
            case EventKind::belts_added:
                m_r.added = read_belts_added(e.data, document);
                m_r.hours = m_r.added.hours;
                m_r.run_in = m_r.added.run_in;
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
                m_r.readings.push_back({e.id, e.at, read_reading_note(e.data, document), last_known_mm(),
                                        m_r.driven_since_survey});
                break;
            case EventKind::machine_added:
            case EventKind::swapped:
            case EventKind::rotated:
            case EventKind::undone:
                break;
        }
    }
    [[nodiscard]] bool was_added() const { return m_was_added; }

private:
    void worked(double hours) {
        m_r.hours += hours;
        if (m_r.lubricated_once)
            m_worked_powdered += hours;
        m_r.run_in = m_r.run_in || m_worked_powdered >= slow_start_h;
    }
    void move(const Event& e, const MoveDone& m) {
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
    [[nodiscard]] double last_known_mm() const {
        return m_r.surveys.empty() ? m_r.added.new_bar_mm : m_r.surveys.back().mean_mm;
    }
    void drove(const WearVector& d) {
        for (std::size_t i = 0; i < wear_rate_count; ++i) {
            m_r.driven_since_survey[i] += d[i];
            m_r.driven[i] += d[i];
        }
    }
    void keep_hottest(HotMove m) {
        m_r.hottest.push_back(std::move(m));
        std::stable_sort(m_r.hottest.begin(), m_r.hottest.end(),
                         [](const HotMove& a, const HotMove& b) { return a.bar_peak_c > b.bar_peak_c; });
        if (m_r.hottest.size() > hottest_kept)
            m_r.hottest.pop_back();
    }
    void field(const FieldWork& f) {
        m_r.field_hours += f.hours;
        drove({0, 0, 0, f.hours, 0});
        // Soil lubricates: the way driven on the road since the last powder stays what it was (common
        // practice counts transport only).
        worked(f.hours);
    }
    void survey(const Event& e, const HeightSurvey& h) {
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
    void look(const BeltCondition& c) {
        m_r.condition.guide_lugs_lost += c.guide_lugs_lost;
        m_r.condition.edge_cuts += c.edge_cuts;
        m_r.condition.chunking = c.chunking;
        m_r.condition.cord_visible = m_r.condition.cord_visible || c.cord_visible;
        m_r.condition.note = c.note;
    }

    BeltRecord& m_r;
    bool m_was_added = false;
    double m_worked_powdered = 0.0;
};

void estimate(BeltRecord& r) {
    r.wear = calibrate_wear(r.intervals);
    WearVector driven = r.driven_since_survey;
    double start = 0.0, start_sd = 0.0;
    if (r.surveys.empty()) {
        start = r.added.new_bar_mm;
        start_sd = new_bar_sd_mm;
        driven[3] += r.added.hours;  // what came before the ledger counts as field work
    } else {
        start = r.surveys.back().mean_mm;
        start_sd = one_bar_sd_mm / std::sqrt(r.surveys.back().bars);
    }
    const WearForecast worn = r.wear.forecast(driven);
    r.bar_mm = banded(std::max(0.0, start - worn.mm), std::hypot(start_sd, worn.sd));
    r.bar_mm.low = std::max(0.0, r.bar_mm.low);
    const double whole = r.added.new_bar_mm - r.added.worn_mm;
    const auto share = [&](double mm) { return std::clamp((r.added.new_bar_mm - mm) / whole, 0.0, 1.0); };
    r.share_used = {share(r.bar_mm.value), share(r.bar_mm.high), share(r.bar_mm.low)};
    r.money_used = {r.share_used.value * r.added.price, r.share_used.low * r.added.price,
                    r.share_used.high * r.added.price};
}

}  // namespace

BeltsNow BeltRecord::now() const {
    BeltsNow b;
    using Condition = BeltsNow::Condition;
    b.condition = washed && run_in ? Condition::washed : run_in ? Condition::run_in : Condition::not_run_in;
    b.condition_assumed = false;
    b.hours = hours;
    // Where no powder was ever noted, all that was driven counts.
    b.since_lube = Length::from_km(since_lube_km.value_or(hard_km + gravel_km + earth_km));
    b.since_lube_assumed = !since_lube_km;
    b.preconditioned = lubricated_once && !run_in;
    b.bar_height = Length::from_metres(bar_mm.value / 1000);
    return b;
}

KnownWear BeltRecord::known_wear() const {
    KnownWear out;
    if (intervals.empty())
        return out;
    out.rates = wear.wear_rates();
    // A rate that came out at nothing or below cannot be planned with: the least that is believed then.
    const WearRates assumed;
    const auto at_least = [](double rate, double prior) {
        return std::max(rate, least_share_of_prior * prior);
    };
    out.rates.hard_mm_per_km = at_least(out.rates.hard_mm_per_km, assumed.hard_mm_per_km);
    out.rates.gravel_mm_per_km = at_least(out.rates.gravel_mm_per_km, assumed.gravel_mm_per_km);
    out.rates.earth_mm_per_km = at_least(out.rates.earth_mm_per_km, assumed.earth_mm_per_km);
    out.rates.field_mm_per_h = at_least(out.rates.field_mm_per_h, assumed.field_mm_per_h);
    out.rates.concrete_mm_per_km = at_least(out.rates.concrete_mm_per_km, assumed.concrete_mm_per_km);
    out.rates.turn_factor = at_least(out.rates.turn_factor, 1.0);
    WearVector road = driven;
    road[3] = 0.0;
    if (road == WearVector{})
        road[0] = 1.0;
    const WearForecast forecast = wear.forecast(road);
    out.sd_share = forecast.mm > 0 ? std::min(forecast.sd / forecast.mm, out.sd_share) : out.sd_share;
    if (wear.rates[3].mean > 0)
        out.field_sd_share = std::min(wear.rates[3].sd / wear.rates[3].mean, out.field_sd_share);
    out.calibrated = wear.rates[0].learnt();
    return out;
}

std::vector<NotedReading> BeltRecord::noted_readings() const {
    std::vector<NotedReading> out;
    for (const BeltReading& seen : readings) {
        const ReadingNote& note = seen.note;
        NotedReading r;
        r.run = Length::from_km(note.length_km);
        r.speed = Speed::from_kmh(note.speed_kmh);
        r.air = Temperature::from_celsius(note.air_c);
        r.surface = note.surface;
        r.sun = note.sun;
        r.state = note.state;
        WearVector driven_then = seen.driven_since;
        if (surveys.empty() || surveys.front().at > seen.at)
            driven_then[3] += added.hours;
        const double estimate = seen.last_known_mm - wear.forecast(driven_then).mm;
        r.bar_height = Length::from_mm(note.bar_mm.value_or(std::clamp(estimate, 1.0, added.new_bar_mm)));
        r.after_stop = Duration::from_minutes(note.after_stop_min);
        r.tip = note.place == "tip";
        r.value = Temperature::from_celsius(note.reading_c);
        r.sd_k = note.sd_c;
        r.place = {fmt::format("event {}", seen.event), {}, {}};
        out.push_back(std::move(r));
    }
    return out;
}

BeltRecord belt_record(std::span<const Event> events, const std::string& belts) {
    BeltRecord r;
    r.belts = belts;
    Adder adder(r);
    for (const Event& e : events)
        adder.add(e);
    if (!adder.was_added())
        throw Error(ErrorKind::not_found, fmt::format("the ledger knows no belts \"{}\" by then", belts),
                    "loamway ledger show lists those it knows");
    estimate(r);
    return r;
}

std::optional<Banded> hours_left(const BeltRecord& r) {
    const double worked = r.field_hours + r.road_hours;
    if (worked < hours_for_a_forecast)
        return std::nullopt;
    WearVector per_hour = r.driven;
    if (per_hour == WearVector{})
        return std::nullopt;
    for (double& x : per_hour)
        x /= worked;
    const WearForecast rate = r.wear.forecast(per_hour);
    if (rate.mm <= 0)
        return std::nullopt;
    const auto left = [&](double mm, double mm_per_hour) {
        return std::max(0.0, mm - r.added.worn_mm) / mm_per_hour;
    };
    const double fast = rate.mm + to_five_percent * rate.sd;
    const double slow = std::max(rate.mm - to_five_percent * rate.sd, rate.mm / 10);
    return Banded{left(r.bar_mm.value, rate.mm), left(r.bar_mm.low, fast), left(r.bar_mm.high, slow)};
}

std::map<std::string, int> removal_counts(std::span<const Event> events) {
    std::map<std::string, int> out;
    for (const Event& e : events)
        if (e.kind == EventKind::removed)
            ++out[read_belts_removed(e.data, fmt::format("event {}", e.id)).cause];
    return out;
}

}  // namespace loamway
