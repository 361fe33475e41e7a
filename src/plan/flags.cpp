// SPDX-License-Identifier: Apache-2.0
#include "flags.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "haul_rules.h"
#include "loamway/plan/plan_words.h"
#include "loamway/tags/structure.h"
#include "loamway/tags/surface.h"

namespace loamway {

namespace {

constexpr std::string_view ask_words = "; the local code and the road authority decide";

// Collects findings and sums up those of one kind and text.
class Collector {
public:
    void add(std::string kind, Severity severity, std::string text, std::uint64_t at_dm, GeoPoint point,
             std::optional<std::int64_t> way) {
        const auto key = std::pair(kind, text);
        const auto found = m_groups.find(key);
        if (found != m_groups.end()) {
            Group& g = m_found[found->second];
            // The next piece of the same road is the same finding.
            const bool same_road = way && g.last_way == way;
            g.last_way = way;
            if (!same_road)
                g.flag.again_at_m.push_back(static_cast<double>(at_dm) / 10.0);
            return;
        }
        m_groups.emplace(key, m_found.size());
        Flag f;
        f.kind = std::move(kind);
        f.severity = severity;
        f.text = std::move(text);
        f.at_m = static_cast<double>(at_dm) / 10.0;
        f.point = point;
        f.osm_way = way;
        m_found.push_back({std::move(f), way});
    }

    [[nodiscard]] std::vector<Flag> take(const UnitWords& words) {
        std::vector<Flag> flags;
        for (Group& g : m_found) {
            g.flag.text += again_words(g.flag.again_at_m, words);
            flags.push_back(std::move(g.flag));
        }
        std::stable_sort(flags.begin(), flags.end(), [](const Flag& a, const Flag& b) {
            return static_cast<int>(a.severity) > static_cast<int>(b.severity);
        });
        return flags;
    }

private:
    struct Group {
        Flag flag;
        std::optional<std::int64_t> last_way;
    };
    std::vector<Group> m_found;
    std::map<std::pair<std::string, std::string>, std::size_t> m_groups;
};

// Reasons are a tag or the default of a kind of road.
std::string kind_of_access(const std::string& reason) {
    if (reason == "default:track=check")
        return "track without a word on who may drive there";
    if (reason == "service=driveway")
        return "driveway";
    struct Meaning {
        std::string_view value, words;
    };
    constexpr std::array<Meaning, 8> meanings{{{"agricultural", "farm traffic only"},
                                               {"forestry", "forestry only"},
                                               {"agricultural;forestry", "farm and forestry traffic only"},
                                               {"destination", "only who has business there"},
                                               {"private", "private"},
                                               {"customers", "customers only"},
                                               {"permit", "by permit only"},
                                               {"delivery", "deliveries only"}}};
    const std::string_view value = std::string_view(reason).substr(reason.find('=') + 1);
    const auto known =
        std::find_if(meanings.begin(), meanings.end(), [&](const Meaning& m) { return m.value == value; });
    if (known != meanings.end())
        return fmt::format("{} ({} in the map)", known->words, reason);
    return fmt::format("{} in the map", reason);
}

std::string access_text(const AccessReading& access) {
    return fmt::format("{}: {}", kind_of_access(access.reason),
                       access.ends_only ? "only for who has business there; ask first"
                                        : "look whether this vehicle may drive here");
}

class FlagFinder {
public:
    FlagFinder(const Setting& setting, const VehicleRoads& roads, const Path& path, bool surfaces)
        : m_setting(setting), m_roads(roads), m_path(path), m_surfaces(surfaces) {}

