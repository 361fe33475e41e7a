// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/belt_report.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "loamway/base/names.h"
#include "loamway/ledger/belt_outlook.h"

namespace loamway {

const char* const heat_words = "estimate, no evidence of a belt's condition";

namespace {

Value band_json(const Banded& b, double per_unit) {
    const auto r = [&](double v) { return Value(std::round(v * per_unit) / per_unit); };
    return Value::Object{{"value", r(b.value)}, {"low", r(b.low)}, {"high", r(b.high)}};
}
Value rounded(double v, double per_unit) {
    return Value(std::round(v * per_unit) / per_unit);
}
Value maybe(const std::optional<double>& v, double per_unit) {
    return v ? rounded(*v, per_unit) : Value();
}
Value words(const std::vector<std::string>& list) {
    return Value::Array(list.begin(), list.end());
}

Value turn_json(const BeltRecord& r) {
    if (!r.last_turn)
        return {};
    return Value::Object{{"kind", Value(name_of(r.last_turn->kind))},
                         {"at", format_rfc3339(r.last_turn->at, TimeZone())},
                         {"event", r.last_turn->event}};
}

Value hottest_json(const BeltRecord& r) {
    Value::Array out;
    for (const HotMove& m : r.hottest)
        out.push_back(Value::Object{{"event", m.event},
                                    {"at", format_rfc3339(m.at, TimeZone())},
                                    {"bar_peak_c", rounded(m.bar_peak_c, 10)},
                                    {"bar_high_c", maybe(m.bar_high_c, 10)},
                                    {"limit_c", maybe(m.limit_c, 10)},
                                    {"from", m.from},
                                    {"to", m.to}});
    return out;
}

Value measuring_json(const BeltRecord& r, WearAim aim) {
    Value::Array out;
    for (const MeasurementWorth& m : worth_measuring(r, aim))
        out.push_back(Value::Object{{"what", m.what},
                                    {"sd_share_now", rounded(m.sd_now, 1000)},
                                    {"sd_share_then", rounded(m.sd_then, 1000)}});
    return out;
}

Value end_json(const BeltReport& b) {
    const auto end = wear_end(b.record, b.at);
    if (!end)
        return {};
    const auto time = [](const std::optional<Instant>& t) {
        return t ? Value(format_rfc3339(*t, TimeZone())) : Value();
    };
    return Value::Object{{"hours_per_week", rounded(end->hours_per_week, 10)},
                         {"at", time(end->at)},
                         {"earliest", time(end->earliest)},
                         {"latest", time(end->latest)}};
}

Value rates_json(const BeltRecord& r) {
    Value::Array out;
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        const WearRateEstimate& e = r.wear.rates[i];
        Value::Array correlations;
        for (std::size_t j = 0; j < wear_rate_count; ++j)
            correlations.push_back(rounded(r.wear.correlation(i, j), 1000));
        out.push_back(Value::Object{{"rate", Value(wear_rate_names[i])},
                                    {"unit", i < 3    ? "mm/km"
                                             : i == 3 ? "mm/h"
                                                      : "mm"},
                                    {"mean", rounded(e.mean, 1e6)},
                                    {"sd", rounded(e.sd, 1e6)},
                                    {"low", rounded(e.low, 1e6)},
                                    {"high", rounded(e.high, 1e6)},
                                    {"gain", rounded(e.gain, 1000)},
                                    {"learnt", e.learnt()},
                                    {"correlations", correlations}});
    }
    return out;
}

Value belts_json(const BeltReport& b) {
    const BeltRecord& r = b.record;
    const auto left = taken_off_for_good(r) ? std::nullopt : hours_left(r);
    return Value::Object{
        {"belts", r.belts},
        {"machine", r.machine.empty() ? Value() : Value(r.machine)},
        {"removed_for", r.removed_for.empty() ? Value() : Value(r.removed_for)},
        {"state", r.washed && r.run_in ? "washed"
                  : r.run_in           ? "run-in"
                                       : "new"},
        {"powdered_once", r.lubricated_once},
        {"hours", rounded(r.hours, 100)},
        {"field_hours", rounded(r.field_hours, 100)},
        {"road_hours", rounded(r.road_hours, 100)},
        {"km", Value::Object{{"hard", rounded(r.hard_km, 1000)},
                             {"gravel", rounded(r.gravel_km, 1000)},
                             {"earth", rounded(r.earth_km, 1000)}}},
        {"moves", r.moves},
        {"since_lube_km", maybe(r.since_lube_km, 1000)},
        {"last_swap_or_rotation", turn_json(r)},
        {"bar_mm", band_json(r.bar_mm, 1000)},
        {"surveys", static_cast<std::int64_t>(r.surveys.size())},
        {"share_used", band_json(r.share_used, 1e5)},
        {"money_used", r.added.price > 0 ? band_json(r.money_used, 100) : Value()},
        {"currency", r.added.currency},
        {"costs", rounded(r.costs, 100)},
        {"condition", Value::Object{{"guide_lugs_lost", r.condition.guide_lugs_lost},
                                    {"edge_cuts", r.condition.edge_cuts},
                                    {"chunking", r.condition.chunking},
                                    {"cord_visible", r.condition.cord_visible},
                                    {"note", r.condition.note}}},
        {"faults", words(r.faults)},
        {"heat", Value::Object{{"what", heat_words},
                               {"calibrated", b.heat && b.heat->calibrated()},
                               {"scale", b.heat ? rounded(b.heat->scale, 1000) : Value()},
                               {"core_sd_k",
                                b.heat && b.heat->calibrated() ? rounded(b.heat->core_sd_k, 10) : Value()},
                               {"readings_used", b.heat ? b.heat->used : 0},
                               {"readings_refused", b.heat ? words(b.heat->refused) : Value(Value::Array{})},
                               {"hottest_moves", hottest_json(r)}}},
        {"wear_rates", rates_json(r)},
        {"wear_notes", words(r.wear.notes)},
        {"worth_measuring", Value::Object{{"hour_of_work", measuring_json(r, WearAim::hour_of_work)},
                                          {"road", measuring_json(r, WearAim::road)}}},
        {"hours_left", left ? band_json(*left, 10) : Value()},
        {"wear_end", end_json(b)}};
}

BeltReport report_on(const Ledger& ledger, const std::string& belts, const std::optional<Instant>& until) {
    BeltReport out{ledger.record(belts, until), std::nullopt, until.value_or(now()), {}};
    if (const auto machine = machine_named(ledger, out.record.machine))
        out.heat = learn_heat(*machine, out.record.noted_readings());
    return out;
}

}  // namespace

