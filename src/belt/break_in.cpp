// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/break_in.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "loamway/belt/bar_heat.h"
#include "loamway/belt/guide_lug.h"
#include "loamway/belt/heat_calibration.h"

namespace loamway {

namespace {

const Length longest_run = Length::from_km(100);
const Length run_step = Length::from_metres(100);

struct StageRule {
    double from_h;
    std::optional<double> to_h;
    std::optional<double> cap_kmh;
    std::optional<double> road_share;
};
// Rising speed and road share over the first 50 to 100 hours are common practice; the figures are
// assumptions.
constexpr std::array<StageRule, 4> stage_rules{{{0, 10, 20, 0.10},
                                                {10, 50, 25, 0.20},
                                                {50, 100, 30, 0.40},
                                                {100, std::nullopt, std::nullopt, std::nullopt}}};
constexpr double check_below_hours = 100;  // check stop and powder at the start (common practice)
const Duration slow_start = Duration::from_minutes(15);
const Duration soil_alone = Duration::from_hours(50);

std::string all_belts(int count) {
    return count == 2 ? std::string("both belts") : fmt::format("all {} belts", count);
}

/// Belts of one stage on paved ground.
class PavedRun {
public:
    PavedRun(const Machine& machine, const WorkingState& state, const BeltsNow& belts,
             const Conditions& conditions)
        : m_conditions(conditions),
          m_model(machine, state, hot(), {}, belts.bar_height),
          m_lug(m_model.belt()) {}

    void fill(RoadStage& stage, double hours) const {
        const Driving driving{RoadSurface::asphalt, stage.paved_cap, m_conditions.air, m_conditions.sun, 0.0};
        const HeatRegime regime = m_model.regime(driving);
        BarHeat bar(m_model.belt(), m_model.parameters().rubber, m_conditions.air);
        const Duration step = run_step / stage.paved_cap;
        Length run;
        while (run < longest_run) {
            bar.run(regime, step);
            if (bar.core() > stage.limit)
                break;
            run += run_step;
        }
        stage.paved_run = run;
        stage.paved_run_is_longer = run >= longest_run;
        stage.relube_interval = m_lug.next_lube({Length(), hours, m_conditions.ground}, driving);
    }

private:
    static HeatParameters hot() {
        HeatParameters p;
        p.scales.heat = std::exp(heat_scale_prior_sd);
        return p;
    }

