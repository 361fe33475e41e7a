// SPDX-License-Identifier: Apache-2.0
// GPX 1.1 through pugixml: the order of elements is the schema's, for receivers that insist on it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <pugixml.hpp>
#include <sstream>

#include "ascii_text.h"
#include "loamway/base/names.h"
#include "loamway/base/unit_words.h"
#include "loamway/exchange/tracks.h"
#include "loamway/plan/plan_words.h"
#include "planned_way.h"
#include "stop_names.h"
#include "xml_text.h"

namespace loamway {

namespace {

// Old receivers take no more points a route, and no longer names (common practice, no source).
constexpr std::size_t most_route_points = 50;
constexpr std::size_t longest_name = 20;

void add_text(pugi::xml_node parent, const char* name, std::string_view text) {
    if (!text.empty())
        parent.append_child(name).text().set(xml_text(text).c_str());
}

void set_position(pugi::xml_node node, GeoPoint p) {
    // The schema has longitudes from -180 up to, but not including, 180.
    const std::int32_t lon_e7 = p.lon_e7 == 1800000000 ? -1800000000 : p.lon_e7;
    node.append_attribute("lat").set_value(fmt::format("{:.7f}", p.lat_e7 / 1e7).c_str());
    node.append_attribute("lon").set_value(fmt::format("{:.7f}", lon_e7 / 1e7).c_str());
}

void add_time(pugi::xml_node node, const std::optional<Instant>& t) {
    if (t)
        add_text(node, "time", format_rfc3339(*t, TimeZone()));
}

/// A point of the short route or a waypoint.
struct Mark {
    double at_m;
    double weight;  // how much it is missed when points must go
    GeoPoint point;
    std::optional<Instant> time;
    std::string name, cmt, desc, type;
};

class GpxWriter {
public:
    GpxWriter(const Plan& plan, const Option& option)
        : m_plan(plan),
          m_option(option),
          m_way(option),
          m_units(plan.units),
          m_zone(plan.region.time_zone.empty() ? TimeZone() : TimeZone(plan.region.time_zone)) {}

    std::string make() {
        pugi::xml_document document;
        pugi::xml_node declaration = document.append_child(pugi::node_declaration);
        declaration.append_attribute("version") = "1.0";
        declaration.append_attribute("encoding") = "UTF-8";
        pugi::xml_node gpx = document.append_child("gpx");
        gpx.append_attribute("version") = "1.1";
        gpx.append_attribute("creator").set_value(
            fmt::format("loamway {}", xml_text(m_plan.loamway_version)).c_str());
        gpx.append_attribute("xmlns") = "http://www.topografix.com/GPX/1/1";
        gpx.append_attribute("xmlns:xsi") = "http://www.w3.org/2001/XMLSchema-instance";
        gpx.append_attribute("xsi:schemaLocation") =
            "http://www.topografix.com/GPX/1/1 http://www.topografix.com/GPX/1/1/gpx.xsd";
        metadata(gpx.append_child("metadata"));
        for (const PlanStop& s : m_option.stops)
            mark(gpx.append_child("wpt"), stop_mark(s), "Flag, Blue");
        route(gpx.append_child("rte"));
        track(gpx.append_child("trk"));
        std::ostringstream out;
        document.save(out, " ", pugi::format_indent, pugi::encoding_utf8);
        return out.str();
    }

private:
    [[nodiscard]] std::string km(double m) const { return m_units.exact(m); }
    [[nodiscard]] std::string clock(const std::optional<Instant>& t) const {
        return t ? format_clock(*t, m_zone) : "no time";
    }
    [[nodiscard]] std::string title() const {
        return fmt::format("{} to {}", m_plan.move.from_name, m_plan.move.to_name);
    }
    [[nodiscard]] std::string planned() const {
        std::string out = fmt::format("{} ({}), {}", option_name(m_option.id), name_of(m_option.mode),
                                      km(m_way.length_m()));
        if (m_option.depart && m_option.arrive)
            out += fmt::format(", planned: leave {}, arrive {}", format_rfc3339(*m_option.depart, m_zone),
                               format_rfc3339(*m_option.arrive, m_zone));
        if (!m_option.feasible)
            out += fmt::format(". Cannot be done as it stands: {}", fmt::join(m_option.why_not, "; "));
        return out;
    }

    void metadata(pugi::xml_node node) const {
        add_text(node, "name", title());
        add_text(node, "desc", fmt::format("{}. {}", planned(), fmt::join(m_plan.cautions, " ")));
        if (!m_plan.region.attribution.empty())
            node.append_child("copyright")
                .append_attribute("author")
                .set_value(xml_text(m_plan.region.attribution).c_str());
        bounds(node.append_child("bounds"));
    }
    void bounds(pugi::xml_node node) const {
        const auto& points = m_way.points();
        const auto [south, north] = std::minmax_element(
            points.begin(), points.end(), [](GeoPoint a, GeoPoint b) { return a.lat_e7 < b.lat_e7; });
        const auto [west, east] = std::minmax_element(
            points.begin(), points.end(), [](GeoPoint a, GeoPoint b) { return a.lon_e7 < b.lon_e7; });
        const auto set = [&node](const char* name, std::int32_t e7) {
            node.append_attribute(name).set_value(fmt::format("{:.7f}", e7 / 1e7).c_str());
        };
        set("minlat", south->lat_e7);
        set("minlon", west->lon_e7);
        set("maxlat", north->lat_e7);
        set("maxlon", east->lon_e7 == 1800000000 ? 1799999999 : east->lon_e7);
    }

