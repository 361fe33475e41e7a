// SPDX-License-Identifier: Apache-2.0
// Plan -> JSON. Figures are rounded here and nowhere else: metres and seconds to integers, degrees Celsius
// to 0.1, money to 0.01, litres to 0.1, millimetres to 0.001, shares to 1e-5.

#include "json_figures.h"
#include "loamway/plan/plan.h"
#include "plan_json.h"
#include "uncertainty_json.h"

namespace loamway {

namespace {

using Object = Value::Object;
using Array = Value::Array;

Value degrees(std::int32_t e7) {
    return e7 / 1e7;
}

Value text(const std::string& s) {
    return s.empty() ? Value{} : Value(s);
}
Value texts(const std::vector<std::string>& list) {
    return Array(list.begin(), list.end());
}
template <class T>
Value truth(const std::optional<T>& v) {
    return v ? Value(*v) : Value{};
}
Value time_text(const std::optional<Instant>& t, const TimeZone& zone) {
    return t ? Value(format_rfc3339(*t, zone)) : Value{};
}

template <class List, class Make>
Value list_of(const List& list, const Make& make) {
    Array out;
    out.reserve(list.size());
    for (const auto& item : list)
        out.push_back(make(item));
    return out;
}

Value region_json(const RegionStamp& r) {
    return Object{{"name", text(r.name)},
                  {"digest", text(r.digest)},
                  {"map_date", text(r.map_date)},
                  {"time_zone", text(r.time_zone)},
                  {"time_zone_assumed", r.time_zone_assumed},
                  {"attribution", text(r.attribution)},
                  {"elevation", text(r.elevation)}};
}

Value end_json(const std::string& name, GeoPoint asked, GeoPoint on_road, double off_road_m) {
    return Object{{"name", text(name)},
                  {"lat", degrees(asked.lat_e7)},
                  {"lon", degrees(asked.lon_e7)},
                  {"road_lat", degrees(on_road.lat_e7)},
                  {"road_lon", degrees(on_road.lon_e7)},
                  {"off_road_m", whole(off_road_m)}};
}

Value move_json(const MoveUnderstood& m, const std::string& units) {
    return Object{{"from", end_json(m.from_name, m.from, m.from_on_road, m.from_off_road_m)},
                  {"to", end_json(m.to_name, m.to, m.to_on_road, m.to_off_road_m)},
                  {"machine", text(m.machine)},
                  {"state", text(m.state)},
                  {"belts", text(m.belts)},
                  {"units", units},
                  {"phones", texts(m.phones)},
                  {"fields", list_of(m.fields, [](const MoveField& f) -> Value {
                       return Object{{"key", f.key}, {"value", f.value}, {"assumed", f.assumed}};
                   })}};
}

Value verdict_json(const Verdict& v) {
    return Object{{"option", text(v.option)},
                  {"mode", Value(name_of(v.mode))},
                  {"sentence", v.sentence},
                  {"reasons", texts(v.reasons)},
                  {"probability_cheapest", rounded(v.probability_cheapest, 1000)},
                  {"too_close", truth(v.too_close)},
                  {"would_flip", texts(v.would_flip)}};
}

Value cost_json(const OptionCost& c) {
    return Object{{"total", money(c.total)},
                  {"labour", money(c.labour)},
                  {"fuel", money(c.fuel)},
                  {"belts", money(c.belts)},
                  {"machine", money(c.machine)},
                  {"lubricant", money(c.lubricant)},
                  {"escort", money(c.escort)},
                  {"truck", money(c.truck)},
                  {"permit", money(c.permit)},
                  {"other", money(c.other)},
                  {"low", money(c.low)},
                  {"high", money(c.high)},
                  {"basis", text(c.basis)},
                  {"currency", text(c.currency)},
                  {"low_high_basis", text(c.low_high_basis)},
                  {"mean", money(c.mean)},
                  {"other_basis_total", money(c.other_basis_total)}};
}

Value wear_json(const OptionWear& w) {
    return Object{{"share", share(w.share)},
                  {"mm", rounded(w.mm, 1000)},
                  {"field_hours_equivalent", tenths(w.field_hours_equivalent)},
                  {"low", share(w.low)},
                  {"high", share(w.high)},
                  {"calibrated", w.calibrated},
                  {"basis", text(w.basis)},
                  {"weighted_km", Object{{"hard", rounded(w.weighted_km[0], 1000)},
                                         {"gravel", rounded(w.weighted_km[1], 1000)},
                                         {"earth", rounded(w.weighted_km[2], 1000)}}}};
}

Value heat_json(const std::optional<OptionHeat>& h) {
    if (!h)
        return {};
    return Object{{"calibrated", h->calibrated},
                  {"bar_peak_c", tenths(h->bar_peak_c)},
                  {"bar_low_c", tenths(h->bar_low_c)},
                  {"bar_high_c", tenths(h->bar_high_c)},
                  {"acted_on_c", tenths(h->acted_on_c)},
                  {"margin_c", tenths(h->margin_c)},
                  {"aging_110c_min", tenths(h->aging_110c_min)},
                  {"basis", text(h->basis)},
                  {"guide_lug_peak_c", tenths(h->guide_lug_peak_c)},
                  {"guide_lug_peak_at_m", whole(h->guide_lug_peak_at_m)},
                  {"guide_lug_caution_c", tenths(h->guide_lug_caution_c)},
                  {"limit_c", tenths(h->limit_c)},
                  {"caution_c", tenths(h->caution_c)},
                  {"profile", list_of(h->profile, [](const HeatPoint& p) -> Value {
                       return Array{whole(p.at_m), tenths(p.bar_c), tenths(p.guide_lug_c)};
                   })}};
}

Value stop_json(const PlanStop& s, const TimeZone& zone) {
    return Object{{"kind", s.kind},
                  {"at_m", whole(s.at_m)},
                  {"since_relube_m", whole(s.since_relube_m)},
                  {"lat", degrees(s.point.lat_e7)},
                  {"lon", degrees(s.point.lon_e7)},
                  {"place", text(s.place)},
                  {"how_to_find", text(s.how_to_find)},
                  {"side", text(s.side)},
                  {"handover", s.handover.empty() ? Value() : text(s.handover)},
                  {"why", text(s.why)},
                  {"do", texts(s.to_do)},
                  {"wait_s", whole(s.wait_s)},
                  {"arrive", time_text(s.arrive, zone)},
                  {"leave", time_text(s.leave, zone)},
                  {"cautions", texts(s.cautions)}};
}

Value leg_json(const Leg& l) {
    const auto run = [](const SurfaceRun& r) -> Value {
        return Array{whole(r.from_m), whole(r.to_m), Value(name_of(r.surface)), r.known};
    };
    const auto direction = [](const Instruction& i) -> Value {
        return Object{{"at_m", whole(i.at_m)},
                      {"text", i.text},
                      {"road", text(i.road)},
                      {"turn_deg", whole(i.turn_deg)}};
    };
    return Object{{"mode", Value(name_of(l.mode))},
                  {"from", text(l.from)},
                  {"to", text(l.to)},
                  {"length_m", whole(l.length_m)},
                  {"duration_s", whole(l.duration_s)},
                  {"surface_runs", list_of(l.surface_runs, run)},
                  {"directions", list_of(l.directions, direction)}};
}

Value flag_json(const Flag& f) {
    Object out{{"kind", f.kind},
               {"severity", Value(name_of(f.severity))},
               {"at_m", whole(f.at_m)},
               {"lat", f.point ? degrees(f.point->lat_e7) : Value{}},
               {"lon", f.point ? degrees(f.point->lon_e7) : Value{}},
               {"text", f.text},
               {"osm_way", truth(f.osm_way)},
               {"last_turn_round_m", whole(f.last_turn_round_m)}};
    if (!f.again_at_m.empty())
        out.emplace_back("again_at_m", list_of(f.again_at_m, [](double m) { return whole(m); }));
    return out;
}

Value geometry_json(const std::vector<GeoPoint>& points) {
    if (points.empty())
        return {};
    return Object{{"type", "LineString"}, {"coordinates", list_of(points, [](GeoPoint p) -> Value {
                                               return Array{degrees(p.lon_e7), degrees(p.lat_e7)};
                                           })}};
}

Value elevation_json(const std::optional<std::vector<std::array<double, 2>>>& e) {
    if (!e)
        return {};
    return list_of(*e, [](const std::array<double, 2>& p) -> Value {
        return Array{whole(p[0]), whole(p[1])};
    });
}

Value climb_json(const std::optional<OptionClimb>& c) {
    if (!c)
        return {};
    return Object{{"ascent_m", whole(c->ascent_m)},
                  {"descent_m", whole(c->descent_m)},
                  {"steepest_pct", tenths(c->steepest_pct)},
                  {"steepest_at_m", whole(c->steepest_at_m)},
                  {"flat_assumed_m", whole(c->flat_assumed_m)}};
}

void add_route(Object& out, const Option& o) {
    out.emplace_back("geometry", geometry_json(o.geometry));
    out.emplace_back("geometry_at_m", o.geometry_at_m.empty()
                                          ? Value{}
                                          : list_of(o.geometry_at_m, [](double m) { return whole(m); }));
    out.emplace_back(
        "clock", o.clock.empty() ? Value{} : list_of(o.clock, [](const std::array<double, 2>& p) -> Value {
            return Array{whole(p[0]), tenths(p[1])};
        }));
}

void add_lengths(Object& out, const Option& o) {
    out.emplace_back("length_m", whole(o.length_m));
    out.emplace_back("hard_m", whole(o.hard_m));
    out.emplace_back("gravel_m", whole(o.gravel_m));
    out.emplace_back("earth_m", whole(o.earth_m));
    out.emplace_back("assumed_m", whole(o.assumed_m));
    out.emplace_back("hard_low_m", whole(o.hard_low_m));
    out.emplace_back("hard_high_m", whole(o.hard_high_m));
    out.emplace_back("hauled_m", whole(o.hauled_m));
    out.emplace_back("ferry_m", whole(o.ferry_m));
}

void add_times(Object& out, const Option& o, const TimeZone& zone) {
    out.emplace_back("depart", time_text(o.depart, zone));
    out.emplace_back("arrive", time_text(o.arrive, zone));
    out.emplace_back("duration_s", whole(o.duration_s));
    out.emplace_back("driving_s", whole(o.driving_s));
    out.emplace_back("stopped_s", whole(o.stopped_s));
}

Value caps_json(const std::array<std::optional<double>, 3>& caps) {
    return Object{{"hard", tenths(caps[0])}, {"gravel", tenths(caps[1])}, {"earth", tenths(caps[2])}};
}

Value option_json(const Option& o, const TimeZone& zone) {
    Object out{{"id", o.id},
               {"also", texts(o.also)},
               {"mode", Value(name_of(o.mode))},
               {"feasible", o.feasible},
               {"why_not", texts(o.why_not)},
               {"answer_needed", texts(o.answer_needed)},
               {"exact", o.exact},
               {"gap_m", whole(o.gap_m)}};
    add_lengths(out, o);
    add_times(out, o, zone);
    out.emplace_back("fuel_l", tenths(o.fuel_l));
    out.emplace_back("fuel_high_l", tenths(o.fuel_high_l));
    out.emplace_back("sharp_turns_hard", truth(o.sharp_turns_hard));
    out.emplace_back("speed_caps_kmh", caps_json(o.speed_caps_kmh));
    out.emplace_back("cost", cost_json(o.cost));
    out.emplace_back("wear", wear_json(o.wear));
    out.emplace_back("heat", heat_json(o.heat));
    out.emplace_back("relube_interval_m", whole(o.relube_interval_m));
    out.emplace_back("stops", list_of(o.stops, [&](const PlanStop& s) { return stop_json(s, zone); }));
    out.emplace_back("legs", list_of(o.legs, leg_json));
    out.emplace_back("flags", list_of(o.flags, flag_json));
    out.emplace_back("elevation", elevation_json(o.elevation));
    out.emplace_back("climb", climb_json(o.climb));
    out.emplace_back("corrections", texts(o.corrections));
    add_route(out, o);
    return out;
}

Value departures_json(const std::optional<std::vector<Departure>>& departures, const TimeZone& zone) {
    if (!departures)
        return {};
    return list_of(*departures, [&](const Departure& d) -> Value {
        return Object{{"depart", time_text(d.depart, zone)},
                      {"option", text(d.option)},
                      {"can_be_done", d.can_be_done},
                      {"cost", money(d.cost)},
                      {"bar_peak_c", tenths(d.bar_peak_c)},
                      {"bar_high_c", tenths(d.bar_high_c)},
                      {"speed_caps_kmh", caps_json(d.speed_caps_kmh)},
                      {"stops", truth(d.stops)},
                      {"arrive", time_text(d.arrive, zone)},
                      {"in_daylight", truth(d.in_daylight)},
                      {"within_permitted_hours", d.within_permitted_hours},
                      {"taken", d.taken},
                      {"why_not", texts(d.why_not)}};
    });
}

Value return_trip_json(const std::optional<ReturnTrip>& r) {
    if (!r)
        return {};
    return Object{{"option", text(r->option)},          {"mode", Value(name_of(r->mode))},
                  {"sentence", text(r->sentence)},      {"cost", money(r->cost)},
                  {"length_m", whole(r->length_m)},     {"hauled_m", whole(r->hauled_m)},
                  {"duration_s", whole(r->duration_s)}, {"both_ways", money(r->both_ways)}};
}

Value front_json(const std::optional<std::vector<FrontPoint>>& front) {
    if (!front)
        return {};
    return list_of(*front, [](const FrontPoint& p) -> Value {
        return Object{{"k", p.k},
                      {"hard_m", whole(p.hard_m)},
                      {"length_m", whole(p.length_m)},
                      {"cost", money(p.cost)},
                      {"stops_ok", truth(p.stops_ok)},
                      {"stops", truth(p.stops)},
                      {"duration_s", whole(p.duration_s)},
                      {"bar_high_c", tenths(p.bar_high_c)},
                      {"option", text(p.option)},
                      {"why_not", texts(p.why_not)}};
    });
}

}  // namespace

Value plan_to_json(const Plan& plan) {
    const TimeZone zone = plan.region.time_zone.empty() ? TimeZone() : TimeZone(plan.region.time_zone);
    return Object{{"schema", Value(plan_schema)},
                  {"loamway_version", text(plan.loamway_version)},
                  {"region", region_json(plan.region)},
                  {"move", move_json(plan.move, plan.units)},
                  {"verdict", verdict_json(plan.verdict)},
                  {"options", list_of(plan.options, [&](const Option& o) { return option_json(o, zone); })},
                  {"front", front_json(plan.front)},
                  {"front_exact", truth(plan.front_exact)},
                  {"departures", departures_json(plan.departures, zone)},
                  {"heat_search", plan.heat_search},
                  {"break_even", break_even_json(plan.break_even)},
                  {"uncertainty", uncertainty_json(plan.uncertainty)},
                  {"return_trip", return_trip_json(plan.return_trip)},
                  {"cautions", texts(plan.cautions)}};
}

}  // namespace loamway
