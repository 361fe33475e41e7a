// SPDX-License-Identifier: Apache-2.0
#include "path.h"

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

// Into and out of a side way at walking pace (assumption).
const Speed walking_pace = Speed::from_kmh(5);

class Layer {
public:
    Layer(const Setting& setting, const SpeedOn& speed, bool slow_start, Path& path)
        : m_setting(setting),
          m_speed(speed),
          m_path(path),
          m_slow_left(slow_start ? setting.in().rates.slow_start : Duration()) {}

    void drive(const RoutePiece& piece, bool spur, Speed limit) {
        const TurnEffect turn = turn_onto(piece, spur);
        m_elsewhere = false;
        m_clock += turn.lost;
        m_path.driving += turn.lost;
        const Speed allowed = std::min(m_speed(piece.arc), limit);
        const Stretch s = stretch(piece.arc, Length::from_decimetres(piece.length_dm()), allowed);
        m_path.pieces.push_back(
            {piece, m_path.length_dm, m_route_dm, spur, m_clock, s.takes, s.fuel, s.fuel_upper, turn});
        const Volume turning = m_setting.in().rates.idle_per_h * turn.lost.hours();
        m_path.fuel += s.fuel + turning;
        m_path.fuel_upper += s.fuel_upper + turning;
        m_path.length_dm += piece.length_dm();
        m_since_dm += piece.length_dm();
        if (!spur)
            m_route_dm += piece.length_dm();
        m_clock += s.takes;
        m_path.driving += s.takes;
    }

    void stand(const ChosenStop& stop, std::size_t number) {
        if (stop.spur)
            drive(*stop.spur, true, walking_pace);
        const bool lubricates = stop.kind == "start" || stop.kind == "relube";
        m_elsewhere = m_elsewhere || stop.kind == "handover";
        const PathStop at{number,     stop.wait, lubricates,          m_path.length_dm,
                          m_since_dm, m_clock,   m_clock + stop.wait, m_path.pieces.size()};
        m_path.stops.push_back(at);
        m_path.stopped += stop.wait;
        m_clock += stop.wait;
        if (lubricates)
            m_since_dm = 0;
        if (stop.spur) {
            const RoadGraph& graph = m_setting.graph();
            const std::uint32_t length = graph.arc(stop.spur->arc).length_dm;
            drive({graph.twin(stop.spur->arc), length - stop.spur->to_dm, length - stop.spur->from_dm}, true,
                  walking_pace);
        }
    }

    void set_since(std::uint64_t dm) { m_since_dm = dm; }
    [[nodiscard]] Duration clock() const { return m_clock; }

private:
    // Out of a side way the machine backs: the time for that is part of the stop.
    [[nodiscard]] TurnEffect turn_onto(const RoutePiece& piece, bool spur) const {
        if (m_path.pieces.empty() || m_elsewhere)
            return {};
        const ArcId before = m_path.pieces.back().piece.arc;
        const bool backs = spur && m_setting.graph().twin(before) == piece.arc;
        return before == piece.arc || backs ? TurnEffect() : m_setting.turns().at(before, piece.arc);
    }

    // The first minutes slowly, the rest of the piece as allowed.
    [[nodiscard]] Stretch stretch(ArcId arc, Length length, Speed allowed) {
        Stretch rest = m_setting.drive(arc, length, allowed);
        if (m_slow_left.seconds() <= 0 || length.metres() <= 0)
            return rest;
        const Speed slow = std::min(allowed, m_setting.in().rates.slow_start_speed);
        Stretch all_slow = m_setting.drive(arc, length, slow);
        const double share = std::min(1.0, m_slow_left / all_slow.takes);
        m_slow_left -= all_slow.takes * share;
        rest.takes = all_slow.takes * share + rest.takes * (1 - share);
        rest.fuel = all_slow.fuel * share + rest.fuel * (1 - share);
        rest.fuel_upper = all_slow.fuel_upper * share + rest.fuel_upper * (1 - share);
        return rest;
    }

    const Setting& m_setting;
    const SpeedOn& m_speed;
    Path& m_path;
    Duration m_clock;
    std::uint64_t m_route_dm = 0;
    std::uint64_t m_since_dm = 0;
    bool m_elsewhere = false;  // hauled since the last piece
    Duration m_slow_left;
};

}  // namespace

Speed spur_speed(const Setting& setting, const VehicleRoads& roads, ArcId spur) {
    return std::min(walking_pace, setting.machine_speed(roads, spur));
}