    std::vector<Flag> find() {
        for (std::size_t i = 0; i < m_path.pieces.size(); ++i) {
            const PathPiece& p = m_path.pieces[i];
            if (p.spur)
                continue;
            along_arc(p);
            if (i + 1 < m_path.pieces.size())
                at_node(p);
        }
        return m_out.take(m_setting.words());
    }

private:
    void along_arc(const PathPiece& p) {
        const ArcId a = p.piece.arc;
        const RoadReading& reading = m_roads.reading(a);
        const TagView tags = m_setting.graph().tags(m_setting.graph().edge_of(a));
        if (reading.access.passage == Passage::check)
            add("access", Severity::check, access_text(reading.access), p);
        for (const std::string& f : reading.access.flags)
            add("condition", Severity::check, fmt::format("{}: cannot be decided from the map", f), p);
        bool mass_posted = false;
        for (const LimitFinding& f : reading.limits) {
            add("limit", Severity::check, f.text + std::string(ask_words), p);
            mass_posted = mass_posted || f.key.starts_with("maxweight");
        }
        const std::uint8_t flags = m_setting.graph().edge(a).flags;
        if ((flags & edge_flag::bridge) != 0 && !mass_posted && !tags.has("maxweight"))
            add("bridge", Severity::check, "bridge without a posted mass limit in the map", p);
        if ((flags & edge_flag::tunnel) != 0 && !tags.has("maxheight"))
            add("tunnel", Severity::check, "tunnel without a height in the map", p);
        if ((flags & edge_flag::ford) != 0)
            add("ford", Severity::stop, "ford: depth and ground unknown; it washes the powder off the belts",
                p);
        if (tags.has("barrier"))
            if (const BarrierReading b = read_barrier(tags, m_roads.vehicle()); b.passage() == Passage::check)
                add("barrier", Severity::check, fmt::format("{} along the road", *tags.get("barrier")), p);
        changes_on_the_way(p, reading, tags);
        if (m_surfaces)
            surface(p, tags);
    }

    // Values with a condition are read at departure; where the passing time gives another answer, say so.
    void changes_on_the_way(const PathPiece& p, const RoadReading& at_departure, const TagView& tags) {
        const bool conditional = std::any_of(tags.all().begin(), tags.all().end(),
                                             [](const Tag& t) { return t.key.ends_with(":conditional"); });
        if (!conditional)
            return;
        const Instant passing = m_setting.in().depart + p.begins;
        const Direction direction =
            m_setting.graph().arc(p.piece.arc).reversed != 0 ? Direction::backward : Direction::forward;
        const Moment moment = m_setting.moment(passing);
        Passage then = read_access(tags, m_roads.vehicle(), direction, moment).passage;
        for (const LimitFinding& f : read_limits(tags, m_roads.vehicle(), direction, moment))
            then = worse(then, f.passage);
        if (then != at_departure.passage)
            add("condition", then == Passage::deny ? Severity::stop : Severity::check,
                fmt::format("read as \"{}\" for the hour of departure, as \"{}\" when passing at {}",
                            name_of(at_departure.passage), name_of(then),
                            format_clock(passing, m_setting.zone())),
                p);
    }

    void surface(const PathPiece& p, const TagView& tags) {
        const SurfaceReading reading = read_surface(tags, false);
        for (const std::string& f : reading.flags) {
            if (f == "soft")
                add("surface", Severity::check, "soft ground: look before driving in", p);
            else if (f == "seasonal")
                add("surface", Severity::check, "seasonal way: may be closed or soft", p);
            else if (f == "blocks")
                add("surface", Severity::note, "paved with blocks or strips: no turning on the spot", p);
            else if (f == "mixed")
                add("surface", Severity::note, "mixed surface in the map: taken as partly paved", p);
            else if (f == "deck")
                add("surface", Severity::check, "metal or wooden deck: slippery, look at its edges", p);
            else if (f.starts_with("surface_value_unknown"))
                add("surface", Severity::note,
                    fmt::format("surface \"{}\" in the map is not a known word", f.substr(f.find(':') + 1)),
                    p);
        }
    }

