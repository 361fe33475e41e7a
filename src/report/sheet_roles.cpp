// SPDX-License-Identifier: Apache-2.0
#include "sheet_roles.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "load_views.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

bool is_of_belts(const Flag& f) {
    return f.kind == "heat" || f.kind == "relube" || f.kind == "surface" || f.kind == "assumed";
}

/// Where a leg begins and ends along the option.
struct HauledStretch {
    double from_m = 0, to_m = 0;
    [[nodiscard]] bool holds(double at_m) const { return at_m >= from_m - 1 && at_m <= to_m + 1; }
};

const Leg& hauled_leg_of(const Plan& plan, const Option& o) {
    for (const Leg& leg : o.legs)
        if (leg.mode == Mode::haul)
            return leg;
    std::string ids;
    for (const Option& other : plan.options)
        for (const Leg& leg : other.legs)
            if (leg.mode == Mode::haul)
                ids += fmt::format("{}{}", ids.empty() ? "" : ", ", printable(other.id));
    throw Error(ErrorKind::not_found,
                fmt::format("the low-bed has nothing to do in the option {}", option_name(o.id)),
                ids.empty() ? std::string("plan the move with --modes haul or mixed")
                            : fmt::format("name one with --option: {}", ids));
}

HauledStretch stretch_of(const Leg& leg, const Option& o) {
    if (!leg.surface_runs.empty())
        return {leg.surface_runs.front().from_m, leg.surface_runs.back().to_m};
    return {0, o.length_m.value_or(0) + o.hauled_m.value_or(0)};
}

void keep_geometry(Option& o, const HauledStretch& s) {
    std::vector<GeoPoint> points;
    std::vector<double> at_m;
    for (std::size_t i = 0; i < o.geometry.size() && i < o.geometry_at_m.size(); ++i)
        if (s.holds(o.geometry_at_m[i])) {
            points.push_back(o.geometry[i]);
            at_m.push_back(std::max(0.0, o.geometry_at_m[i] - s.from_m));
        }
    o.geometry = std::move(points);
    o.geometry_at_m = std::move(at_m);
}

/// A finding as seen from the pick-up; false when it lies on what is driven.
bool count_from_pick_up(Flag& f, const HauledStretch& s, const UnitWords& units) {
    if (!f.at_m)
        return true;
    const std::string again = again_words(f.again_at_m, units);
    std::vector<double> at_m{*f.at_m};
    at_m.insert(at_m.end(), f.again_at_m.begin(), f.again_at_m.end());
    std::erase_if(at_m, [&s](double m) { return !s.holds(m); });
    if (at_m.empty())
        return false;
    if (at_m.front() != *f.at_m) {  // what is said of the first place is not of this one
        f.point.reset();
        f.last_turn_round_m.reset();
    }
    for (double& m : at_m)
        m = std::max(0.0, m - s.from_m);
    f.at_m = at_m.front();
    f.again_at_m.assign(at_m.begin() + 1, at_m.end());
    if (f.text.ends_with(again))
        f.text.replace(f.text.size() - again.size(), again.size(), again_words(f.again_at_m, units));
    if (f.last_turn_round_m)
        f.last_turn_round_m = std::max(0.0, *f.last_turn_round_m - s.from_m);
    return true;
}

/// What the low-bed does, as an option of its own: kilometres from the pick-up.
Option hauled_part(const Option& whole, const Leg& hauled, const UnitWords& units) {
    const HauledStretch s = stretch_of(hauled, whole);
    Option o = whole;
    o.heat.reset();
    o.elevation.reset();
    o.climb.reset();
    o.relube_interval_m.reset();
    o.fuel_l.reset();
    o.speed_caps_kmh = {};
    o.hauled_m = hauled.length_m;
    o.length_m = 0;
    o.hard_m = o.hard_low_m = o.hard_high_m = 0;
    Leg leg = hauled;
    for (SurfaceRun& run : leg.surface_runs) {
        run.from_m -= s.from_m;
        run.to_m -= s.from_m;
    }
    for (Instruction& i : leg.directions)
        i.at_m = std::max(0.0, i.at_m - s.from_m);
    o.legs = {leg};
    std::erase_if(o.stops, [](const PlanStop& stop) { return stop.kind != "handover"; });
    for (PlanStop& stop : o.stops) {
        stop.at_m = std::clamp(stop.at_m - s.from_m, 0.0, hauled.length_m);
        stop.since_relube_m = 0;
    }
    std::erase_if(o.flags, is_of_belts);
    std::vector<Flag> flags;
    for (Flag& f : o.flags)
        if (count_from_pick_up(f, s, units))
            flags.push_back(std::move(f));
    o.flags = std::move(flags);
    keep_geometry(o, s);
    return o;
}

