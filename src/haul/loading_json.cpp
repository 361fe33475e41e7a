// SPDX-License-Identifier: Apache-2.0
// A loading plan as JSON, schema loamway.load/1.
#include <cmath>

#include "loamway/haul/loading_plan.h"

namespace loamway {
namespace {

Value rounded(double v, double steps) {
    return Value(std::round(v * steps) / steps);
}
Value metres(Length l) {
    return rounded(l.metres(), 1000);
}
Value mm(Length l) {
    return rounded(l.mm(), 10);
}
Value kg(Mass m) {
    return rounded(m.kg(), 1);
}
Value kn(Force f) {
    return rounded(f.kilonewtons(), 10);
}
Value degrees(Angle a) {
    return rounded(a.degrees(), 10);
}
Value mpa(Stress s) {
    return rounded(s.megapascals(), 100);
}
Value list(const std::vector<std::string>& texts) {
    return Value::Array(texts.begin(), texts.end());
}

Value across_json(const LoadingPlan& p) {
    const Across& a = p.across;
    return Value::Object{{"gauge_m", metres(p.machine.belts.gauge)},
                         {"belt_m", metres(p.machine.belts.width)},
                         {"deck_m", metres(p.low_bed.deck.width)},
                         {"outer_m", metres(a.outer_width)},
                         {"overhang_m", metres(a.overhang)},
                         {"share_on_deck", rounded(a.share_on_deck, 1000)},
                         {"belt_centre_off_deck", a.centre_off_deck()},
                         {"outriggers_per_side", p.outriggers_needed},
                         {"extension_m", metres(a.extension)},
                         {"board_above_deck_mm", a.outriggers ? mm(p.board_above_deck) : Value()}};
}

Value ramp_json(const RampCheck& r) {
    Value see_saw;
    if (r.see_saw) {
        const SeeSaw& s = *r.see_saw;
        see_saw = Value::Object{{"past_edge_m", metres(s.past_edge)},
                                {"belt_beyond_m", metres(s.belt_beyond)},
                                {"front_drop_m", metres(s.front_drop)},
                                {"energy_kj", rounded(s.energy.kilojoules(), 100)},
                                {"stays_on_ramp", s.stays_on_ramp}};
    }
    return Value::Object{{"slope_deg", degrees(r.slope)},
                         {"length_m", metres(r.length)},
                         {"run_m", metres(r.run)},
                         {"friction_needed", rounded(r.friction_needed, 1000)},
                         {"friction_there", Value(r.friction)},
                         {"steepest_dry_deg", degrees(r.steepest_dry)},
                         {"steepest_slippery_deg", degrees(r.steepest_slippery)},
                         {"approach_deg", degrees(r.approach)},
                         {"departure_deg", degrees(r.departure)},
                         {"see_saw", std::move(see_saw)},
                         {"clearance_needed_m", r.clearance_needed ? metres(*r.clearance_needed) : Value()},
                         {"edge_force_kn", kn(r.edge_force)}};
}

Value boards_json(const std::vector<BoardCheck>& boards) {
    Value::Array out;
    for (const BoardCheck& b : boards)
        out.push_back(Value::Object{{"what", b.what},
                                    {"load_kn", kn(b.load)},
                                    {"span_m", metres(b.plank.span)},
                                    {"width_m", metres(b.plank.width)},
                                    {"thickness_mm", mm(b.plank.thickness)},
                                    {"needed_mm", mm(b.needed)},
                                    {"bending_mpa", mpa(b.stress.bending)},
                                    {"bending_allowed_mpa", mpa(b.bending_allowed)},
                                    {"shear_mpa", mpa(b.stress.shear)},
                                    {"shear_allowed_mpa", mpa(b.shear_allowed)},
                                    {"deflection_mm", rounded(b.stress.deflection.mm(), 100)},
                                    {"holds", b.holds()}});
    return out;
}

Value place_json(const LoadingPlan& plan) {
    const DeckPlace& p = plan.place;
    const AxleLoads& l = plan.loaded.loads;
    const auto when = [&p](Value v) { return p.possible ? std::move(v) : Value(); };
    return Value::Object{{"possible", p.possible},
                         {"axles_from_m", metres(p.axles.from)},
                         {"axles_to_m", metres(p.axles.to)},
                         {"front_limit", Value(name_of(p.axles.front))},
                         {"rear_limit", Value(name_of(p.axles.rear))},
                         {"from_m", when(metres(p.from))},
                         {"to_m", when(metres(p.to))},
                         {"centre_behind_kingpin_m", when(metres(p.centre))},
                         {"faces_rear", p.faces_rear},
                         {"stands_m", when(Value::Array{metres(p.stands_from), metres(p.stands_to)})},
                         {"machine_m", when(Value::Array{metres(p.machine_from), metres(p.machine_to)})},
                         {"loads_kg", when(Value::Object{{"kingpin", kg(l.kingpin)},
                                                         {"steer", kg(l.steer)},
                                                         {"drive", kg(l.drive)},
                                                         {"trailer", kg(l.trailer)}})}};
}

Value tie_downs_json(const LoadingPlan& p) {
    const TieDowns& t = p.tie_downs;
    return Value::Object{{"chains", p.low_bed.chains.count},
                         {"chain_limit_kn", kn(t.chain_limit)},
                         {"us_count", t.count_us},
                         {"us_aggregate_kg", kg(t.strength.aggregate)},
                         {"us_required_kg", kg(t.strength.required)},
                         {"en_forward_dry_kn", kn(t.forward_dry)},
                         {"en_forward_slippery_kn", kn(t.forward_slippery)},
                         {"en_rearward_dry_kn", kn(t.rearward_dry)},
                         {"en_sideways_dry_kn", kn(t.sideways_dry)}};
}

}  // namespace

Value loading_plan_to_json(const LoadingPlan& p) {
    Value::Array findings;
    for (const Finding& f : p.findings)
        findings.push_back(
            Value::Object{{"kind", f.kind}, {"severity", Value(name_of(f.concern))}, {"text", f.text}});
    return Value::Object{{"schema", "loamway.load/1"},
                         {"machine", p.machine.name},
                         {"state", p.state.name},
                         {"mass_kg", kg(p.state.mass)},
                         {"low_bed", p.low_bed.name},
                         {"limits", p.limits_title.empty() ? Value() : Value(p.limits_title)},
                         {"can_be_done", p.can_be_done()},
                         {"findings", std::move(findings)},
                         {"across", across_json(p)},
                         {"ramp", ramp_json(p.ramp)},
                         {"boards", boards_json(p.boards)},
                         {"place", place_json(p)},
                         {"loaded", Value::Object{{"height_m", metres(p.loaded.height)},
                                                  {"width_m", metres(p.loaded.width)},
                                                  {"length_m", metres(p.loaded.length)},
                                                  {"mass_kg", kg(p.loaded.mass)}}},
                         {"tie_downs", tie_downs_json(p)},
                         {"edges", list(p.edges)},
                         {"steps", list(p.steps)},
                         {"assumed", list(p.assumed)},
                         {"cautions", list(p.cautions)}};
}

}  // namespace loamway
