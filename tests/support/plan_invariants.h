// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_PLAN_INVARIANTS_H
#define LOAMWAY_TESTS_SUPPORT_PLAN_INVARIANTS_H

// What holds of every plan, whatever was asked: costs finite, not negative and the sum of their parts, stops
// within the interval, times and places in order, legs that add up, low <= value <= high, shares between 0
// and 1, and a plan JSON that reads back to the same bytes. Its users link the parts plan and text.

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/plan/plan.h"

namespace loamway::test {

/// Temperatures that no bar and no guide lug of a plan can leave.
struct HeatBounds {
    double low_c = -60;       // the coldest air
    double bar_c = 500;       // settled at the worst, as estimated
    double bar_high_c = 500;  // and at the upper edge
    double guide_lug_c = 3000;
};

class PlanChecker {
public:
    PlanChecker(const Plan& plan, const HeatBounds& heat) : m_plan(plan), m_heat(heat) {}

    std::vector<std::string> run() {
        for (const Option& o : m_plan.options) {
            m_where = o.id;
            lengths(o);
            legs(o);
            costs(o);
            wear(o);
            heat(o);
            times(o);
            stops(o);
            interval(o);
            line(o);
            pace(o);
            if (o.feasible)
                promised(o);
        }
        m_where = "plan";
        verdict();
        choices();
        uncertainty();
        break_even();
        json();
        return std::move(m_faults);
    }

private:
    using Number = std::optional<double>;

    void hold(bool ok, const std::string& what) {
        if (!ok)
            m_faults.push_back(m_where + ": " + what);
    }
    void at_least_zero(Number v, const std::string& what) {
        hold(!v || (std::isfinite(*v) && *v >= 0 && !std::signbit(*v)),
             what + " = " + std::to_string(v.value_or(0)));
    }
    /// All that are there finite and ascending, each by no more than `slack` below the one before.
    void ascending(const std::vector<Number>& list, const std::string& what, double slack = 0) {
        double last = -1e300;
        for (const Number& v : list) {
            if (!v)
                continue;
            hold(std::isfinite(*v) && *v >= last - slack,
                 what + " out of order: " + std::to_string(*v) + " after " + std::to_string(last));
            last = std::max(last, *v);
        }
    }
    static double whole_length(const Option& o) { return o.length_m.value_or(0) + o.hauled_m.value_or(0); }
    // Lengths are printed in whole metres, a leg each.
    static double rounding(const Option& o) { return 1.0 + static_cast<double>(o.legs.size()); }