/// Neither low-bed nor escort has to do with the belts.
void leave_belts_out(SheetContent& s) {
    s.at_the_belts = false;
    s.powder_every.clear();
    s.planner.clear();
    for (SheetStop& stop : s.stops)
        stop.since_powder.clear();
    std::erase_if(s.facts, [](const auto& fact) { return fact.first == "Belts"; });
}

std::string clock_or_line(const std::string& clock) {
    return clock.empty() ? std::string("______") : clock;
}

std::string size_words(const LoadingPlan& p) {
    const LoadWords w = p.words();
    return fmt::format("{} high, {} wide, {} long, {}; {} more height for bounce", w.size(p.loaded.height),
                       w.size(p.loaded.width), w.size(p.loaded.length), w.mass(p.loaded.mass),
                       w.size(bounce_room));
}

std::string phones_or_line(const MoveUnderstood& m) {
    std::string phones;
    for (const std::string& phone : m.phones)
        phones += fmt::format("{}{}", phones.empty() ? "" : "; ", printable(phone));
    return phones.empty() ? "__________________________________" : phones;
}

void list_low_bed_facts(SheetContent& s, const LoadingPlan* loading, const std::string& be_there,
                        const std::string& done) {
    const Option& o = *s.option;
    const Leg& leg = o.legs.front();
    const MoveUnderstood& m = s.plan->move;
    s.facts.clear();
    const auto fact = [&](const char* name, const std::string& text) {
        if (!text.empty())
            s.facts.emplace_back(name, text);
    };
    const auto point = [&](bool first) {
        if (o.geometry.empty())
            return std::string();
        const GeoPoint p = first ? o.geometry.front() : o.geometry.back();
        return fmt::format(" ({:.5f}, {:.5f})", p.lat(), p.lon());
    };
    fact("Pick-up", printable(leg.from) + point(true));
    fact("Deliver", printable(leg.to) + point(false));
    fact("Machine", m.state.empty() ? printable(m.machine)
                                    : fmt::format("{}, {}", printable(m.machine), printable(m.state)));
    fact("Loaded", loading != nullptr
                       ? size_words(*loading)
                       : std::string("measure on the deck before leaving: high ______ wide ______"));
    fact("Be there", fmt::format("{} {} ({})", s.date, clock_or_line(be_there), s.zone));
    fact("Done", clock_or_line(done));
    for (const Flag& f : o.flags)
        if (f.kind == "empty_run")
            fact("Empty", printable(f.text));
    fact("Phones", phones_or_line(m));
}

void list_low_bed_checks(SheetContent& s, const LoadingPlan* loading) {
    s.checks.clear();
    if (loading != nullptr)
        for (const std::string& step : loading->steps)
            s.checks.push_back(printable(step));
    else
        s.checks = {"Firm, level ground; a spotter in sight; nobody beside the ramp",
                    "Boards and every edge under the belts rounded or covered; ramp clean and dry; no powder "
                    "before the ramp",
                    "No steering on ramp or deck; parking brake, articulation locked, implement down",
                    "Tied down as the manual says, no chain across a belt's edge",
                    "Height and width measured on the deck and written above"};
    s.checks.emplace_back(
        "Slow-vehicle emblem covered or taken off; lights, signs and permit as the road asks");
    s.checks.emplace_back(
        "Trip meter to zero at the pick-up; chains looked at again after the first kilometres");
}

