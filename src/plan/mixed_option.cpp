// SPDX-License-Identifier: Apache-2.0
#include "mixed_option.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "corrections_used.h"
#include "directions.h"
#include "flags.h"
#include "hills.h"
#include "landmarks.h"
#include "loading_places.h"

namespace loamway {

namespace {

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

const std::vector<std::string>& loading_steps() {
    static const std::vector<std::string> steps{
        "Low-bed on firm, level ground off the carriageway; boards, ramp and outriggers as the loading plan says",
        "Implement up and locked; a spotter in sight, nobody beside the ramp; straight up, no steering on it",
        "Park brake on, engine off; tie down, no chain across a belt's edge; measure the height on the deck",
    };
    return steps;
}

const std::vector<std::string>& unloading_steps() {
    static const std::vector<std::string> steps{
        "Low-bed on firm, level ground off the carriageway; chains off; a spotter in sight, nobody beside the ramp",
        "Straight down, no steering on the ramp",
        "Look at bars, guide lugs and rollers, tension and both sides before driving on",
    };
    return steps;
}

/// The whole option as paths: what is driven before and after, what is hauled between, each piece where it
/// lies along the option.
class MixedPaths {
public:
    MixedPaths(const MixedWay& way, const Rates& rates) {
        const Path& driven = way.driven.driven.path;
        const auto at = std::find_if(driven.stops.begin(), driven.stops.end(), [&](const PathStop& s) {
            return way.driven.driven.stops[s.stop].kind == "handover";
        });
        m_hand_over = *at;
        m_load_ends = at->arrives + way.waits + rates.load_time + rates.make_narrow_time;
        const std::uint64_t hauled_dm = way.hauled.path.length_dm;
        m_driven = driven;
        for (std::size_t i = at->pieces; i < m_driven.pieces.size(); ++i)
            m_driven.pieces[i].at_dm += hauled_dm;
        const auto number = static_cast<std::size_t>(at - driven.stops.begin());
        for (std::size_t i = number + 1; i < m_driven.stops.size(); ++i)
            m_driven.stops[i].at_dm += hauled_dm;
        m_driven.length_dm += hauled_dm;
        lay_hauled(way.hauled.path);
        split(number);
        put_together();
    }

    [[nodiscard]] const Path& driven() const { return m_driven; }
    [[nodiscard]] const Path& before() const { return m_before; }
    [[nodiscard]] const Path& hauled() const { return m_hauled; }
    [[nodiscard]] const Path& after() const { return m_after; }
    [[nodiscard]] const Path& whole() const { return m_whole; }
    [[nodiscard]] const PathStop& hand_over() const { return m_hand_over; }
    [[nodiscard]] Duration load_ends() const { return m_load_ends; }
    [[nodiscard]] Duration unload_begins() const { return m_load_ends + m_hauled.driving; }

private:
    void lay_hauled(const Path& path) {
        m_hauled = path;
        for (PathPiece& p : m_hauled.pieces) {
            p.at_dm += m_hand_over.at_dm;
            p.begins = p.begins + m_load_ends;
        }
        m_hauled.length_dm += m_hand_over.at_dm;
    }

    void split(std::size_t hand_over) {
        const auto cut = static_cast<std::ptrdiff_t>(m_hand_over.pieces);
        const auto stop = static_cast<std::ptrdiff_t>(hand_over);
        m_before.pieces.assign(m_driven.pieces.begin(), m_driven.pieces.begin() + cut);
        m_before.stops.assign(m_driven.stops.begin(), m_driven.stops.begin() + stop);
        m_before.length_dm = m_hand_over.at_dm;
        m_before.total = m_hand_over.arrives;
        m_after.pieces.assign(m_driven.pieces.begin() + cut, m_driven.pieces.end());
        m_after.stops.assign(m_driven.stops.begin() + stop + 1, m_driven.stops.end());
        m_after.length_dm = m_driven.length_dm;
        m_after.total = m_driven.total - m_hand_over.leaves;
        const std::uint64_t first_dm = m_after.pieces.empty() ? 0 : m_after.pieces.front().route_dm;
        for (PathPiece& p : m_after.pieces)
            p.route_dm -= first_dm;
    }