    static std::string type_of(const PlanStop& s) {
        // A start stop is there because of the powder, too.
        return stop_name(s.kind == "start" ? "relube" : s.kind);
    }

    [[nodiscard]] Mark stop_mark(const PlanStop& s) const {
        Mark m{s.at_m, 1e9, s.point, s.arrive, {}, {}, {}, type_of(s)};
        m.name = fmt::format("{} {}", km(s.at_m), short_stop_name(s.kind));
        m.cmt = s.wait_s > 0 ? format_duration(Duration::from_seconds(s.wait_s)) : std::string();
        m.desc = fmt::format("Planned {} to {}", clock(s.arrive), clock(s.leave));
        for (const std::string* text : {&s.place, &s.how_to_find, &s.why})
            if (!text->empty())
                m.desc += fmt::format("; {}", *text);
        m.desc += ".";
        for (const auto* list : {&s.to_do, &s.cautions})
            for (const std::string& text : *list)
                m.desc += fmt::format(" {}.", text);
        return m;
    }
    [[nodiscard]] Mark turn_mark(const Instruction& i) const {
        Mark m{i.at_m, std::abs(i.turn_deg), m_way.point(i.at_m), m_way.leaves(i.at_m), {}, {}, i.text,
               "turn"};
        const std::string what = i.road.empty() ? i.text : i.road;
        m.name = fmt::format("{} {}", km(i.at_m), what);
        m.cmt = i.road;
        return m;
    }
    [[nodiscard]] Mark end_mark(double at_m, const std::string& name) const {
        Mark m{at_m, 1e9,  m_way.point(at_m), at_m > 0 ? m_way.arrives(at_m) : m_way.leaves(at_m), {},
               {},   name, "end of the move"};
        m.name = fmt::format("{} {}", km(at_m), name);
        return m;
    }

    static void mark(pugi::xml_node node, const Mark& m, std::string_view symbol) {
        set_position(node, m.point);
        add_time(node, m.time);
        add_text(node, "name", ascii_text(m.name, longest_name));
        add_text(node, "cmt", m.cmt);
        add_text(node, "desc", m.desc);
        add_text(node, "sym", symbol);
        add_text(node, "type", m.type);
    }

    /// Start, stops and end always; of the turns the sharpest ones that fit.
    [[nodiscard]] std::vector<Mark> route_marks() const {
        std::vector<Mark> marks{end_mark(0, m_plan.move.from_name)};
        for (const PlanStop& s : m_option.stops)
            if (marks.size() + 1 < most_route_points)
                marks.push_back(stop_mark(s));
        std::vector<Mark> turns;
        for (const Leg& leg : m_option.legs)
            for (const Instruction& i : leg.directions)
                if (i.at_m > 0 && i.at_m < m_way.length_m() - 1)
                    turns.push_back(turn_mark(i));
        std::stable_sort(turns.begin(), turns.end(),
                         [](const Mark& a, const Mark& b) { return a.weight > b.weight; });
        const std::size_t room = most_route_points - 1 - marks.size();
        turns.resize(std::min(turns.size(), room));
        marks.insert(marks.end(), turns.begin(), turns.end());
        std::stable_sort(marks.begin(), marks.end(),
                         [](const Mark& a, const Mark& b) { return a.at_m < b.at_m; });
        marks.push_back(end_mark(m_way.length_m(), m_plan.move.to_name));
        return marks;
    }
    void route(pugi::xml_node node) const {
        add_text(node, "name", ascii_text(title(), longest_name));
        add_text(node, "desc", planned());
        add_text(node, "type", "planned move");
        for (const Mark& m : route_marks())
            mark(node.append_child("rtept"), m, "");
    }

    void track(pugi::xml_node node) const {
        add_text(node, "name", ascii_text(title(), longest_name));
        add_text(node, "desc", planned());
        add_text(node, "type", "planned move");
        pugi::xml_node segment = node.append_child("trkseg");
        std::vector<double> standing;
        for (const PlanStop& s : m_option.stops)
            standing.push_back(std::clamp(s.at_m, 0.0, m_way.length_m()));
        std::sort(standing.begin(), standing.end());
        auto next = standing.begin();
        for (std::size_t i = 0; i < m_way.at_m().size(); ++i) {
            const double at = m_way.at_m()[i];
            for (; next != standing.end() && *next < at; ++next)
                point(segment, m_way.point(*next), *next, true);
            const bool stands = next != standing.end() && *next == at;
            while (next != standing.end() && *next == at)
                ++next;
            point(segment, m_way.points()[i], at, stands);
        }
    }
    /// One track point; where the machine stands two, at arrival and at leaving.
    void point(pugi::xml_node segment, GeoPoint p, double at_m, bool stands) const {
        const auto add = [&](const std::optional<Instant>& t) {
            pugi::xml_node node = segment.append_child("trkpt");
            set_position(node, p);
            if (const auto ele = m_way.elevation(at_m))
                add_text(node, "ele", fmt::format("{:.1f}", *ele));
            add_time(node, t);
        };
        const auto arrives = m_way.arrives(at_m), leaves = m_way.leaves(at_m);
        if (stands && arrives && leaves && *arrives < *leaves)
            add(arrives);
        add(leaves);
    }

    const Plan& m_plan;
    const Option& m_option;
    PlannedWay m_way;
    UnitWords m_units;
    TimeZone m_zone;
};

}  // namespace

std::string to_gpx(const Plan& plan, const std::string& option) {
    return GpxWriter(plan, option_with_way(plan, option)).make();
}

}  // namespace loamway