void tell_low_bed(SheetContent& s, const LoadingPlan* loading) {
    const Option& o = *s.option;
    const Leg& leg = o.legs.front();
    const ClockWords clock(*s.plan, o.depart);
    std::optional<Instant> there = o.depart, away = o.arrive;
    if (!o.stops.empty()) {
        there = o.stops.front().arrive;
        away = o.stops.size() > 1 ? o.stops.back().leave : o.arrive;
    }
    s.headline = "LOW-BED";
    leave_belts_out(s);
    s.from_name = printable(leg.from);
    s.to_name = printable(leg.to);
    s.arrive = clock.clock(away);
    for (SheetEvent& e : s.events)
        if (e.kind == SheetEvent::Kind::arrive)
            e.text = "Delivered: " + s.to_name;
    s.title = fmt::format("Low-bed sheet {}: {} to {}", s.date, s.from_name, s.to_name);
    s.sentence = fmt::format("Fetch {} at {}, haul it {} to {}.", printable(s.plan->move.machine),
                             s.from_name, s.units.exact(leg.length_m), s.to_name);
    list_low_bed_facts(s, loading, clock.clock(there), s.arrive);
    list_low_bed_checks(s, loading);
}

/// Where a wide machine and who comes towards it do not pass each other, and what has to be looked at first.
bool is_narrow_point(const Flag& f) {
    return f.at_m && !is_of_belts(f) && f.severity != Severity::note;
}

Option escorted(const Option& whole) {
    Option o = whole;
    o.heat.reset();
    o.elevation.reset();
    o.fuel_l.reset();
    for (PlanStop& s : o.stops)
        s.to_do.clear();
    std::erase_if(o.flags, is_of_belts);
    return o;
}

void tell_escort(SheetContent& s) {
    const Option& o = *s.option;
    s.headline = "ESCORT";
    leave_belts_out(s);
    // The verdict's sentence is about money.
    s.sentence = fmt::format("Go ahead of {} from {} to {}, {}.", printable(s.plan->move.machine),
                             s.from_name, s.to_name, s.units.exact(s.total_m));
    s.title = fmt::format("Escort copy {}: {} to {}", s.date, printable(s.plan->move.from_name),
                          printable(s.plan->move.to_name));
    s.facts.emplace_back("Radio", "channel ________   signal to stop ________________");
    std::vector<const Flag*> points;
    for (const Flag& f : o.flags)
        if (is_narrow_point(f))
            points.push_back(&f);
    std::stable_sort(points.begin(), points.end(),
                     [](const Flag* a, const Flag* b) { return *a->at_m < *b->at_m; });
    for (const Flag* f : points) {
        std::string text = (f->severity == Severity::stop ? "STOP FLAG: " : "") + printable(f->text);
        if (f->last_turn_round_m)
            text += fmt::format(" (last place to turn round: {} {})", s.units.long_unit(),
                                s.units.exact_number(*f->last_turn_round_m));
        s.narrow_points.emplace_back(s.units.exact_number(*f->at_m), std::move(text));
    }
    s.checks = {
        "Widths, heights and lengths of the machine known and measured; permit with you",
        "Beacon, signs, lights, radio tried with the machine's driver; who stops the traffic is agreed",
        "Drive ahead to each narrow point in time; call it free before the machine comes to it",
        "At stops: stand so that the traffic sees you first; nobody between machine and road",
        "Trip meter to zero together with the machine's"};
    s.cautions.clear();
    for (const std::string& c : s.plan->cautions)
        if (c.find("local code") != std::string::npos || c.find("The map may be wrong") != std::string::npos)
            s.cautions.push_back(printable(c));
}

SheetContent content_of(const Plan& plan, Option part) {
    auto own = std::make_shared<const Option>(std::move(part));
    SheetContent s = sheet_content_of(plan, *own);
    s.own_option = std::move(own);
    return s;
}

}  // namespace

SheetContent sheet_content_for(const Plan& plan, const std::string& option, SheetReader reader,
                               const LoadingPlan* loading) {
    const Option& whole = plan.option_for_output(option);
    switch (reader) {
        case SheetReader::cab:
            break;
        case SheetReader::low_bed: {
            SheetContent s =
                content_of(plan, hauled_part(whole, hauled_leg_of(plan, whole), UnitWords(plan.units)));
            tell_low_bed(s, loading);
            return s;
        }
        case SheetReader::escort: {
            SheetContent s = content_of(plan, escorted(whole));
            tell_escort(s);
            return s;
        }
    }
    return sheet_content_of(plan, whole);
}

}  // namespace loamway