std::optional<Machine> machine_named(const Ledger& ledger, const std::string& name) {
    const auto profile = name.empty() ? std::nullopt : ledger.profile(name);
    return profile ? std::optional(read_machine(*profile, printable(name))) : std::nullopt;
}

LedgerReport report_on_ledger(const Ledger& ledger, const std::string& belts,
                              const std::optional<Instant>& until) {
    LedgerReport out;
    out.machines = ledger.machine_names();
    out.removals = removal_counts(ledger.events(EventQuery{{}, {}, {EventKind::removed}, {}, until, false}));
    std::vector<std::string> there;
    if (!belts.empty()) {
        there.push_back(belts);
    } else {
        EventQuery added;
        added.kinds = {EventKind::belts_added};
        added.until = until;
        for (const Event& e : ledger.events(added))
            there.push_back(e.belts);
    }
    for (const std::string& each : there) {
        out.belts.push_back(report_on(ledger, each, until));
        out.belts.back().removals = out.removals;
    }
    return out;
}

Value to_value(const LedgerReport& report) {
    Value::Array belts;
    for (const BeltReport& r : report.belts)
        belts.push_back(belts_json(r));
    Value causes{Value::Object{}};
    for (const auto& [cause, count] : report.removals)
        causes.set(cause, count);
    return Value::Object{{"schema", "loamway.ledger/1"},
                         {"machines", words(report.machines)},
                         {"belts", std::move(belts)},
                         {"removed", causes}};
}

}  // namespace loamway