Path lay_path(const Setting& setting, const Route& route, std::span<const ChosenStop> stops,
              const SpeedOn& speed, bool slow_start) {
    const Speed no_limit = Speed::from_kmh(1000);
    Path path;
    Layer layer(setting, speed, slow_start, path);
    layer.set_since(static_cast<std::uint64_t>(std::llround(setting.in().belts.since_lube.metres() * 10)));
    std::size_t next = 0;
    std::uint64_t at = 0;
    for (RoutePiece piece : route.pieces) {
        while (next < stops.size() && stops[next].route_dm <= at + piece.length_dm()) {
            const std::uint32_t before = static_cast<std::uint32_t>(stops[next].route_dm - at);
            // A stop at the very end of a piece is taken after it, unless it stands beside this arc.
            if (before > 0)
                layer.drive({piece.arc, piece.from_dm, piece.from_dm + before}, false, no_limit);
            piece.from_dm += before;
            at = stops[next].route_dm;
            layer.stand(stops[next], next);
            ++next;
        }
        if (piece.length_dm() > 0 || setting.graph().arc(piece.arc).length_dm == 0)
            layer.drive(piece, false, no_limit);
        at += piece.length_dm();
    }
    path.total = layer.clock();
    return path;
}

void path_geometry(const Setting& setting, const Path& path, std::vector<GeoPoint>& points,
                   std::vector<double>& at_m) {
    const auto add = [&](GeoPoint p, double at) {
        if (!points.empty() && points.back() == p)
            return;
        points.push_back(p);
        at_m.push_back(at);
    };
    for (const PathPiece& pp : path.pieces) {
        const RoutePiece& piece = pp.piece;
        const std::vector<GeoPoint> line = setting.graph().arc_points(piece.arc);
        const double total = polyline_length(line).metres();
        const std::uint32_t arc_dm = setting.graph().arc(piece.arc).length_dm;
        const double scale = total > 0 ? arc_dm / total : 0;  // stored decimetres a metre of line
        add(setting.point_on(piece.arc, piece.from_dm), static_cast<double>(pp.at_dm) / 10.0);
        double along = 0;
        for (std::size_t i = 1; i + 1 < line.size(); ++i) {
            along += distance(line[i - 1], line[i]).metres() * scale;
            if (along > piece.from_dm && along < piece.to_dm)
                add(line[i], (static_cast<double>(pp.at_dm) + along - piece.from_dm) / 10.0);
        }
        add(setting.point_on(piece.arc, piece.to_dm),
            static_cast<double>(pp.at_dm + piece.length_dm()) / 10.0);
    }
}

std::vector<std::array<double, 2>> path_clock(const Path& path) {
    constexpr double same_s = 0.05, same_pace = 1e-3;  // JSON keeps tenths of a second; a share
    std::vector<std::array<double, 2>> clock;
    double pace = 0;  // seconds a metre up to the last point
    for (const PathPiece& p : path.pieces) {
        const double from_m = static_cast<double>(p.at_dm) / 10.0, begins_s = p.begins.seconds();
        const double to_m = static_cast<double>(p.at_dm + p.piece.length_dm()) / 10.0;
        const double length_m = to_m - from_m;
        if (p.piece.length_dm() == 0)
            continue;
        const double own = p.takes.seconds() / length_m;
        const bool goes_on = !clock.empty() && std::abs(begins_s - clock.back()[1]) < same_s;
        if (!goes_on)
            clock.push_back({from_m, begins_s});
        else if (clock.size() > 1 && std::abs(own - pace) <= pace * same_pace)
            clock.pop_back();
        const double ends_s = begins_s + p.takes.seconds();
        clock.push_back({to_m, std::max(ends_s, clock.back()[1])});
        pace = own;
    }
    return clock;
}

std::vector<SurfaceRun> surface_runs(const Setting& setting, const Path& path) {
    std::vector<SurfaceRun> runs;
    for (const PathPiece& p : path.pieces) {
        const SurfaceClass surface = setting.surface(p.piece.arc);
        const bool known = setting.known(p.piece.arc);
        const double to_m = static_cast<double>(p.at_dm + p.piece.length_dm()) / 10.0;
        if (!runs.empty() && runs.back().surface == surface && runs.back().known == known)
            runs.back().to_m = to_m;
        else
            runs.push_back({static_cast<double>(p.at_dm) / 10.0, to_m, surface, known});
    }
    return runs;
}

}  // namespace loamway
