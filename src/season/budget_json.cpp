// SPDX-License-Identifier: Apache-2.0
// A budget as JSON and as a table for a spreadsheet.
#include <fmt/format.h>

#include "json_values.h"
#include "loamway/season/budget.h"
#include "loamway/text/csv.h"

namespace loamway {

namespace {

using Object = Value::Object;

Value band(const BandSum& b, double steps_per_unit) {
    return Object{{"value", rounded(b.value, steps_per_unit)},
                  {"low", rounded(b.low, steps_per_unit)},
                  {"high", rounded(b.high, steps_per_unit)}};
}
Value or_null(const std::string& text) {
    return text.empty() ? Value() : Value(text);
}

Value sum_json(const BudgetSum& s) {
    const CostCauses& c = s.causes;
    const WearCauses& w = s.wear_causes;
    return Object{{"cost", band(s.cost, 100)},
                  {"road_cost", rounded(s.road_cost, 100)},
                  {"field_cost", rounded(s.field_cost, 100)},
                  {"wear_mm", band(s.wear_mm, 1000)},
                  {"wear_share", band(s.wear_share, 1e5)},
                  {"belt_money", band(s.belt_money, 100)},
                  {"fuel_l", rounded(s.fuel_l, 10)},
                  {"fuel_high_l", rounded(s.fuel_high_l, 10)},
                  {"road_s", rounded(s.road.seconds(), 1)},
                  {"field_s", rounded(s.field.seconds(), 1)},
                  {"driven_m", rounded(s.driven_m, 1)},
                  {"paved_m", rounded(s.paved_m, 1)},
                  {"hauled_m", rounded(s.hauled_m, 1)},
                  {"stops", s.stops},
                  {"cost_causes", Object{{"labour", rounded(c.labour, 100)},
                                         {"fuel", rounded(c.fuel, 100)},
                                         {"belts", rounded(c.belts, 100)},
                                         {"machine", rounded(c.machine, 100)},
                                         {"low_bed", rounded(c.low_bed, 100)},
                                         {"other", rounded(c.other, 100)}}},
                  {"wear_causes_mm", Object{{"paved", rounded(w.paved, 1000)},
                                            {"gravel", rounded(w.gravel, 1000)},
                                            {"earth", rounded(w.earth, 1000)},
                                            {"turns", rounded(w.turns, 1000)},
                                            {"field", rounded(w.field, 1000)}}}};
}

Value time_json(const std::optional<Instant>& t, const TimeZone& zone) {
    return t ? Value(format_rfc3339(*t, zone)) : Value();
}

Value job_json(const JobBudget& j, const TimeZone& zone) {
    return Object{
        {"name", j.name},
        {"from", j.from},
        {"to", j.to},
        {"mode", j.moves ? Value(name_of(j.mode)) : Value()},
        {"option", or_null(j.option)},
        {"can_be_done", j.can_be_done},
        {"powder_first", j.powder_first},
        {"why_not", texts(j.why_not)},
        {"verdict", or_null(j.sentence)},
        {"depart", time_json(j.depart, zone)},
        {"arrive", time_json(j.arrive, zone)},
        {"ends", time_json(j.ends, zone)},
        {"hectares", maybe(j.hectares, 100)},
        {"heat", j.bar_peak_c ? Value(Object{{"calibrated", j.heat_calibrated},
                                             {"bar_peak_c", maybe(j.bar_peak_c, 10)},
                                             {"bar_high_c", maybe(j.bar_high_c, 10)},
                                             {"limit_c", maybe(j.limit_c, 10)}})
                              : Value()},
        {"price", rounded(j.price, 100)},
        {"price_per_ha",
         j.can_be_done && j.hectares && *j.hectares > 0 ? rounded(j.price / *j.hectares, 100) : Value()},
        {"sum", sum_json(j.sum)}};
}

std::string csv_line(const std::string& name, const std::string& to, const std::string& mode,
                     const std::optional<double>& hectares, const std::optional<double>& high_c,
                     const std::string& limit_c, bool done, double price, const std::string& basis,
                     const BudgetSum& s) {
    const auto number = [](const std::optional<double>& v) { return v ? fmt::format("{:.1f}", *v) : ""; };
    return fmt::format(
        "{},{},{},{},{},{:.2f},{:.2f},{:.3f},{:.3f},{:.3f},{},{:.1f},{:.3f},{:.3f},{:.3f},{:.5f},{:.2f},{},{},"
        "{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{}\n",
        csv_cell(name), csv_cell(to), mode, done ? "yes" : "no", number(hectares), s.field.hours(),
        s.road.hours(), s.driven_m / 1000, s.paved_m / 1000, s.hauled_m / 1000, s.stops, s.fuel_l,
        s.wear_mm.value, s.wear_mm.low, s.wear_mm.high, s.wear_share.value, s.belt_money.value,
        number(high_c), limit_c, s.road_cost, s.field_cost, s.cost.value, s.cost.low, s.cost.high, price,
        basis);
}

}  // namespace

Value budget_to_json(const Budget& b) {
    const TimeZone zone = b.time_zone.empty() ? TimeZone() : TimeZone(b.time_zone);
    Value::Array jobs, what_ifs;
    for (const JobBudget& j : b.jobs)
        jobs.push_back(job_json(j, zone));
    for (const WhatIfResult& w : b.what_ifs)
        what_ifs.push_back(Object{{"name", w.name}, {"not_done", w.not_done}, {"sum", sum_json(w.sum)}});
    return Object{{"schema", "loamway.budget/1"},
                  {"title", or_null(b.title)},
                  {"machine", b.machine},
                  {"belts", b.belts},
                  {"ledger", or_null(b.ledger)},
                  {"currency", b.currency},
                  {"basis", b.basis},
                  {"margin", rounded(b.margin, 1e5)},
                  {"price", rounded(b.price, 100)},
                  {"wear_calibrated", b.wear_calibrated},
                  {"jobs", jobs},
                  {"sum", sum_json(b.sum)},
                  {"what_ifs", what_ifs},
                  {"to_confirm", texts(b.to_confirm)},
                  {"assumed", texts(b.assumed)},
                  {"region", Object{{"name", b.region_name},
                                    {"map_date", or_null(b.map_date)},
                                    {"time_zone", b.time_zone},
                                    {"attribution", b.attribution}}},
                  {"cautions", texts(budget_cautions(b))}};
}

std::string budget_csv(const Budget& b) {
    std::string out =
        "job,to,mode,can_be_done,hectares,field_h,road_h,driven_km,paved_km,hauled_km,stops,fuel_l,wear_mm,"
        "wear_low_mm,wear_high_mm,wear_share,belt_money,bar_high_c,bar_limit_c,road_cost,field_cost,cost,cost_low,"
        "cost_high,price,basis\n";
    double hectares = 0;
    for (const JobBudget& j : b.jobs) {
        hectares += j.hectares.value_or(0);
        out += csv_line(j.name, j.to, j.moves ? std::string(name_of(j.mode)) : "", j.hectares, j.bar_high_c,
                        j.limit_c ? fmt::format("{:.0f}", *j.limit_c) : "", j.can_be_done, j.price, b.basis,
                        j.sum);
    }
    return out + csv_line("sum", "", "", hectares > 0 ? std::optional(hectares) : std::nullopt, {}, "",
                          b.not_done() == 0, b.price, b.basis, b.sum);
}

}  // namespace loamway
