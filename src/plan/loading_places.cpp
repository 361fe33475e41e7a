// SPDX-License-Identifier: Apache-2.0
#include "loading_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/plan/loading_room.h"
#include "stop_hours.h"

namespace loamway {

namespace {

// All assumptions.
constexpr std::int32_t named_score = 8;
constexpr std::int32_t firm_score = 1, level_score = 1, off_road_score = 1;
constexpr std::int32_t least_score = 2;  // below, a place is not listed
constexpr std::int32_t ask_score = -1, dead_end_score = -2;
constexpr double level_pct = 2, steep_pct = 4;
constexpr double off_road_m = 10;
const Length named_reach = Length::from_metres(100);
const Length level_over = Length::from_metres(50);

bool has(const StopPlaceRecord& r, std::uint32_t flag) {
    return (r.flags & flag) != 0;
}

struct Kind {
    std::int32_t score = 0;
    std::string_view words, room;
};

Kind kind_of(StopPlaceKind kind) {
    switch (kind) {
        case StopPlaceKind::yard:
            return {5, "yard", "room to turn"};
        case StopPlaceKind::rest_area:
            return {4, "rest area", "room to turn"};
        case StopPlaceKind::services:
            return {4, "service area", "room to turn"};
        case StopPlaceKind::parking:
            return {4, "parking place", "look whether it is long enough"};
        case StopPlaceKind::lay_by:
            return {3, "lay-by", "along the road, driven on without turning"};
        case StopPlaceKind::side_way:
            return {2, "mouth of a side way", "long enough for low-bed, ramp and machine in a row"};
        case StopPlaceKind::passing_place:  // standing there blocks the road
        case StopPlaceKind::named:          // to powder, not to load
            break;
    }
    return {};
}

class LoadingPlaceFinder {
public:
    LoadingPlaceFinder(const Setting& setting, const VehicleRoads& driven, const Hauling& hauling)
        : m_setting(setting),
          m_driven(driven),
          m_loaded(hauling.loaded()),
          m_empty(hauling.empty()),
          m_room(room_to_load(setting)),
          m_school(meets_school_hours(setting)) {}

    std::vector<LoadingPlace> find() {
        const auto& records = m_setting.region().stop_places;
        for (std::uint32_t i = 0; i < records.size(); ++i)
            add_mapped(records[i]);
        add_all_named();
        std::stable_sort(m_out.begin(), m_out.end(),
                         [](const LoadingPlace& a, const LoadingPlace& b) { return a.score > b.score; });
        return std::move(m_out);
    }

    std::vector<std::string> left_out() {
        add_all_named();
        return std::move(m_left_out);
    }

private:
    [[nodiscard]] const RoadGraph& graph() const { return m_setting.graph(); }

    // Both vehicles come and go there, in one direction at least.
    [[nodiscard]] bool open_to_both(EdgeId e) const {
        const ArcId along = graph().arc_of(e, false), against = graph().arc_of(e, true);
        const auto open = [&](const VehicleRoads& r) { return r.open(along) || r.open(against); };
        return open(m_driven) && open(m_loaded) && open(m_empty);
    }

    // Steepness of the road there, over fifty metres; nothing where heights are not known.
    [[nodiscard]] std::optional<double> grade_pct(EdgeId e, std::uint32_t offset_dm) const {
        const std::vector<HeightAt> heights = graph().heights_along(graph().arc_of(e, false));
        if (heights.size() < 2)
            return std::nullopt;
        const double reach_dm = level_over.metres() * 5;
        const HeightAt *low = &heights.front(), *high = &heights.back();
        for (const HeightAt& h : heights) {
            if (h.at_dm + reach_dm <= offset_dm)
                low = &h;
            if (h.at_dm >= offset_dm + reach_dm && h.at_dm < high->at_dm)
                high = &h;
        }
        if (high->at_dm <= low->at_dm)
            return std::nullopt;
        return 1000 * (high->height - low->height).metres() / (high->at_dm - low->at_dm);
    }

    [[nodiscard]] RoadPoint road_point(EdgeId e, std::uint32_t offset_dm, GeoPoint stands) const {
        RoadPoint at;
        at.edge = e;
        at.offset_dm = offset_dm;
        at.point = point_on_edge(graph(), e, offset_dm);
        at.off_road = distance(at.point, stands);
        at.part = m_driven.part_of(e);
        return at;
    }

    // False where the ground does not carry a low-bed.
    bool judge_ground(const StopPlaceRecord& r, LoadingPlace& p) const {
        const Ground ground = m_setting.in().conditions.ground;
        const bool soaked = ground == Ground::wet || ground == Ground::moist;
        const bool side_way = r.kind == StopPlaceKind::side_way;
        const SurfaceClass surface = side_way ? m_setting.surface(graph().arc_of(p.at.edge, false))
                                     : has(r, stop_flag::soft_ground) ? SurfaceClass::gravel
                                                                      : SurfaceClass::hard;
        if (surface == SurfaceClass::earth) {
            p.reason += ", earth";
            p.cautions.emplace_back("Earth under the low-bed: try how firm it is before it drives in");
            return !soaked;
        }
        p.score += firm_score;
        p.reason += side_way && surface == SurfaceClass::gravel ? ", gravel"
                    : surface == SurfaceClass::gravel           ? ", gravel or earth ground"
                                                                : ", firm ground";
        if (surface == SurfaceClass::gravel && soaked)
            p.cautions.emplace_back("Wet gravel: look how firm it is under the ramp");
        return true;
    }