    void at_node(const PathPiece& p) {
        const RoadGraph& graph = m_setting.graph();
        if (p.piece.to_dm != graph.arc(p.piece.arc).length_dm)
            return;
        const NodeId n = graph.head(p.piece.arc);
        const TagSetId set = graph.node_tag_set(n);
        if (set.is_none())
            return;
        const TagView tags = graph.tags(set);
        const std::uint64_t at = p.at_dm + p.piece.length_dm();
        const GeoPoint point = graph.region().node_point(n);
        if (const auto finding = m_roads.node_finding(n))
            m_out.add("barrier", Severity::check, finding->second, at, point, std::nullopt);
        if (is_level_crossing(tags)) {
            const Speed clearing =
                m_setting.words().imperial() ? Speed::from_kmh(6 * 1.609344) : Speed::from_kmh(10);
            const Length clear = m_roads.vehicle().length + Length::from_metres(10);
            m_out.add(
                "level_crossing", Severity::check,
                fmt::format("level crossing: square to the rails, no turn and no stop on or near them; this "
                            "combination needs {:.0f} s to clear it at {}; low decks may ground",
                            (clear / clearing).seconds(), m_setting.words().speed_cap(clearing.kmh())),
                at, point, std::nullopt);
        }
        if (is_ford(tags))
            m_out.add("ford", Severity::stop,
                      "ford: depth and ground unknown; it washes the powder off the belts", at, point,
                      std::nullopt);
    }

    void add(std::string kind, Severity severity, std::string text, const PathPiece& p) {
        const EdgeId e = m_setting.graph().edge_of(p.piece.arc);
        m_out.add(std::move(kind), severity, std::move(text), p.at_dm,
                  m_setting.point_on(p.piece.arc, p.piece.from_dm), m_setting.region().edge_way[e.index()]);
    }

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    const Path& m_path;
    bool m_surfaces;
    Collector m_out;
};

Flag plain_flag(std::string kind, Severity severity, std::string text) {
    Flag f;
    f.kind = std::move(kind);
    f.severity = severity;
    f.text = std::move(text);
    return f;
}

bool within(const DayHours& hours, Instant from, Instant to, const TimeZone& zone) {
    constexpr double day = 24;
    const double open = hours.to > hours.from ? hours.to - hours.from : hours.to - hours.from + day;
    // Hours since the last opening: of a move within them they do not begin again on the way.
    const auto since_opening = [&](Instant t) {
        const LocalTime local = zone.local(t);
        return std::fmod(local.hour + local.minute / 60.0 - hours.from + day, day);
    };
    const double leaves = since_opening(from), arrives = since_opening(to);
    const bool one_day = to < from + Duration::from_hours(day);
    return open >= day || (one_day && leaves <= arrives && arrives <= open);
}

}  // namespace

std::vector<Flag> route_flags(const Setting& setting, const VehicleRoads& roads, const Path& path,
                              bool surfaces) {
    return FlagFinder(setting, roads, path, surfaces).find();
}

std::string outside_wide_move_hours(const Setting& setting, Instant depart, Instant arrive) {
    const Recipe& recipe = setting.in().recipe;
    const auto& hours = recipe.wide_move_hours;
    if (!hours || setting.state().width < recipe.permit_from_width ||
        within(*hours, depart, arrive, setting.zone()))
        return {};
    return fmt::format(
        "on the road from {} to {}: this region's recipe lets moves as wide as this go from {} to {}",
        format_clock(depart, setting.zone()), format_clock(arrive, setting.zone()), hour_words(hours->from),
        hour_words(hours->to));
}

std::vector<Flag> machine_flags(const Setting& setting, Instant arrive) {
    std::vector<Flag> flags = machine_rule_flags(setting);
    if (std::string hours = outside_wide_move_hours(setting, setting.in().depart, arrive); !hours.empty())
        flags.push_back(plain_flag("hours", Severity::check, hours + std::string(ask_words)));
    const auto sunset = setting.sunset();
    if (sunset && arrive > *sunset + Duration::from_minutes(-30) && setting.in().depart < *sunset)
        flags.push_back(plain_flag(
            "daylight", Severity::check,
            fmt::format("arrival {} is later than half an hour before sunset ({}): lights, "
                        "marking and hours for wide moves",
                        format_clock(arrive, setting.zone()), format_clock(*sunset, setting.zone()))));
    if (const auto rise = setting.sunrise();
        rise && sunset && (setting.in().depart < *rise || setting.in().depart >= *sunset))
        flags.push_back(plain_flag(
            "daylight", Severity::check,
            fmt::format("departure {} is in the dark (sun {} to {}): lights and marking",
                        format_clock(setting.in().depart, setting.zone()),
                        format_clock(*rise, setting.zone()), format_clock(*sunset, setting.zone()))));
    return flags;
}

}  // namespace loamway