    void put_together() {
        m_whole = m_driven;
        m_whole.pieces = m_before.pieces;
        m_whole.pieces.insert(m_whole.pieces.end(), m_hauled.pieces.begin(), m_hauled.pieces.end());
        m_whole.pieces.insert(m_whole.pieces.end(), m_after.pieces.begin(), m_after.pieces.end());
    }

    Path m_driven, m_before, m_hauled, m_after, m_whole;
    PathStop m_hand_over;
    Duration m_load_ends;
};

class MixedWriter {
public:
    MixedWriter(const Setting& setting, DrivePlanner& drive, const Hauling& hauling, const MixedWay& way)
        : m_setting(setting),
          m_in(setting.in()),
          m_drive(drive),
          m_hauling(hauling),
          m_way(way),
          m_paths(way, hauling.rates()),
          m_ends(find_haul_ends(hauling.loaded(), drive.ends(), setting.in())),
          m_shown(way.driven) {
        m_shown.driven.path = m_paths.driven();
    }

    Option write() {
        m_o.mode = Mode::mixed;
        set_driven_figures(m_o, m_setting, m_drive.heat(), m_shown);
        set_figures();
        m_o.hauled_m = std::round(m_way.hauled.figures.loaded.metres());
        m_o.driving_s = (m_paths.driven().driving + m_paths.hauled().driving).seconds();
        m_o.stopped_s = *m_o.duration_s - *m_o.driving_s;
        legs();
        flags();
        note_corrections(m_setting, m_paths.whole(), m_way.driven.driven.stops, m_o);
        for (const auto& place : {m_way.load, m_way.unload})
            if (place && place->correction)
                m_o.corrections.push_back(m_in.corrections->corrections()[*place->correction].id);
        note_end_of_weather(m_o, m_setting);
        set_hills(m_o, m_setting, m_paths.whole());
        path_geometry(m_setting, m_paths.whole(), m_o.geometry, m_o.geometry_at_m);
        m_o.clock = path_clock(m_paths.whole());
        return std::move(m_o);
    }

private:
    [[nodiscard]] std::string load_name() const { return m_way.load ? m_way.load->name : m_in.from.name; }
    [[nodiscard]] std::string unload_name() const { return m_way.unload ? m_way.unload->name : m_in.to.name; }

    void set_figures() {
        OptionFigures figures = *m_o.figures;
        if (drives_on_both_sides(m_way.driven.chosen))
            figures.driven.push_back({second_preparation(m_setting), {}, {}});
        figures.hauled.push_back(m_way.driven.chosen.hand_over->hauled);
        m_o.figures = std::make_shared<const OptionFigures>(std::move(figures));
    }

    // What a leg is made on stands before its first instruction.
    void name_vehicle(std::string_view vehicle) {
        std::vector<Instruction>& directions = m_o.legs.back().directions;
        if (!directions.empty() && directions.front().text.starts_with("Start "))
            directions.front().text = fmt::format("{}: s{}", vehicle, directions.front().text.substr(1));
    }

    void legs() {
        if (!m_paths.before().pieces.empty()) {
            add_driven_leg(m_o, m_setting, m_paths.before(), m_shown.driven, m_in.from.name, load_name());
            name_vehicle("Machine");
        }
        m_o.stops.push_back(load_stop());
        m_o.legs.push_back(hauled_leg(m_setting, m_paths.hauled(), load_name(), unload_name()));
        name_vehicle("Low-bed");
        m_o.stops.push_back(unload_stop());
        if (!m_paths.after().pieces.empty()) {
            add_driven_leg(m_o, m_setting, m_paths.after(), m_shown.driven, unload_name(), m_in.to.name);
            name_vehicle("Machine");
        }
    }