    // False where it is too steep.
    bool judge_level(LoadingPlace& p) const {
        const auto grade = grade_pct(p.at.edge, p.at.offset_dm);
        if (!grade) {
            p.cautions.emplace_back("How level it is, the map does not tell: look");
            return true;
        }
        if (std::abs(*grade) > steep_pct)
            return false;
        if (std::abs(*grade) <= level_pct)
            p.score += level_score;
        p.reason +=
            std::abs(*grade) <= level_pct ? ", level" : fmt::format(", {:.0f} % slope", std::abs(*grade));
        return true;
    }

    void add_mapped(const StopPlaceRecord& r) {
        const Kind kind = kind_of(r.kind);
        const EdgeId edge{r.edge};
        if (!has_room_to_load(r, m_room) || (m_school && has(r, stop_flag::near_school)) ||
            !open_to_both(edge))
            return;
        const bool side_way = r.kind == StopPlaceKind::side_way;
        LoadingPlace p;
        p.point = {r.lat_e7, r.lon_e7};
        p.at = road_point(edge, r.offset_dm, p.point);
        const std::string_view own = m_setting.region().string(r.name);
        p.name = own.empty() ? std::string(kind.words) : fmt::format("{} \"{}\"", kind.words, own);
        if (side_way)
            name_side_way(p);
        p.reason = kind.words;
        p.score = kind.score;
        if (!judge_ground(r, p) || !judge_level(p))
            return;
        if (!side_way && p.at.off_road.metres() >= off_road_m) {
            p.score += off_road_score;
            p.reason +=
                fmt::format(", {} off the road", m_setting.words().short_length(p.at.off_road.metres()));
        }
        p.reason += fmt::format(", {}", kind.room);
        add_cautions(r, p);
        if (p.score >= least_score)
            m_out.push_back(std::move(p));
    }

    void name_side_way(LoadingPlace& p) const {
        const std::string way = m_setting.road_name(graph().arc_of(p.at.edge, false));
        if (!way.empty())
            p.name = fmt::format("mouth of {}", way);
    }

    void add_cautions(const StopPlaceRecord& r, LoadingPlace& p) const {
        if (has(r, stop_flag::dead_end)) {
            p.score += dead_end_score;
            p.reason += ", no way through: backed in or out";
            p.cautions.emplace_back("No way through for the low-bed: somebody has to see it back");
        }
        if (has(r, stop_flag::ask_permission)) {
            p.score += ask_score;
            p.reason += ", ask first";
            p.cautions.emplace_back("Private or business ground: ask before you load there");
        }
        if (has(r, stop_flag::near_school))
            p.cautions.push_back(school_caution(m_setting));
    }

    void add_all_named() {
        for (const NamedPoint& p : m_setting.in().loading_places)
            add_named(p.point, p.name, "named for this move", std::nullopt);
        add_corrections();
    }

    // Who names a place has looked at it; it must only be on roads that both may use.
    void add_named(GeoPoint point, const std::string& name, std::string_view by,
                   std::optional<std::size_t> correction) {
        const auto at = snap(m_loaded, point, named_reach);
        if (!at || !open_to_both(at->edge)) {
            m_left_out.push_back(
                fmt::format("loading place {} is left out: {}", name,
                            at ? "machine and low-bed cannot both use the road beside it"
                               : fmt::format("no road that carries the loaded low-bed comes within {} of it",
                                             m_setting.words().short_length(named_reach.metres()))));
            return;
        }
        LoadingPlace p;
        p.at = *at;
        p.point = point;
        p.name = name;
        p.reason = fmt::format("{}", by);
        p.score = named_score;
        p.correction = correction;
        m_out.push_back(std::move(p));
    }

    void add_corrections() {
        const CorrectedRegion* corrected = m_setting.in().corrections;
        if (corrected == nullptr)
            return;
        for (std::size_t i = 0; i < corrected->corrections().size(); ++i) {
            const Correction& c = corrected->corrections()[i];
            if (c.kind == CorrectionKind::loading && corrected->in_force(i))
                add_named(c.line.front(), c.value.empty() ? "loading place" : c.value,
                          fmt::format("named in correction {}", c.id), i);
        }
    }

    const Setting& m_setting;
    const VehicleRoads &m_driven, &m_loaded, &m_empty;
    Length m_room;
    bool m_school;
    std::vector<LoadingPlace> m_out;
    std::vector<std::string> m_left_out;
};

}  // namespace

bool has_room_to_load(const StopPlaceRecord& place, Length room) {
    if (place.kind == StopPlaceKind::side_way)
        return place.usable_dm >= static_cast<std::uint32_t>(room.metres() * 10);
    return kind_of(place.kind).score != 0;
}

Length room_to_load(const Setting& setting) {
    const LowBed& bed = setting.in().low_bed;
    return bed.length + bed.ramp.length + setting.state().length;
}

std::vector<LoadingPlace> find_loading_places(const Setting& setting, const VehicleRoads& driven,
                                              const Hauling& hauling) {
    return LoadingPlaceFinder(setting, driven, hauling).find();
}

std::vector<std::string> named_places_left_out(const Setting& setting, const VehicleRoads& driven,
                                               const Hauling& hauling) {
    return LoadingPlaceFinder(setting, driven, hauling).left_out();
}

}  // namespace loamway