    const Conditions& m_conditions;
    HeatModel m_model;
    GuideLug m_lug;
};

std::vector<RoadStage> stages_from(double hours, const Machine& machine, const PavedRun& paved) {
    std::vector<RoadStage> out;
    for (const StageRule& rule : stage_rules) {
        if (rule.to_h && *rule.to_h <= hours)
            continue;
        RoadStage s;
        s.from_h = std::max(rule.from_h, hours);
        s.to_h = rule.to_h;
        s.road_share = rule.road_share;
        const Speed own = machine.speed_on(SurfaceClass::hard);
        s.paved_cap = rule.cap_kmh ? std::min(own, Speed::from_kmh(*rule.cap_kmh)) : own;
        s.limit = HeatLimits::for_belts(s.from_h).limit;
        s.lube_at_start = s.check_stop = s.from_h < check_below_hours;
        paved.fill(s, s.from_h);
        out.push_back(s);
    }
    return out;
}

BreakInPhase before_powder(int count) {
    return {
        "Fitted, before anything turns",
        {{"Tension and alignment as the maker's manual says; guide lugs sit between all rollers",
          Basis::practice},
         {"Drive wheel, idler and roller bolts at the manual's torque", Basis::practice},
         {"Measure the height of ten bars on each belt, mark them, write it down: wear is counted from there",
          Basis::practice},
         {fmt::format("No oil, grease or preservative left on the inside of {}", all_belts(count)),
          Basis::practice}}};
}

BreakInPhase powder(int count, bool fresh) {
    BreakInPhase p{fresh ? "Preconditioning" : "Powder after washing", {}};
    p.lines = {
        {fmt::format("Dry powder (dry soil, clay granules, talc) on the inside of {}", all_belts(count)),
         Basis::practice},
        {"Where: both flanks of every guide lug, and the band that drive wheel, mid rollers and idler run on",
         Basis::practice},
        {"Enough that rubber is grey all over and no more falls off when tapped", Basis::assumption},
        {"Engine off and key out, powder what can be reached, everyone clear, roll half a belt length, engine "
         "off and key out again, powder the rest",
         Basis::practice}};
    return p;
}

BreakInPhase slow_quarter(bool fresh) {
    BreakInPhase p{"The slow quarter of an hour", {}};
    p.lines = {
        {"Drive 15 minutes slowly", Basis::practice},
        {"Not above 15 km/h", Basis::assumption},
        {"On dry soil where there is some: it adds powder by itself (kilometres since the last powder go on all the same)",
         Basis::practice},
        {"Straight or in wide curves; no turning on the spot, least of all on hard ground", Basis::practice}};
    if (fresh)
        p.lines.push_back({"Then powder once more before the first road", Basis::assumption});
    return p;
}

BreakInPhase look(bool fresh) {
    BreakInPhase p{"Look before going on", {}};
    p.lines = {
        {"Off the road, level and firm; park brake on, implement down, engine off, key out", Basis::practice},
        {"Infrared thermometer on the guide lug flanks, same place on both sides, within two minutes: more than "
         "10 °C apart wants a cause",
         Basis::assumption},
        {"Without one: back of the hand near, never on. Rollers and guide lugs burn skin", Basis::practice},
        {"A warmer side: road crown, sun and steering come first. Repeat on level ground in the shade; then "
         "alignment and tension",
         Basis::practice},
        {"Rubber dust, scuffed or cut guide lugs, stones, packed mud: clear it and find out why",
         Basis::practice}};
    if (fresh)
        p.lines.push_back({"Tension and bolts again after 10 and 50 hours, unless the manual names others",
                           Basis::assumption});
    return p;
}

BreakInPhase waits() {
    return {"What waits until then",
            {{"Any road, however short: bring the machine to the field on a low-bed", Basis::practice},
             {"Fast driving in the field, full draft, full tank or ballast", Basis::assumption},
             {"Long work across a slope or along a crowned lane: it loads one side of the guide lugs",
              Basis::practice},
             {"Best first hours: dry soil at field speed", Basis::practice}}};
}

BreakInPhase on_the_road() {
    return {"On every road move under 100 hours",
            {{"Powder before the start, whatever the trip meter says", Basis::practice},
             {"Check stop after 3 to 5 km: both guide lug sides of each belt, as above", Basis::practice},
             {"Field or earth lane instead of pavement wherever it leads there", Basis::practice},
             {"Under 50 hours the bars are held 15 °C below the usual limit", Basis::assumption}}};
}

}  // namespace

std::string_view name_of(Basis b) {
    switch (b) {
        case Basis::practice:
            return "common practice";
        case Basis::assumption:
            return "assumption";
        case Basis::model:
            break;
    }
    return "estimate";
}

bool worked_in(Duration since_powdered, Duration on_soil) {
    return since_powdered >= slow_start || on_soil >= soil_alone;
}

std::optional<Speed> young_paved_cap(const BeltsNow& belts) {
    const std::optional<double> hours = belts.worked_hours();
    const auto rule = std::find_if(stage_rules.begin(), stage_rules.end(), [&](const StageRule& r) {
        return hours && (!r.to_h || *hours < *r.to_h);
    });
    return rule != stage_rules.end() && rule->cap_kmh ? std::optional(Speed::from_kmh(*rule->cap_kmh))
                                                      : std::nullopt;
}

BreakInPlan break_in_plan(const Machine& machine, const WorkingState& state, const BeltsNow& belts,
                          const Conditions& conditions) {
    using Condition = BeltsNow::Condition;
    const int count = machine.belts.count;
    BreakInPlan plan;
    plan.conditions = conditions;
    const bool fresh = belts.condition == Condition::not_run_in && !belts.preconditioned;
    const double hours =
        belts.hours.value_or(belts.condition == Condition::not_run_in ? 0.0 : check_below_hours);
    plan.road_waits = fresh;
    if (fresh)
        plan.phases.push_back(before_powder(count));
    if (fresh || belts.condition == Condition::washed) {
        plan.phases.push_back(powder(count, fresh));
        plan.phases.push_back(slow_quarter(fresh));
        plan.phases.push_back(look(fresh));
    }
    if (fresh)
        plan.phases.push_back(waits());
    if (hours < check_below_hours) {
        plan.phases.push_back(on_the_road());
        plan.stages = stages_from(hours, machine, PavedRun(machine, state, belts, conditions));
    }
    return plan;
}

}  // namespace loamway