    [[nodiscard]] std::string comes_to(const RoadPoint& low_bed, const NamedPoint& end,
                                       std::string_view does) const {
        const auto off = waits_off(low_bed, end);
        return off ? fmt::format("it comes to the road {} from where the move {}",
                                 m_setting.words().short_length(off->metres()), does)
                   : fmt::format("it comes to where the move {}", does);
    }

    [[nodiscard]] PlanStop hand_over_stop(const std::optional<LoadingPlace>& place, const NamedPoint& end,
                                          const std::optional<RoadPoint>& low_bed) const {
        PlanStop s;
        s.kind = "handover";
        s.since_relube_m = metres(m_paths.hand_over().since_relube_dm);
        const bool off = !place && waits_off(*low_bed, end);
        s.point = place ? place->point : off ? low_bed->point : end.point;
        s.place = place ? place->name : end.name;
        if (place)
            s.cautions = place->cautions;
        return s;
    }

    [[nodiscard]] std::string found(const PlanStop& s, const Path& path,
                                    const std::vector<Instruction>& directions) const {
        ChosenStop stop;
        stop.kind = s.kind;
        stop.name = s.place;
        PathStop at;
        at.at_dm = static_cast<std::uint64_t>(std::llround(s.at_m * 10));
        return how_to_find(m_setting, path, at, stop, directions);
    }

    [[nodiscard]] PlanStop load_stop() const {
        PlanStop s = hand_over_stop(m_way.load, m_in.from, m_ends.from);
        s.handover = "load";
        s.at_m = metres(m_paths.hand_over().at_dm);
        s.how_to_find = m_paths.before().pieces.empty()
                            ? "where the machine stands"
                            : found(s, m_paths.before(), m_o.legs.back().directions);
        s.why = fmt::format("onto the low-bed: {}",
                            m_way.load ? m_way.load->reason : comes_to(*m_ends.from, m_in.from, "begins"));
        if (m_way.waits.seconds() > 0)
            s.why +=
                fmt::format("; it can be there from {}: {} to wait",
                            format_clock(*m_in.haul_from, m_setting.zone()), format_duration(m_way.waits));
        s.to_do = loading_steps();
        s.arrive = m_in.depart + m_paths.hand_over().arrives;
        s.leave = m_in.depart + m_paths.load_ends();
        s.wait_s = (*s.leave - *s.arrive).seconds();
        return s;
    }

    [[nodiscard]] PlanStop unload_stop() const {
        PlanStop s = hand_over_stop(m_way.unload, m_in.to, m_ends.to);
        s.handover = "unload";
        s.at_m = metres(m_paths.hauled().length_dm);
        s.how_to_find = found(s, m_paths.hauled(), m_o.legs.back().directions);
        s.why = fmt::format("off the low-bed: {}",
                            m_way.unload ? m_way.unload->reason : comes_to(*m_ends.to, m_in.to, "ends"));
        s.to_do = unloading_steps();
        if (!m_paths.after().pieces.empty())
            s.to_do.push_back(
                fmt::format("Trip meter: it stood still on the deck; from here this sheet counts "
                            "{} more",
                            m_setting.words().exact(m_way.hauled.figures.loaded.metres())));
        s.arrive = m_in.depart + m_paths.unload_begins();
        s.leave = m_in.depart + m_paths.hand_over().leaves;
        s.wait_s = (*s.leave - *s.arrive).seconds();
        return s;
    }

    void take(std::vector<Flag> flags) {
        std::move(flags.begin(), flags.end(), std::back_inserter(m_o.flags));
    }

    void driven_flags(const Path& path, const Route& route) {
        if (path.pieces.empty())
            return;
        std::vector<Flag> along = route_flags(m_setting, m_drive.roads(), path, true);
        note_last_turns(turn_places(m_setting, m_drive.stop_places(), route, path), along);
        take(std::move(along));
    }

