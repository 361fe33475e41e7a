// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "confirm.h"
#include "departures.h"
#include "drive_planner.h"
#include "hauling.h"
#include "json_figures.h"
#include "loamway/base/error.h"
#include "loamway/base/unit_words.h"
#include "loamway/base/version.h"
#include "loamway/plan/belts_left.h"
#include "loamway/plan/cautions.h"
#include "loamway/plan/inputs.h"
#include "mixed_option.h"
#include "move_break_even.h"
#include "options.h"
#include "stops.h"
#include "uncertainty.h"
#include "verdict.h"
#include "watch.h"

namespace loamway {

namespace {

// Ends nearer to each other than this are one place.
const Length same_place = Length::from_metres(1);

void describe_move(const Setting& setting, Plan& plan) {
    const PlanInputs& in = setting.in();
    const RegionMeta& meta = in.region->meta();
    plan.loamway_version = program_version();
    plan.region = {meta.name,        in.region->digest(),    meta.map_date, meta.time_zone,
                   meta.attribution, meta.time_zone_assumed, meta.elevation};
    plan.units = in.units;
    plan.move.from_name = in.from.name;
    plan.move.to_name = in.to.name;
    plan.move.from = in.from.point;
    plan.move.to = in.to.point;
    plan.move.machine = in.machine.name;
    plan.move.state = setting.state().name;
    plan.move.belts = in.belts.condition == BeltsNow::Condition::not_run_in ? "not run in"
                      : in.belts.condition == BeltsNow::Condition::washed   ? "washed, run in"
                                                                            : "run in";
    plan.move.fields = in.fields;
    plan.move.phones = in.machine.phones;
}

void check(const PlanInputs& inputs) {
    if (distance(inputs.from.point, inputs.to.point) < same_place)
        throw Error(ErrorKind::input, "the two ends of the move are the same place", "give another --to");
    if (inputs.front_point && !inputs.drive)
        throw Error(
            ErrorKind::input,
            fmt::format("choice {} is a way to drive, but driving is not looked at", *inputs.front_point),
            "add drive to the modes, or leave out the choice");
}

void add_hauled(const PlanInputs& inputs, const Setting& setting, DrivePlanner& driving, Plan& plan) {
    if (!inputs.haul && !inputs.mixed)
        return;
    tell(inputs, "hauling", 0.5);
    Hauling hauling(setting);
    // Whether mixing can pay is asked beside the move hauled from door to door, wanted or not.
    const Option haul = haul_option(setting, hauling, driving.ends());
    if (inputs.haul)
        plan.options.push_back(haul);
    tell(inputs, "mixed", 0.6);
    if (inputs.mixed)
        plan.options.push_back(mixed_option(setting, driving, hauling, haul));
}

// Whatever the way there, somebody has to say once where the field is entered.
void flag_guessed_ends(const PlanInputs& in, Plan& plan) {
    for (Option& o : plan.options)
        for (const NamedPoint* end : {&in.from, &in.to})
            if (!end->to_confirm.empty()) {
                Flag f;
                f.kind = "entrance";
                f.severity = Severity::check;
                f.at_m = end == &in.from ? std::optional(0.0) : std::nullopt;
                f.point = end->point;
                f.text = end->to_confirm;
                o.flags.push_back(std::move(f));
            }
}

Plan plan_as_asked(const PlanInputs& inputs) {
    tell(inputs, "roads", 0);
    Setting setting(inputs);
    Plan plan;
    describe_move(setting, plan);
    DrivePlanner driving(setting);
    driving.describe_ends(plan.move);
    if (inputs.drive) {
        tell(inputs, "driving", 0.1);
        driving.work_out();
        tell(inputs, "choices", 0.3);
        if (inputs.front || inputs.front_point)
            driving.work_out_choices();
        driving.add_to(plan);
    }
    add_hauled(inputs, setting, driving, plan);
    tell(inputs, "costs", 0.85);
    work_out_uncertainty(setting, plan);
    work_out_break_even(setting, plan);
    plan.verdict = make_verdict(plan, driving.heat_notes());
    name_what_to_confirm(setting, driving.priced_ways(), plan);
    tell(inputs, "advice", 0.95);
    if (inputs.other_hours && !inputs.when && driving.too_hot())
        add_cooler_hour(inputs, setting, plan.verdict);
    flag_guessed_ends(inputs, plan);
    plan.cautions = standard_cautions(inputs.haul || inputs.mixed);
    return plan;
}

bool can_be_driven(const Plan& plan) {
    return std::any_of(plan.options.begin(), plan.options.end(),
                       [](const Option& o) { return o.feasible && o.mode != Mode::haul; });
}

// Whether powder where the machine stands can change anything: some of the interval is used, and no rule asks
// for powder anyway.
bool may_powder_first(const PlanInputs& in) {
    return (in.powder_first == PowderFirst::if_needed || in.powder_first == PowderFirst::if_cheaper) &&
           in.belts.since_lube > Length() && in.conditions.ground != Ground::wet &&
           !powders_before_start(in) && (in.drive || in.mixed);
}

bool better_powdered(const Plan& as_is, const Plan& powdered, PowderFirst rule) {
    if (!can_be_driven(powdered))
        return false;
    if (!can_be_driven(as_is))
        return true;
    const Option* now = as_is.find_option(as_is.verdict.option);
    const Option* then = powdered.find_option(powdered.verdict.option);
    return rule == PowderFirst::if_cheaper && now != nullptr && then != nullptr && then->mode != Mode::haul &&
           *then->cost.total < *now->cost.total;
}

// Where the way since the last powder leaves no fit place in time, there is one where the machine stands:
// powder before leaving.
Plan plan_at_its_hour(const PlanInputs& inputs) {
    Plan plan = plan_as_asked(inputs);
    if (!may_powder_first(inputs) || (inputs.powder_first == PowderFirst::if_needed && can_be_driven(plan)))
        return plan;
    PlanInputs powdered = inputs;
    powdered.powder_first = PowderFirst::yes;
    Plan other = plan_as_asked(powdered);
    return better_powdered(plan, other, inputs.powder_first) ? other : plan;
}

// Home again at the same hour, with the belts as the way out left them: work in the field takes nothing off
// the count since the last powder.
PlanInputs way_home(const PlanInputs& inputs, const Option* out, Instant depart) {
    PlanInputs back = inputs;
    std::swap(back.from, back.to);
    if (out != nullptr)
        back.belts = belts_after(inputs.belts, *out);
    if (back.powder_first == PowderFirst::yes)
        back.powder_first = PowderFirst::if_needed;
    back.depart = depart;
    back.front = back.other_hours = back.return_trip = false;
    back.front_point.reset();
    back.when.reset();
    back.haul_from.reset();
    back.fields_at = nullptr;
    return back;
}

std::string powder_words(const PlanInputs& back) {
    if (back.conditions.ground == Ground::wet)
        return "no powder counts while it is wet";
    if (back.belts.condition == BeltsNow::Condition::washed)
        return "the belts washed and not powdered since; field work counts for no powder";
    return fmt::format("{} since the last powder, field work counts for none",
                       UnitWords(back.units).exact(back.belts.since_lube.metres()));
}

void add_return_trip(const PlanInputs& inputs, Plan& plan) {
    if (!inputs.return_trip)
        return;
    const Option* out = plan.find_option(plan.verdict.option);
    const Instant depart = out != nullptr && out->depart ? *out->depart : inputs.depart;
    const PlanInputs back_home = way_home(inputs, out, depart);
    const Plan home = plan_at_its_hour(back_home);
    ReturnTrip r;
    r.option = home.verdict.option;
    r.mode = home.verdict.mode;
    r.sentence = home.verdict.sentence;
    std::string text = fmt::format("And home again (same hour; {}): {}", powder_words(back_home), r.sentence);
    if (const Option* back = home.find_option(r.option)) {
        r.cost = back->cost.total;
        r.length_m = back->length_m;
        r.hauled_m = back->hauled_m;
        r.duration_s = back->duration_s;
        if (out != nullptr) {
            r.both_ways = *out->cost.total + *r.cost;
            text += fmt::format(" Both ways about {:.0f} {}.", kept_money(*r.both_ways), out->cost.currency);
        }
    }
    plan.verdict.reasons.push_back(std::move(text));
    plan.return_trip = std::move(r);
}

}  // namespace

bool powders_early(const PlanInputs& in, const Option& o) {
    return !powders_before_start(in) && !o.stops.empty() && o.stops.front().kind == "start";
}

Plan make_plan(const PlanInputs& asked) {
    check(asked);
    PlanInputs inputs = asked;
    if (asked.watch)
        // What is planned once more with powder begins again: nobody wants to see work undone.
        inputs.watch = [&asked, most = 0.0](std::string_view step, double share) mutable {
            most = std::max(most, share);
            return asked.watch(step, most);
        };
    const double out_to = inputs.return_trip ? 0.6 : 1.0;
    if (!inputs.when) {
        Plan plan = plan_at_its_hour(watched_part(inputs, 0, out_to));
        add_return_trip(watched_part(inputs, out_to, 1), plan);
        return plan;
    }
    const double hours_to = 0.6 * out_to;
    const TimeZone zone(inputs.region->meta().time_zone);
    std::vector<Departure> departures =
        try_departures(watched_part(inputs, 0, hours_to), hours_to_try(inputs, zone));
    PlanInputs settled = watched_part(inputs, hours_to, out_to);
    if (inputs.depart_said != DepartSaid::hour) {
        settled.depart = hour_to_take(departures);
        if (inputs.fields_at)
            settled.fields = inputs.fields_at(settled);
    }
    Plan plan = plan_at_its_hour(settled);
    mark_taken(departures, settled.depart, plan);
    plan.departures = std::move(departures);
    add_hours_to_verdict(plan, zone);
    settled.watch = watched_part(inputs, out_to, 1).watch;
    add_return_trip(settled, plan);
    return plan;
}

}  // namespace loamway