    void lengths(const Option& o) {
        for (const auto& [v, name] : {std::pair(o.length_m, "length_m"),
                                      {o.hard_m, "hard_m"},
                                      {o.gravel_m, "gravel_m"},
                                      {o.earth_m, "earth_m"},
                                      {o.assumed_m, "assumed_m"},
                                      {o.hauled_m, "hauled_m"},
                                      {o.ferry_m, "ferry_m"},
                                      {o.fuel_l, "fuel_l"},
                                      {o.fuel_high_l, "fuel_high_l"},
                                      {o.gap_m, "gap_m"}})
            at_least_zero(v, name);
        ascending({0.0, o.hard_low_m, o.hard_m, o.hard_high_m, o.length_m}, "paved length");
        ascending({o.assumed_m, o.length_m}, "assumed length");
        ascending({o.fuel_l, o.fuel_high_l}, "fuel", 1e-6);
        if (o.length_m && o.hard_m)
            hold(std::abs(*o.hard_m + *o.gravel_m + *o.earth_m - *o.length_m) < 0.5,
                 "surfaces do not add up to the length");
    }
    void legs(const Option& o) {
        double driven = 0, hauled = 0, duration = 0;
        for (const Leg& l : o.legs) {
            at_least_zero(l.length_m, "length of a leg");
            at_least_zero(l.duration_s, "duration of a leg");
            (l.mode == Mode::drive ? driven : hauled) += l.length_m;
            duration += l.duration_s;
            std::vector<Number> at;
            for (const Instruction& i : l.directions) {
                at.push_back(i.at_m);
                hold(std::abs(i.turn_deg) <= 180.5, "a turn of " + std::to_string(i.turn_deg));
            }
            ascending(at, "directions");
            for (std::size_t i = 0; i < l.surface_runs.size(); ++i) {
                hold(l.surface_runs[i].from_m <= l.surface_runs[i].to_m, "a surface run backwards");
                hold(i == 0 || std::abs(l.surface_runs[i].from_m - l.surface_runs[i - 1].to_m) < 0.11,
                     "surface runs with a gap");
            }
        }
        if (o.legs.empty())
            return;
        hold(std::abs(driven - o.length_m.value_or(0)) <= rounding(o), "driven legs do not add up");
        hold(std::abs(hauled - o.hauled_m.value_or(0)) <= rounding(o), "hauled legs do not add up");
        hold(!o.duration_s || duration <= *o.duration_s + 1, "legs take longer than the option");
    }
    void costs(const Option& o) {
        const OptionCost& c = o.cost;
        double sum = 0;
        for (const Number& part :
             {c.labour, c.fuel, c.belts, c.machine, c.lubricant, c.escort, c.truck, c.permit, c.other}) {
            at_least_zero(part, "a part of the cost");
            sum += part.value_or(0);
        }
        for (const Number& v : {c.total, c.low, c.high, c.mean, c.other_basis_total})
            at_least_zero(v, "a cost");
        hold(!c.total || std::abs(sum - *c.total) <= 1e-9 * sum + 0.051,
             "the cost is not the sum of its parts");
        ascending({c.low, c.total, c.high}, "band of the cost");
    }
    void wear(const Option& o) {
        at_least_zero(o.wear.share, "wear");
        at_least_zero(o.wear.mm, "wear in mm");
        at_least_zero(o.wear.field_hours_equivalent, "wear in field hours");
        ascending({0.0, o.wear.low, o.wear.share, o.wear.high}, "band of the wear");
        for (const Number& km : o.wear.weighted_km)
            at_least_zero(km, "weighted km");
    }
    void heat(const Option& o) {
        if (!o.heat)
            return;
        const OptionHeat& h = *o.heat;
        ascending({m_heat.low_c, h.bar_low_c, h.bar_peak_c, h.bar_high_c, m_heat.bar_high_c},
                  "bar temperatures", 0.05);
        ascending({h.bar_peak_c, m_heat.bar_c}, "peak of the bars");
        ascending({m_heat.low_c, h.guide_lug_peak_c, m_heat.guide_lug_c}, "guide-lug temperatures", 0.05);
        at_least_zero(h.aging_110c_min, "aging");
        double bar = -1e300, lug = -1e300;
        std::vector<Number> at{0.0};
        for (const HeatPoint& p : h.profile) {
            at.push_back(p.at_m);
            bar = std::max(bar, p.bar_c);
            lug = std::max(lug, p.guide_lug_c);
            ascending({m_heat.low_c, p.bar_c, m_heat.bar_c}, "a bar temperature", 0.05);
            ascending({m_heat.low_c, p.guide_lug_c, m_heat.guide_lug_c}, "a guide-lug temperature", 0.05);
        }
        at.emplace_back(whole_length(o) + rounding(o));
        ascending(at, "temperatures along the way");
        if (!h.profile.empty()) {
            hold(bar <= *h.bar_peak_c + 0.05, "bars are hotter on the way than their peak");
            hold(std::abs(lug - *h.guide_lug_peak_c) < 0.05,
                 "guide lugs do not peak where they are hottest: " + std::to_string(lug) + " and " +
                     std::to_string(*h.guide_lug_peak_c));
        }
        if (o.feasible && h.acted_on_c)
            hold(*h.acted_on_c <= *h.limit_c + 0.05, "can be done over the limit");
    }
    static Number seconds(const std::optional<Instant>& t) {
        return t ? Number(static_cast<double>(t->unix_seconds)) : Number();
    }
    void times(const Option& o) {
        for (const Number& v : {o.duration_s, o.driving_s, o.stopped_s})
            at_least_zero(v, "a time");
        if (o.depart && o.arrive && o.duration_s)
            hold(std::abs(*seconds(o.arrive) - *seconds(o.depart) - *o.duration_s) <= 1.5,
                 "leaving and arriving are not the duration apart");
        std::vector<Number> clock{seconds(o.depart)};
        for (const PlanStop& s : o.stops) {
            clock.push_back(seconds(s.arrive));
            clock.push_back(seconds(s.leave));
            if (s.arrive && s.leave)
                hold(std::abs(*seconds(s.leave) - *seconds(s.arrive) - s.wait_s) <= 1.5,
                     "a stop is not as long as its wait");
        }
        clock.push_back(seconds(o.arrive));
        ascending(clock, "clock times", 1);
        for (const Number& cap : o.speed_caps_kmh)
            hold(!cap || (*cap > 0 && *cap <= 130), "a speed cap of " + std::to_string(cap.value_or(0)));
        if (o.mode == Mode::drive && o.duration_s)
            hold(std::abs(*o.driving_s + *o.stopped_s - *o.duration_s) <= 1,
                 "driving and standing are not the duration");
    }
    void stops(const Option& o) {
        std::vector<Number> at{0.0};
        for (const PlanStop& s : o.stops) {
            at.push_back(s.at_m);
            at_least_zero(s.wait_s, "a wait");
            at_least_zero(s.since_relube_m, "since the last stop");
        }
        at.emplace_back(whole_length(o));
        ascending(at, "stops along the way", rounding(o));
        for (const Flag& f : o.flags)
            hold(!f.at_m || (*f.at_m >= 0 && *f.at_m <= whole_length(o) + rounding(o)),
                 "a flag off the way: " + f.kind);
    }
    /// Driven metres up to a point of the option.
    static double driven_to(const Option& o, double at_m) {
        double driven = 0, begin = 0;
        for (const Leg& l : o.legs) {
            const double part = std::clamp(at_m - begin, 0.0, l.length_m);
            driven += l.mode == Mode::drive ? part : 0;
            begin += l.length_m;
        }
        return driven;
    }
    void interval(const Option& o) {
        if (!o.feasible || !o.relube_interval_m)
            return;
        const double most = *o.relube_interval_m + 0.11;  // exact in decimetres
        double last = 0;
        for (const PlanStop& s : o.stops) {
            if (s.kind != "relube" && s.kind != "start")
                continue;
            const double driven = driven_to(o, s.at_m);
            hold(s.since_relube_m <= most || s.kind == "start",
                 s.kind + " at " + std::to_string(s.at_m) + " comes " + std::to_string(s.since_relube_m) +
                     " m after the last one");
            hold(driven - last <= most,
                 "stops " + std::to_string(driven - last) + " m apart, interval " + std::to_string(most));
            last = driven;
        }
        hold(driven_to(o, whole_length(o) + 10) - last <= most, "no stop before the end");
    }
    void line(const Option& o) {
        hold(o.geometry_at_m.empty() || o.geometry.size() == o.geometry_at_m.size(),
             "metres beside the line");
        std::vector<Number> at{0.0};
        for (const double m : o.geometry_at_m)
            at.emplace_back(m);
        at.emplace_back(whole_length(o) + rounding(o));
        ascending(at, "metres along the line", 0.01);
        for (const GeoPoint p : o.geometry)
            hold(std::abs(p.lat()) <= 90 && std::abs(p.lon()) <= 180, "a point off the globe");
    }
    /// Its clock runs along the whole way, ends when it arrives or its load is taken down, and no piece is
    /// faster than anything that is planned.
    void pace(const Option& o) {
        if (!o.clock.empty() && o.duration_s) {
            hold(std::abs(o.clock.front()[0]) <= rounding(o) &&
                     std::abs(o.clock.back()[0] - whole_length(o)) <= rounding(o),
                 "the clock does not run along the whole way");
            hold(o.clock.back()[1] <= *o.duration_s + 1, "the clock ends after arriving");
        }
        hold(o.clock.empty() == o.geometry.empty() || whole_length(o) == 0, "a line without a clock");
        for (std::size_t i = 1; i < o.clock.size(); ++i) {
            const double m = o.clock[i][0] - o.clock[i - 1][0], s = o.clock[i][1] - o.clock[i - 1][1];
            hold(m >= 0 && s >= 0, "the clock goes back");
            hold(m <= s * 130 / 3.6 + 1e-6, "faster than 130 km/h by the clock");
        }
    }
    void promised(const Option& o) {
        for (const Number& v :
             {o.duration_s, o.length_m, o.hauled_m, o.cost.total, o.cost.low, o.cost.high, o.cost.mean})
            hold(v.has_value(), "a figure that is promised is missing");
        hold(o.depart && o.arrive && !o.legs.empty(), "times or legs are missing");
        hold(whole_length(o) == 0 || o.geometry.size() > 1, "the line is missing");
        hold(o.why_not.empty() && o.answer_needed.empty(), "can be done, and says why not");
        hold(o.length_m.value_or(0) == 0 || (o.heat && o.wear.share && o.hard_m && o.fuel_l),
             "driven without heat, wear, surfaces or fuel");
    }
    void verdict() {
        const Verdict& v = m_plan.verdict;
        hold(!v.sentence.empty(), "no sentence");
        const Option* o = m_plan.find_option(v.option);
        hold(v.option.empty() || (o != nullptr && o->feasible), "advises what cannot be done: " + v.option);
        hold(o == nullptr || o->mode == v.mode, "the verdict's mode is not its option's");
        hold(!v.option.empty() || std::none_of(m_plan.options.begin(), m_plan.options.end(),
                                               [](const Option& p) { return p.feasible; }),
             "advises nothing although something can be done");
        share_of_one(v.probability_cheapest, "probability");
    }
    void share_of_one(Number v, const std::string& what) {
        hold(!v || (*v >= -1e-9 && *v <= 1 + 1e-9), what + " = " + std::to_string(v.value_or(0)));
    }
    void choices() {
        if (!m_plan.front)
            return;
        double hard = -1, length = 1e300;
        for (const FrontPoint& p : *m_plan.front) {
            hold(p.hard_m >= hard && p.length_m <= length, "choices out of order");
            hold(p.hard_m <= p.length_m + 1, "a choice with more paved road than road");
            hard = p.hard_m;
            length = p.length_m;
            at_least_zero(p.cost, "cost of a choice");
            at_least_zero(p.duration_s, "duration of a choice");
        }
    }
    void uncertainty() {
        if (!m_plan.uncertainty)
            return;
        double sum = 0, least = 1e300, advised = 1e300;
        for (const OptionTrials& t : m_plan.uncertainty->options) {
            ascending({0.0, t.p10, t.p50, t.p90}, "trials of " + t.option);
            at_least_zero(t.mean, "mean");
            at_least_zero(t.regret, "regret");
            share_of_one(t.probability_cheapest, "probability");
            sum += t.probability_cheapest;
            least = std::min(least, t.mean);
            if (t.option == m_plan.verdict.option)
                advised = t.mean;
        }
        hold(sum > 1 - 1e-6, "probabilities do not reach one");
        hold(advised <= least * (1 + 1e-9) + 1e-6, "the advice is not the cheapest by mean cost");
        if (const auto& c = m_plan.uncertainty->comparison) {
            ascending({c->low95, c->probability, c->high95}, "comparison", 1e-9);
            ascending({c->p10, c->p50, c->p90}, "difference");
        }
        for (const InputRange& r : m_plan.uncertainty->inputs)
            ascending({r.low, r.mode, r.high}, "range of " + r.name);
    }
    void break_even() {
        if (!m_plan.break_even)
            return;
        const PlanBreakEven& b = *m_plan.break_even;
        std::vector<Number> at;
        for (const double m : b.crossings_m)
            at.emplace_back(m);
        ascending(at, "crossings");
        for (const auto& [m, drive, haul] : b.curve) {
            at_least_zero(m, "a length of the break-even");
            at_least_zero(drive, "a cost of the break-even");
            at_least_zero(haul, "a cost of the break-even");
        }
    }
    void json() {
        try {
            const std::string text = to_json(plan_to_json(m_plan), 1);
            hold(text.find("-0.0,") == std::string::npos && text.find("-0,") == std::string::npos,
                 "a negative zero in the JSON");
            hold(to_json(plan_to_json(plan_from_json(parse_json(text, "plan"), "plan")), 1) == text,
                 "the JSON reads back to another one");
        } catch (const std::exception& e) {
            hold(false, std::string("JSON: ") + e.what());
        }
    }

    const Plan& m_plan;
    const HeatBounds& m_heat;
    std::string m_where;
    std::vector<std::string> m_faults;
};

/// One line for each thing that does not hold; none when all is well.
[[nodiscard]] inline std::vector<std::string> check_invariants(const Plan& plan,
                                                               const HeatBounds& heat = {}) {
    return PlanChecker(plan, heat).run();
}

}  // namespace loamway::test

#endif