    void flags() {
        add_driven_flags(m_o, m_setting, m_drive.heat(), m_shown);
        flag_islands(m_drive.roads(), m_drive.ends(), m_in,
                     {!m_paths.before().pieces.empty(), !m_paths.after().pieces.empty()}, m_o);
        const RoutePlan& plan = m_way.driven.chosen;
        driven_flags(m_paths.before(), part_of(plan.route, 0, plan.hand_over->piece));
        HauledWay hauled = m_way.hauled;
        hauled.path = m_paths.hauled();
        take(m_hauling.flags(hauled));
        flag_loading_off_road(m_setting, m_ends, !m_way.load, !m_way.unload, m_o);
        driven_flags(m_paths.after(), part_of(plan.route, plan.hand_over->piece, plan.route.pieces.size()));
        add_stop_flags(m_o, m_shown);
    }

    const Setting& m_setting;
    const PlanInputs& m_in;
    DrivePlanner& m_drive;
    const Hauling& m_hauling;
    const MixedWay& m_way;
    MixedPaths m_paths;
    HaulEnds m_ends;
    WorkedWay m_shown;
    Option m_o;
};

std::string cannot_pay_text(const Setting& setting, const Option& haul, const MixedMove& move) {
    const Rates& r = setting.in().rates;
    std::string text = fmt::format(
        "mixing does not pay: the low-bed reaches both ends and is paid for coming either way; no pair of {} "
        "loading places saves more than one billing step on the {:.0f} {} from door to door",
        move.places, *haul.cost.total, r.currency);
    if (move.way && move.way->driven.can_be_done())
        text += fmt::format(" (the best makes it {:.0f})", move.way->driven.cost());
    return text;
}

Flag place_flag(Severity severity, std::string text) {
    Flag f;
    f.kind = "loading_place";
    f.severity = severity;
    f.text = std::move(text);
    return f;
}

// A place that somebody named and that is of no use must not be gone without a word.
void tell_left_out(const Setting& setting, DrivePlanner& drive, const Hauling& hauling, Option& o) {
    for (std::string& text : named_places_left_out(setting, drive.roads(), hauling))
        if (o.feasible)
            o.flags.push_back(place_flag(Severity::check, std::move(text)));
        else
            o.why_not.push_back(std::move(text));
}

Option option_leaving_at(const Setting& setting, DrivePlanner& drive, Hauling& hauling, const Option& haul) {
    const Rates& r = setting.in().rates;
    const double step = r.truck_per_h.units() * r.billing_step.hours();
    const double cap = haul.feasible ? *haul.cost.total - step : std::numeric_limits<double>::infinity();
    const MixedMove move = MixedPlanner(setting, drive, hauling).find(cap);
    const bool pays = move.way && move.way->driven.can_be_done() && move.way->driven.cost() < cap;
    if (!pays && (haul.feasible || !move.way))
        return impossible_option("mixed", Mode::mixed,
                                 move.why_not.empty() ? cannot_pay_text(setting, haul, move) : move.why_not);
    Option o = MixedWriter(setting, drive, hauling, *move.way).write();
    o.exact = o.exact && move.exact;
    o.flags.push_back(place_flag(
        Severity::note,
        fmt::format("{} loading places looked at: {}", move.places,
                    o.exact ? "no other pair costs less"
                            : "the cheapest pairs were worked out in full, another may cost less")));
    return o;
}

}  // namespace

Option mixed_option(const Setting& setting, DrivePlanner& drive, Hauling& hauling, const Option& haul) {
    Option o = option_leaving_at(setting, drive, hauling, haul);
    const auto load =
        std::find_if(o.stops.begin(), o.stops.end(), [](const PlanStop& s) { return s.kind == "handover"; });
    const Duration waits = load != o.stops.end() ? wait_for_low_bed(setting.in(), *load->arrive) : Duration();
    if (waits.seconds() > 0) {
        PlanInputs later = setting.in();
        later.depart = later.depart + waits;
        const Setting then(later);
        DrivePlanner drive_then(then);
        Hauling hauling_then(then, waits);
        o = option_leaving_at(then, drive_then, hauling_then, haul);
        o.flags.push_back(haul_from_flag(setting, waits, "the machine leaves"));
    }
    tell_left_out(setting, drive, hauling, o);
    return o;
}

}  // namespace loamway
