// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_SAMPLE_PLAN_H
#define LOAMWAY_TESTS_SUPPORT_SAMPLE_PLAN_H

// A plan drawn by hand: 31 km through invented places, driven with a check and two re-lube stops, or hauled.
// Every figure is made up; what counts is that they fit each other (metres along the line, times, sums).

#include <cmath>
#include <string>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/plan/plan.h"

namespace loamway {

namespace sample {

inline Instant at(const char* text) {
    return parse_time(text, TimeZone("Europe/Berlin"));
}

/// A gently winding line to the north-east with its metres beside it.
inline void draw_way(Option& o, double to_km) {
    GeoPoint p = GeoPoint::from_degrees(53.5, 13.2);
    double at_m = 0;
    o.geometry.push_back(p);
    o.geometry_at_m.push_back(0);
    for (int i = 1; at_m < to_km * 1000; ++i) {
        const GeoPoint next =
            GeoPoint::from_degrees(53.5 + 0.0018 * i, 13.2 + 0.0011 * i + 0.002 * std::sin(i / 6.0));
        at_m += distance(p, next).metres();
        o.geometry.push_back(next);
        o.geometry_at_m.push_back(at_m);
        p = next;
    }
}
/// The point of the line nearest below `at_m`, and its metres.
inline std::pair<GeoPoint, double> along(const Option& o, double at_m) {
    std::size_t i = 0;
    while (i + 1 < o.geometry.size() && o.geometry_at_m[i + 1] <= at_m)
        ++i;
    return {o.geometry[i], o.geometry_at_m[i]};
}

struct StopSketch {
    const char* kind;
    double near_m, since_m;
    const char *place, *find, *side, *why, *arrive, *leave;
    double wait_s;
    std::vector<std::string> to_do;
};
inline void add_stop(Option& o, const StopSketch& s) {
    PlanStop out;
    out.kind = s.kind;
    std::tie(out.point, out.at_m) = along(o, s.near_m);
    out.since_relube_m = s.since_m;
    out.place = s.place;
    out.how_to_find = s.find;
    out.side = s.side;
    out.why = s.why;
    out.to_do = s.to_do;
    out.wait_s = s.wait_s;
    out.arrive = at(s.arrive);
    out.leave = at(s.leave);
    o.stops.push_back(out);
}

inline const std::vector<std::string>& powder_steps() {
    static const std::vector<std::string> steps{
        "Engine off, park brake on, key out", "Powder the inside of each belt as far as you can reach",
        "Everyone clear; roll half a belt length; engine off", "Powder the rest; look for stones and cuts"};
    return steps;
}

inline void add_drive_stops(Option& o) {
    add_stop(o, {"start", 0, 2000, "yard", "", "", "belts under 100 h: powder before the start",
                 "2026-07-14T14:00", "2026-07-14T14:12", 720, powder_steps()});
    add_stop(o, {"check",
                 4100,
                 4100,
                 "lay-by",
                 "right, 300 m after the chapel",
                 "right",
                 "belts under 100 h: first kilometres",
                 "2026-07-14T14:27",
                 "2026-07-14T14:32",
                 300,
                 {"Compare both guide-lug sides by hand near, not on, the rubber", "Look at belt tension"}});
    add_stop(o, {"relube", 14600, 14600, "mouth of a gravel track",
                 "left, 1.2 km after the level crossing; 40 m up the track", "left", "15 km interval",
                 "2026-07-14T15:00", "2026-07-14T15:12", 720, powder_steps()});
    o.stops.back().cautions = {"soft ground at the mouth: stay on the gravel"};
    add_stop(o, {"relube", 26900, 12300, "rest area", "right, sign 300 m before", "right", "15 km interval",
                 "2026-07-14T15:38", "2026-07-14T15:50", 720, powder_steps()});
}

inline void add_drive_leg(Option& o) {
    Leg leg;
    leg.mode = Mode::drive;
    leg.from = "Alder Farm";
    leg.to = "Mill Field";
    leg.length_m = o.geometry_at_m.back();
    leg.duration_s = 7320;
    leg.surface_runs = {{0, 2100, SurfaceClass::gravel, true},
                        {2100, 14500, SurfaceClass::hard, true},
                        {14500, 18700, SurfaceClass::hard, false},
                        {18700, 27000, SurfaceClass::gravel, false},
                        {27000, leg.length_m, SurfaceClass::earth, true}};
    leg.directions = {{0, "leave the yard, north-east", "Farm Road", 0},
                      {2100, "right onto the county road", "C 12", 88},
                      {14500, "straight on at the level crossing", "C 12", 2},
                      {18700, "left into the gravel road", "", -91},
                      {27000, "right onto the field track", "Mill Lane", 75}};
    o.legs.push_back(leg);
}

inline Option drive_option() {
    Option o;
    o.id = "least-cost";
    o.also = {"least-time"};
    o.mode = Mode::drive;
    o.feasible = true;
    draw_way(o, 31.0);
    const double length = o.geometry_at_m.back();
    o.length_m = length;
    o.hard_m = 15100;
    o.gravel_m = length - 15100 - 4000;
    o.earth_m = 4000;
    o.assumed_m = 12500;
    o.hard_low_m = 12400;
    o.hard_high_m = 24900;
    o.hauled_m = 0;
    o.ferry_m = 0;
    o.depart = at("2026-07-14T14:00");
    o.arrive = at("2026-07-14T16:02");
    o.duration_s = 7320;
    o.driving_s = 4860;
    o.stopped_s = 2460;
    o.fuel_l = 58.26;
    o.sharp_turns_hard = 3;
    o.speed_caps_kmh = {30.0, 25.0, std::nullopt};
    o.cost = {402.137, 57.0, 64.1, 188.6, 16.0, 9.0, 30.0, {}, {}, 37.437, 310.0, 520.0, "marginal", "CU"};
    o.wear = {0.0117912, 0.4716, 35.46, 0.006, 0.0201};
    o.relube_interval_m = 15000;
    add_drive_stops(o);
    add_drive_leg(o);
    const auto [bridge, bridge_m] = along(o, 9000);
    o.flags = {
        {"bridge", Severity::check, bridge_m, bridge, "bridge posted 16 t; you weigh 18.4 t", 4711, 2100.0},
        {"bridge", Severity::note, 11000.0, {}, "bridge without a posted limit", 4712, {}},
        {"bridge", Severity::note, 19000.0, {}, "bridge without a posted limit", 4713, {}},
        {"assumed", Severity::note, {}, {}, "12.5 km of the surface are assumed, not mapped", {}, {}}};
    return o;
}

inline Option haul_option() {
    Option o;
    o.id = "haul";
    o.mode = Mode::haul;
    o.feasible = true;
    draw_way(o, 26.0);
    o.length_m = 0;
    o.hauled_m = o.geometry_at_m.back();
    o.hard_m = o.gravel_m = o.earth_m = o.assumed_m = 0;
    o.hard_low_m = o.hard_high_m = 0;
    o.ferry_m = 0;
    o.depart = at("2026-07-14T14:00");
    o.arrive = at("2026-07-14T16:15");
    o.duration_s = 8100;
    o.cost = {560.0, {}, 3.2, {}, 2.0, {}, {}, 434.8, 120.0, {}, 500.0, 640.0, "marginal", "CU"};
    Leg leg;
    leg.mode = Mode::haul;
    leg.from = "Alder Farm";
    leg.to = "Mill Field";
    leg.length_m = *o.hauled_m;
    leg.duration_s = 8100;
    o.legs.push_back(leg);
    return o;
}

inline Option impossible_option() {
    Option o;
    o.id = "least-hard";
    o.mode = Mode::drive;
    o.why_not = {"no place fit to stop between km 9 and km 15"};
    o.answer_needed = {"name a place between km 9 and 15"};
    o.exact = false;
    o.gap_m = 240;
    return o;
}

}  // namespace sample

inline Plan sample_plan() {
    Plan p;
    p.loamway_version = "0.1.0";
    p.region = {"Alder County", "9f86d081884c7d65", "2026-05-01", "Europe/Berlin", "drawn by hand",
                false,          "drawn hills"};
    Option drive = sample::drive_option();
    p.move.from_name = "Alder Farm";
    p.move.to_name = "Mill Field";
    p.move.from = p.move.from_on_road = drive.geometry.front();
    p.move.to = p.move.to_on_road = drive.geometry.back();
    p.move.to_off_road_m = 42;
    p.move.machine = "Tracked tractor, medium";
    p.move.state = "mounted";
    p.move.belts = "not run in";
    p.move.phones = {"Yard 555 0100"};
    p.move.fields = {{"from", "Alder Farm", false},
                     {"air_c", "20 °C", true},
                     {"since_lube_km", "2.0 km", false},
                     {"trailer", "assumed low-bed", true}};
    p.verdict.option = "least-cost";
    p.verdict.mode = Mode::drive;
    p.verdict.sentence =
        "Drive it. 31 km, 15 of them paved, 3 stops, 2 h 02; hauling would cost 158 CU more.";
    p.verdict.reasons = {"driving 402 CU, hauling 560 CU", "belt wear 1.2 % of a set"};
    p.options = {drive, sample::haul_option(), sample::impossible_option()};
    p.cautions = {"Estimate, not a measurement.", "Firm level ground off the carriageway."};
    return p;
}

}  // namespace loamway

#endif
