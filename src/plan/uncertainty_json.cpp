// SPDX-License-Identifier: Apache-2.0
#include "uncertainty_json.h"

#include "json_figures.h"

namespace loamway {

namespace {

using Object = Value::Object;
using Array = Value::Array;

Value share_of(double v) {
    return rounded(v, 1e5);
}
/// Inputs are multipliers or small figures.
Value fine(double v) {
    return rounded(v, 1e6);
}

Value range_json(const InputRange& i) {
    return Object{{"name", i.name}, {"low", fine(i.low)}, {"mode", fine(i.mode)}, {"high", fine(i.high)}};
}
Value trials_json(const OptionTrials& o) {
    return Object{{"option", o.option},       {"mean", money(o.mean)},
                  {"p10", money(o.p10)},      {"p50", money(o.p50)},
                  {"p90", money(o.p90)},      {"probability_cheapest", share_of(o.probability_cheapest)},
                  {"regret", money(o.regret)}};
}
Value comparison_json(const std::optional<CostComparison>& c) {
    if (!c)
        return {};
    return Object{{"option", c->option},
                  {"next", c->next},
                  {"probability", share_of(c->probability)},
                  {"wilson95", Array{share_of(c->low95), share_of(c->high95)}},
                  {"mean", money(c->mean)},
                  {"p10", money(c->p10)},
                  {"p50", money(c->p50)},
                  {"p90", money(c->p90)},
                  {"cost_of_being_wrong", money(c->cost_of_being_wrong)},
                  {"next_regret", money(c->next_regret)}};
}
Value bar_json(const CostBar& b) {
    return Object{
        {"input", b.input},          {"input_p10", fine(b.input_p10)}, {"input_p90", fine(b.input_p90)},
        {"at_p10", money(b.at_p10)}, {"at_p90", money(b.at_p90)},      {"swing", money(b.swing)}};
}
Value flip_json(const CostFlip& f) {
    return Object{{"input", f.input}, {"now", fine(f.now)},     {"at", fine(f.at)},
                  {"unit", f.unit},   {"reach", fine(f.reach)}, {"text", f.text}};
}

template <class T, class Make>
Value list_json(const std::vector<T>& items, const Make& make) {
    Array out;
    for (const T& item : items)
        out.push_back(make(item));
    return out;
}

double figure(const JsonReader& r, std::string_view key) {
    return r.at(key).number();
}
double probability(const JsonReader& r) {
    const double p = r.number();
    if (!(p >= 0 && p <= 1))
        throw r.fault("is no share", "it must lie between 0 and 1");
    return p;
}

InputRange read_range(const JsonReader& r) {
    return {r.at("name").text(), figure(r, "low"), figure(r, "mode"), figure(r, "high")};
}
OptionTrials read_trials(const JsonReader& r) {
    return {r.at("option").text(), figure(r, "mean"), figure(r, "p10"),
            figure(r, "p50"),      figure(r, "p90"),  probability(r.at("probability_cheapest")),
            figure(r, "regret")};
}
CostComparison read_comparison(const JsonReader& r) {
    CostComparison c;
    c.option = r.at("option").text();
    c.next = r.at("next").text();
    c.probability = probability(r.at("probability"));
    const auto ends = r.at("wilson95").items(2);
    c.low95 = probability(ends[0]);
    c.high95 = probability(ends[1]);
    c.mean = figure(r, "mean");
    c.p10 = figure(r, "p10");
    c.p50 = figure(r, "p50");
    c.p90 = figure(r, "p90");
    c.cost_of_being_wrong = figure(r, "cost_of_being_wrong");
    c.next_regret = figure(r, "next_regret");
    return c;
}
CostBar read_bar(const JsonReader& r) {
    return {r.at("input").text(), figure(r, "input_p10"), figure(r, "input_p90"),
            figure(r, "at_p10"),  figure(r, "at_p90"),    figure(r, "swing")};
}
CostFlip read_flip(const JsonReader& r) {
    return {r.at("input").text(), figure(r, "now"),   figure(r, "at"),
            r.at("unit").text(),  figure(r, "reach"), r.at("text").text()};
}

template <class Make>
auto read_list(const JsonReader& list, const Make& make) {
    std::vector<decltype(make(list))> out;
    for (const JsonReader& item : list.items())
        out.push_back(make(item));
    return out;
}

}  // namespace

Value uncertainty_json(const std::optional<PlanUncertainty>& u) {
    if (!u)
        return {};
    return Object{{"trials", std::int64_t{u->trials}},
                  {"seed", static_cast<std::int64_t>(u->seed)},
                  {"inputs", list_json(u->inputs, range_json)},
                  {"options", list_json(u->options, trials_json)},
                  {"comparison", comparison_json(u->comparison)},
                  {"mode_probability", rounded(u->mode_probability, 1e5)},
                  {"tornado_base", money(u->tornado_base)},
                  {"tornado", list_json(u->tornado, bar_json)},
                  {"flips", list_json(u->flips, flip_json)}};
}

Value break_even_json(const std::optional<PlanBreakEven>& b) {
    if (!b)
        return {};
    const auto line = [](double fixed, double per_km) -> Value {
        return Object{{"fixed", money(fixed)}, {"per_km", rounded(per_km, 1e4)}};
    };
    return Object{{"drive", b->drive},
                  {"haul", b->haul},
                  {"length_m", whole(b->length_m)},
                  {"hauled_share", fine(b->hauled_share)},
                  {"crossings_m", list_json(b->crossings_m, [](double m) { return whole(m); })},
                  {"haul_from_m", whole(b->haul_from_m)},
                  {"drive_below_m", whole(b->drive_below_m)},
                  {"line_m", whole(b->line_m)},
                  {"drive_line", line(b->drive_fixed, b->drive_per_km)},
                  {"haul_line", line(b->haul_fixed, b->haul_per_km)},
                  {"from_m", whole(b->from_m)},
                  {"to_m", whole(b->to_m)},
                  {"step_m", whole(b->step_m)},
                  {"curve", list_json(b->curve, [](const std::array<double, 3>& p) -> Value {
                       return Array{whole(p[0]), money(p[1]), money(p[2])};
                   })}};
}

PlanUncertainty read_uncertainty(const JsonReader& r) {
    PlanUncertainty u;
    const std::int64_t trials = r.at("trials").integer();
    if (trials < 1 || trials > 1'000'000'000)
        throw r.at("trials").fault("is out of range");
    u.trials = static_cast<int>(trials);
    u.seed = static_cast<std::uint64_t>(r.at("seed").integer());
    u.inputs = read_list(r.at("inputs"), read_range);
    u.options = read_list(r.at("options"), read_trials);
    if (const auto comparison = r.maybe("comparison"))
        u.comparison = read_comparison(*comparison);
    if (const auto p = r.maybe("mode_probability"))
        u.mode_probability = probability(*p);
    u.tornado_base = figure(r, "tornado_base");
    u.tornado = read_list(r.at("tornado"), read_bar);
    u.flips = read_list(r.at("flips"), read_flip);
    return u;
}

PlanBreakEven read_break_even(const JsonReader& r) {
    PlanBreakEven b;
    b.drive = r.at("drive").text();
    b.haul = r.at("haul").text();
    b.length_m = figure(r, "length_m");
    b.hauled_share = figure(r, "hauled_share");
    b.crossings_m = read_list(r.at("crossings_m"), [](const JsonReader& m) { return m.number(); });
    b.haul_from_m = r.maybe_number("haul_from_m");
    b.drive_below_m = r.maybe_number("drive_below_m");
    b.line_m = r.maybe_number("line_m");
    const JsonReader drive = r.at("drive_line"), haul = r.at("haul_line");
    b.drive_fixed = figure(drive, "fixed");
    b.drive_per_km = figure(drive, "per_km");
    b.haul_fixed = figure(haul, "fixed");
    b.haul_per_km = figure(haul, "per_km");
    b.from_m = figure(r, "from_m");
    b.to_m = figure(r, "to_m");
    b.step_m = figure(r, "step_m");
    double last = 0;
    for (const JsonReader& item : r.at("curve").items()) {
        const auto p = item.items(3);
        if (p[0].number() < last)
            throw p[0].fault("goes back", "the lengths must not fall from point to point");
        last = p[0].number();
        b.curve.push_back({p[0].number(), p[1].number(), p[2].number()});
    }
    return b;
}

}  // namespace loamway
