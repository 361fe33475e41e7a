// SPDX-License-Identifier: Apache-2.0
// JSON -> Plan. A plan file may come from a stranger: every position, time and word is checked here, so
// that reports and tracks can rely on them.

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "json_reader.h"
#include "loamway/plan/plan.h"
#include "loamway/text/document_kind.h"
#include "plan_json.h"
#include "uncertainty_json.h"

namespace loamway {

namespace {

constexpr std::array<std::string_view, 4> mode_words{"drive", "haul", "mixed", "none"};
constexpr std::array<Mode, 4> mode_values{Mode::drive, Mode::haul, Mode::mixed, Mode::none};
constexpr std::array<std::string_view, 3> severity_words{"note", "check", "stop"};
constexpr std::array<Severity, 3> severity_values{Severity::note, Severity::check, Severity::stop};
constexpr std::array<std::string_view, 2> unit_words{"metric", "imperial"};

template <class Make>
auto list_of(const JsonReader& list, const Make& make) {
    std::vector<decltype(make(list))> out;
    for (const JsonReader& item : list.items())
        out.push_back(make(item));
    return out;
}

std::string text_or_empty(const JsonReader& r, std::string_view key) {
    const auto member = r.maybe(key);
    return member ? member->text() : std::string();
}
std::vector<std::string> texts_or_empty(const JsonReader& r, std::string_view key) {
    const auto member = r.maybe(key);
    return member ? member->texts() : std::vector<std::string>();
}
int small_integer(const JsonReader& r) {
    const std::int64_t v = r.integer();
    if (v < 0 || v > std::numeric_limits<int>::max())
        throw r.fault("is out of range");
    return static_cast<int>(v);
}
std::optional<Instant> maybe_time(const JsonReader& r, std::string_view key, const TimeZone& zone) {
    const auto member = r.maybe(key);
    if (!member)
        return std::nullopt;
    try {
        return parse_time(member->text(), zone);
    } catch (const Error& e) {
        throw member->fault(fmt::format("is not a time: {}", e.message()), e.what_to_do());
    }
}

GeoPoint point_of(const JsonReader& lat, const JsonReader& lon) {
    if (!(std::abs(lat.number()) <= 90.0))
        throw lat.fault("is not a latitude", "it must lie between -90 and 90 degrees");
    if (!(std::abs(lon.number()) <= 180.0))
        throw lon.fault("is not a longitude", "it must lie between -180 and 180 degrees");
    return GeoPoint::from_degrees(lat.number(), lon.number());
}

RegionStamp read_region(const JsonReader& r) {
    RegionStamp out;
    out.name = text_or_empty(r, "name");
    out.digest = text_or_empty(r, "digest");
    out.map_date = text_or_empty(r, "map_date");
    out.time_zone = text_or_empty(r, "time_zone");
    out.time_zone_assumed = r.maybe_truth("time_zone_assumed").value_or(false);
    out.attribution = text_or_empty(r, "attribution");
    out.elevation = text_or_empty(r, "elevation");
    return out;
}

TimeZone zone_of(const JsonReader& region, const std::string& name) {
    if (name.empty())
        return TimeZone();
    try {
        return TimeZone(name);
    } catch (const Error& e) {
        throw region.at("time_zone").fault(fmt::format("cannot be used: {}", e.message()), e.what_to_do());
    }
}

MoveUnderstood read_move_understood(const JsonReader& r) {
    MoveUnderstood m;
    const JsonReader from = r.at("from"), to = r.at("to");
    m.from_name = text_or_empty(from, "name");
    m.from = point_of(from.at("lat"), from.at("lon"));
    m.from_on_road = point_of(from.at("road_lat"), from.at("road_lon"));
    m.from_off_road_m = from.at("off_road_m").number();
    m.to_name = text_or_empty(to, "name");
    m.to = point_of(to.at("lat"), to.at("lon"));
    m.to_on_road = point_of(to.at("road_lat"), to.at("road_lon"));
    m.to_off_road_m = to.at("off_road_m").number();
    m.machine = text_or_empty(r, "machine");
    m.state = text_or_empty(r, "state");
    m.belts = text_or_empty(r, "belts");
    m.phones = texts_or_empty(r, "phones");
    m.fields = list_of(r.at("fields"), [](const JsonReader& f) {
        return MoveField{f.at("key").text(), f.at("value").text(), f.at("assumed").truth()};
    });
    return m;
}

Verdict read_verdict(const JsonReader& r) {
    Verdict v;
    v.option = text_or_empty(r, "option");
    v.mode = mode_values[r.at("mode").word(mode_words)];
    v.sentence = r.at("sentence").text();
    v.reasons = texts_or_empty(r, "reasons");
    v.probability_cheapest = r.maybe_number("probability_cheapest");
    v.too_close = r.maybe_truth("too_close");
    v.would_flip = texts_or_empty(r, "would_flip");
    return v;
}

OptionCost read_cost(const JsonReader& r) {
    OptionCost c;
    c.total = r.maybe_number("total");
    c.labour = r.maybe_number("labour");
    c.fuel = r.maybe_number("fuel");
    c.belts = r.maybe_number("belts");
    c.machine = r.maybe_number("machine");
    c.lubricant = r.maybe_number("lubricant");
    c.escort = r.maybe_number("escort");
    c.truck = r.maybe_number("truck");
    c.permit = r.maybe_number("permit");
    c.other = r.maybe_number("other");
    c.low = r.maybe_number("low");
    c.high = r.maybe_number("high");
    c.basis = text_or_empty(r, "basis");
    c.currency = text_or_empty(r, "currency");
    c.low_high_basis = text_or_empty(r, "low_high_basis");
    c.mean = r.maybe_number("mean");
    c.other_basis_total = r.maybe_number("other_basis_total");
    return c;
}

OptionWear read_wear(const JsonReader& r) {
    OptionWear w;
    w.share = r.maybe_number("share");
    w.mm = r.maybe_number("mm");
    w.field_hours_equivalent = r.maybe_number("field_hours_equivalent");
    w.low = r.maybe_number("low");
    w.high = r.maybe_number("high");
    w.calibrated = r.maybe_truth("calibrated").value_or(false);
    w.basis = text_or_empty(r, "basis");
    if (const auto km = r.maybe("weighted_km"))
        w.weighted_km = {km->maybe_number("hard"), km->maybe_number("gravel"), km->maybe_number("earth")};
    return w;
}

OptionHeat read_heat(const JsonReader& r) {
    OptionHeat h;
    h.calibrated = r.at("calibrated").truth();
    h.bar_peak_c = r.maybe_number("bar_peak_c");
    h.bar_low_c = r.maybe_number("bar_low_c");
    h.bar_high_c = r.maybe_number("bar_high_c");
    h.acted_on_c = r.maybe_number("acted_on_c");
    h.margin_c = r.maybe_number("margin_c");
    h.aging_110c_min = r.maybe_number("aging_110c_min");
    h.guide_lug_peak_at_m = r.maybe_number("guide_lug_peak_at_m");
    h.guide_lug_caution_c = r.maybe_number("guide_lug_caution_c");
    h.basis = text_or_empty(r, "basis");
    h.guide_lug_peak_c = r.maybe_number("guide_lug_peak_c");
    h.limit_c = r.maybe_number("limit_c");
    h.caution_c = r.maybe_number("caution_c");
    h.profile = list_of(r.at("profile"), [](const JsonReader& p) {
        const auto figures = p.items(3);
        return HeatPoint{figures[0].number(), figures[1].number(), figures[2].number()};
    });
    return h;
}

PlanStop read_stop(const JsonReader& r, const TimeZone& zone) {
    PlanStop s;
    s.kind = r.at("kind").text();
    s.at_m = r.at("at_m").number();
    s.since_relube_m = r.at("since_relube_m").number();
    s.point = point_of(r.at("lat"), r.at("lon"));
    s.place = text_or_empty(r, "place");
    s.how_to_find = text_or_empty(r, "how_to_find");
    s.side = text_or_empty(r, "side");
    s.handover = text_or_empty(r, "handover");
    s.why = text_or_empty(r, "why");
    s.to_do = texts_or_empty(r, "do");
    s.wait_s = r.at("wait_s").number();
    s.arrive = maybe_time(r, "arrive", zone);
    s.leave = maybe_time(r, "leave", zone);
    s.cautions = texts_or_empty(r, "cautions");
    return s;
}

Leg read_leg(const JsonReader& r) {
    Leg l;
    l.mode = mode_values[r.at("mode").word(mode_words)];
    l.from = text_or_empty(r, "from");
    l.to = text_or_empty(r, "to");
    l.length_m = r.at("length_m").number();
    l.duration_s = r.at("duration_s").number();
    l.surface_runs = list_of(r.at("surface_runs"), [](const JsonReader& run) {
        const auto parts = run.items(4);
        return SurfaceRun{parts[0].number(), parts[1].number(),
                          static_cast<SurfaceClass>(parts[2].word(surface_class_names)), parts[3].truth()};
    });
    l.directions = list_of(r.at("directions"), [](const JsonReader& d) {
        return Instruction{d.at("at_m").number(), d.at("text").text(), text_or_empty(d, "road"),
                           d.at("turn_deg").number()};
    });
    return l;
}

Flag read_flag(const JsonReader& r) {
    Flag f;
    f.kind = r.at("kind").text();
    f.severity = severity_values[r.at("severity").word(severity_words)];
    f.at_m = r.maybe_number("at_m");
    const auto lat = r.maybe("lat"), lon = r.maybe("lon");
    if (lat && lon)
        f.point = point_of(*lat, *lon);
    f.text = r.at("text").text();
    if (const auto way = r.maybe("osm_way"))
        f.osm_way = way->integer();
    f.last_turn_round_m = r.maybe_number("last_turn_round_m");
    if (const auto again = r.maybe("again_at_m"))
        f.again_at_m = list_of(*again, [](const JsonReader& m) { return m.number(); });
    return f;
}

std::vector<GeoPoint> read_geometry(const JsonReader& r) {
    if (r.at("type").text() != "LineString")
        throw r.at("type").fault("is not \"LineString\"");
    return list_of(r.at("coordinates"), [](const JsonReader& position) {
        const auto numbers = position.items(2);
        return point_of(numbers[1], numbers[0]);
    });
}

/// Metres beside every point, never going back: tracks and times are interpolated along them.
std::vector<double> read_geometry_at(const JsonReader& r, std::size_t points) {
    std::vector<double> out;
    for (const JsonReader& item : r.items(points)) {
        const double at_m = item.number();
        if (at_m < (out.empty() ? 0.0 : out.back()))
            throw item.fault("goes back along the way", "the metres must not fall from point to point");
        out.push_back(at_m);
    }
    return out;
}

/// Neither the metres nor the seconds go back.
std::vector<std::array<double, 2>> read_clock(const JsonReader& r) {
    std::vector<std::array<double, 2>> out;
    for (const JsonReader& item : r.items()) {
        const auto figures = item.items(2);
        const std::array<double, 2> at{figures[0].number(), figures[1].number()};
        const std::array<double, 2> before = out.empty() ? std::array<double, 2>{0, 0} : out.back();
        if (at[0] < before[0] || at[1] < before[1])
            throw item.fault("goes back along the way", "neither metres nor seconds may fall");
        out.push_back(at);
    }
    return out;
}

void read_lengths(const JsonReader& r, Option& o) {
    o.gap_m = r.maybe_number("gap_m");
    o.length_m = r.maybe_number("length_m");
    o.hard_m = r.maybe_number("hard_m");
    o.gravel_m = r.maybe_number("gravel_m");
    o.earth_m = r.maybe_number("earth_m");
    o.assumed_m = r.maybe_number("assumed_m");
    o.hard_low_m = r.maybe_number("hard_low_m");
    o.hard_high_m = r.maybe_number("hard_high_m");
    o.hauled_m = r.maybe_number("hauled_m");
    o.ferry_m = r.maybe_number("ferry_m");
    o.relube_interval_m = r.maybe_number("relube_interval_m");
}

void read_times(const JsonReader& r, Option& o, const TimeZone& zone) {
    o.depart = maybe_time(r, "depart", zone);
    o.arrive = maybe_time(r, "arrive", zone);
    o.duration_s = r.maybe_number("duration_s");
    o.driving_s = r.maybe_number("driving_s");
    o.stopped_s = r.maybe_number("stopped_s");
}

OptionClimb read_climb(const JsonReader& r) {
    return {r.maybe_number("ascent_m"), r.maybe_number("descent_m"), r.maybe_number("steepest_pct"),
            r.maybe_number("steepest_at_m"), r.maybe_number("flat_assumed_m")};
}

void read_route(const JsonReader& r, Option& o) {
    if (const auto elevation = r.maybe("elevation"))
        o.elevation = list_of(*elevation, [](const JsonReader& p) {
            const auto figures = p.items(2);
            return std::array<double, 2>{figures[0].number(), figures[1].number()};
        });
    if (const auto climb = r.maybe("climb"))
        o.climb = read_climb(*climb);
    if (const auto geometry = r.maybe("geometry"))
        o.geometry = read_geometry(*geometry);
    if (const auto at_m = r.maybe("geometry_at_m"))
        o.geometry_at_m = read_geometry_at(*at_m, o.geometry.size());
    if (const auto clock = r.maybe("clock"))
        o.clock = read_clock(*clock);
}

void read_caps(const JsonReader& r, std::array<std::optional<double>, surface_class_count>& to) {
    if (const auto caps = r.maybe("speed_caps_kmh"))
        for (std::size_t i = 0; i < surface_class_count; ++i)
            to[i] = caps->maybe_number(surface_class_names[i]);
}

Option read_option(const JsonReader& r, const TimeZone& zone) {
    Option o;
    o.id = r.at("id").text();
    o.also = texts_or_empty(r, "also");
    o.mode = mode_values[r.at("mode").word(mode_words)];
    o.feasible = r.at("feasible").truth();
    o.why_not = texts_or_empty(r, "why_not");
    o.answer_needed = texts_or_empty(r, "answer_needed");
    o.exact = r.at("exact").truth();
    read_lengths(r, o);
    read_times(r, o, zone);
    o.fuel_l = r.maybe_number("fuel_l");
    o.fuel_high_l = r.maybe_number("fuel_high_l");
    if (const auto turns = r.maybe("sharp_turns_hard"))
        o.sharp_turns_hard = small_integer(*turns);
    read_caps(r, o.speed_caps_kmh);
    if (const auto cost = r.maybe("cost"))
        o.cost = read_cost(*cost);
    if (const auto wear = r.maybe("wear"))
        o.wear = read_wear(*wear);
    if (const auto heat = r.maybe("heat"))
        o.heat = read_heat(*heat);
    o.stops = list_of(r.at("stops"), [&](const JsonReader& s) { return read_stop(s, zone); });
    o.legs = list_of(r.at("legs"), read_leg);
    o.flags = list_of(r.at("flags"), read_flag);
    o.corrections = texts_or_empty(r, "corrections");
    read_route(r, o);
    return o;
}

FrontPoint read_front_point(const JsonReader& r) {
    FrontPoint p;
    p.k = small_integer(r.at("k"));
    p.hard_m = r.at("hard_m").number();
    p.length_m = r.at("length_m").number();
    p.cost = r.maybe_number("cost");
    p.stops_ok = r.maybe_truth("stops_ok");
    if (const auto stops = r.maybe("stops"))
        p.stops = small_integer(*stops);
    p.duration_s = r.maybe_number("duration_s");
    p.bar_high_c = r.maybe_number("bar_high_c");
    p.option = text_or_empty(r, "option");
    p.why_not = texts_or_empty(r, "why_not");
    return p;
}

Departure read_departure(const JsonReader& r, const TimeZone& zone) {
    Departure d;
    const JsonReader depart = r.at("depart");
    const std::optional<Instant> at = maybe_time(r, "depart", zone);
    if (!at)
        throw depart.fault("is missing");
    d.depart = *at;
    d.option = text_or_empty(r, "option");
    d.can_be_done = r.at("can_be_done").truth();
    d.cost = r.maybe_number("cost");
    d.bar_peak_c = r.maybe_number("bar_peak_c");
    d.bar_high_c = r.maybe_number("bar_high_c");
    read_caps(r, d.speed_caps_kmh);
    if (const auto stops = r.maybe("stops"))
        d.stops = small_integer(*stops);
    d.arrive = maybe_time(r, "arrive", zone);
    d.in_daylight = r.maybe_truth("in_daylight");
    d.within_permitted_hours = r.at("within_permitted_hours").truth();
    d.taken = r.at("taken").truth();
    d.why_not = texts_or_empty(r, "why_not");
    return d;
}

ReturnTrip read_return_trip(const JsonReader& r) {
    ReturnTrip t;
    t.option = text_or_empty(r, "option");
    t.mode = mode_values[r.at("mode").word(mode_words)];
    t.sentence = text_or_empty(r, "sentence");
    t.cost = r.maybe_number("cost");
    t.length_m = r.maybe_number("length_m");
    t.hauled_m = r.maybe_number("hauled_m");
    t.duration_s = r.maybe_number("duration_s");
    t.both_ways = r.maybe_number("both_ways");
    return t;
}

Value member_or_null(const JsonReader& r, std::string_view key) {
    const auto member = r.maybe(key);
    return member ? member->value() : Value{};
}

void check_schema(const JsonReader& document) {
    if (document.value().as_object() == nullptr || document.value().find("schema") == nullptr)
        throw document.fault("is not a plan: it has no \"schema\"",
                             "make one with: loamway plan ... -o PLAN.json");
    const JsonReader schema = document.at("schema");
    if (schema.text() != plan_schema)
        throw schema.fault(fmt::format("is not \"{}\"", plan_schema),
                           "plan the move again with this version");
}

}  // namespace

Plan plan_from_json(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::plan);
    const JsonReader r(document, file);
    check_schema(r);
    Plan plan;
    plan.loamway_version = text_or_empty(r, "loamway_version");
    plan.region = read_region(r.at("region"));
    const TimeZone zone = zone_of(r.at("region"), plan.region.time_zone);
    plan.move = read_move_understood(r.at("move"));
    if (const auto units = r.at("move").maybe("units"))
        plan.units = unit_words[units->word(unit_words)];
    plan.verdict = read_verdict(r.at("verdict"));
    plan.options = list_of(r.at("options"), [&](const JsonReader& o) { return read_option(o, zone); });
    if (const auto front = r.maybe("front"))
        plan.front = list_of(*front, read_front_point);
    plan.front_exact = r.maybe_truth("front_exact");
    if (const auto departures = r.maybe("departures"))
        plan.departures = list_of(*departures, [&](const JsonReader& d) { return read_departure(d, zone); });
    plan.heat_search = member_or_null(r, "heat_search");
    if (const auto even = r.maybe("break_even"))
        plan.break_even = read_break_even(*even);
    if (const auto sure = r.maybe("uncertainty"))
        plan.uncertainty = read_uncertainty(*sure);
    if (const auto home = r.maybe("return_trip"))
        plan.return_trip = read_return_trip(*home);
    plan.cautions = texts_or_empty(r, "cautions");
    return plan;
}

}  // namespace loamway
