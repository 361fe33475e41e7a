// SPDX-License-Identifier: Apache-2.0
#include "draft.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>

namespace loamway {

namespace {

constexpr double snap_metres = 4.0;

double cross(Spot a, Spot b) {
    return a.x * b.y - a.y * b.x;
}
Spot minus(Spot a, Spot b) {
    return {a.x - b.x, a.y - b.y};
}

}  // namespace

double distance(Spot a, Spot b) {
    const double dx = a.x - b.x;
    const double dy = a.y - b.y;
    return std::sqrt(dx * dx + dy * dy);
}

Spot offset(Spot a, Spot b, double along, double left) {
    const double d = distance(a, b);
    const double ux = (b.x - a.x) / d;
    const double uy = (b.y - a.y) / d;
    return {a.x + ux * along - uy * left, a.y + uy * along + ux * left};
}

std::vector<Spot> smooth(std::vector<Spot> points, int times) {
    for (int i = 0; i < times; ++i) {
        std::vector<Spot> next{points.front()};
        for (std::size_t k = 0; k + 1 < points.size(); ++k) {
            const Spot a = points[k];
            const Spot b = points[k + 1];
            next.push_back({0.75 * a.x + 0.25 * b.x, 0.75 * a.y + 0.25 * b.y});
            next.push_back({0.25 * a.x + 0.75 * b.x, 0.25 * a.y + 0.75 * b.y});
        }
        next.push_back(points.back());
        points = std::move(next);
    }
    return points;
}

std::pair<double, double> to_segment(Spot p, Spot a, Spot b) {
    const Spot along = minus(b, a);
    const double squared = along.x * along.x + along.y * along.y;
    const Spot from_a = minus(p, a);
    double t = squared > 0.0 ? (from_a.x * along.x + from_a.y * along.y) / squared : 0.0;
    t = std::clamp(t, 0.0, 1.0);
    return {distance(p, {a.x + t * along.x, a.y + t * along.y}), t};
}

std::optional<double> segment_crossing(Spot a, Spot b, Spot c, Spot d) {
    const Spot along = minus(b, a);
    const Spot other = minus(d, c);
    const double denominator = cross(along, other);
    if (denominator == 0.0) {
        return std::nullopt;
    }
    const double t = cross(minus(c, a), other) / denominator;
    const double u = cross(minus(c, a), along) / denominator;
    if (t <= 0.0 || t >= 1.0 || u <= 0.0 || u >= 1.0) {
        return std::nullopt;
    }
    return t;
}

std::string tag_of(const TagList& tags, std::string_view key) {
    for (const auto& [k, v] : tags) {
        if (k == key) {
            return v;
        }
    }
    return {};
}

void set_tag(TagList& tags, std::string_view key, std::string_view value) {
    for (auto& [k, v] : tags) {
        if (k == key) {
            v = value;
            return;
        }
    }
    tags.emplace_back(key, value);
}

VertexId Draft::vertex(Spot spot) {
    const auto x = static_cast<std::int32_t>(std::lround(spot.x * 100.0));
    const auto y = static_cast<std::int32_t>(std::lround(spot.y * 100.0));
    const std::uint64_t key =
        (std::uint64_t{static_cast<std::uint32_t>(x)} << 32U) | static_cast<std::uint32_t>(y);
    const auto [place, added] = m_index.try_emplace(key, static_cast<VertexId>(m_spots.size()));
    if (added) {
        m_spots.push_back({x / 100.0, y / 100.0});
    }
    return place->second;
}

void Draft::tag_vertex(VertexId v, std::string_view key, std::string_view value) {
    set_tag(m_tags[v], key, value);
}

const TagList* Draft::vertex_tags(VertexId v) const {
    const auto found = m_tags.find(v);
    return found == m_tags.end() ? nullptr : &found->second;
}

LineId Draft::add_line(std::vector<VertexId> path, TagList tags, LineKind kind, std::string course) {
    path.erase(std::unique(path.begin(), path.end()), path.end());
    if (path.size() < 2) {
        throw std::logic_error("a line of the demo map needs two vertices: " + course);
    }
    m_lines.push_back({std::move(path), std::move(tags), kind, kind != LineKind::other, std::move(course)});
    return line_count() - 1;
}

LineId Draft::add_line(const std::vector<Spot>& spots, TagList tags, LineKind kind, std::string course) {
    std::vector<VertexId> path;
    path.reserve(spots.size());
    for (const Spot spot : spots) {
        path.push_back(vertex(spot));
    }
    return add_line(std::move(path), std::move(tags), kind, std::move(course));
}

LineId Draft::add_area(const std::vector<Spot>& corners, TagList tags) {
    std::vector<Spot> ring = corners;
    ring.push_back(corners.front());
    return add_line(ring, std::move(tags), LineKind::other, "area");
}

double Draft::length(LineId id) const {
    return position_of(id, m_lines[id].path.back());
}

double Draft::position_of(LineId id, VertexId v) const {
    const auto& path = m_lines[id].path;
    double metres = 0.0;
    for (std::size_t k = 0; k < path.size(); ++k) {
        if (k > 0) {
            metres += distance(at(path[k - 1]), at(path[k]));
        }
        // The end of a closed line is its last vertex, not the first.
        if (path[k] == v && (k > 0 || path.front() != path.back())) {
            return metres;
        }
    }
    throw std::logic_error("the vertex is not on the line");
}

Spot Draft::spot_at(LineId id, double metres) const {
    const auto& path = m_lines[id].path;
    for (std::size_t k = 0; k + 1 < path.size(); ++k) {
        const double step = distance(at(path[k]), at(path[k + 1]));
        if (metres <= step) {
            return offset(at(path[k]), at(path[k + 1]), metres, 0.0);
        }
        metres -= step;
    }
    return at(path.back());
}

VertexId Draft::insert_at(LineId id, double metres) {
    auto& path = m_lines[id].path;
    double before = 0.0;
    for (std::size_t k = 0; k + 1 < path.size(); ++k) {
        const Spot a = at(path[k]);
        const Spot b = at(path[k + 1]);
        const double step = distance(a, b);
        if (metres <= before + snap_metres) {
            return path[k];
        }
        if (metres < before + step - snap_metres) {
            const VertexId v = vertex(offset(a, b, metres - before, 0.0));
            path.insert(path.begin() + static_cast<std::ptrdiff_t>(k) + 1, v);
            return v;
        }
        before += step;
    }
    return path.back();
}

LineId Draft::split(LineId id, VertexId v) {
    auto& path = m_lines[id].path;
    const auto found = std::find(path.begin(), path.end(), v);
    if (found == path.end()) {
        throw std::logic_error("cannot split a line at a vertex it does not have");
    }
    if (found == path.begin() || found + 1 == path.end()) {
        return id;
    }
    DraftLine rest = m_lines[id];
    rest.path.assign(found, path.end());
    path.erase(found + 1, path.end());
    m_lines.push_back(std::move(rest));
    return line_count() - 1;
}

LineId Draft::isolate(LineId id, double from, double to) {
    const VertexId first = insert_at(id, from);
    const VertexId last = insert_at(id, to);
    if (first == last) {
        throw std::logic_error("nothing lies between the two positions");
    }
    split(id, last);
    return split(id, first);
}

std::vector<double> Draft::crossings(LineId id, LineId other) const {
    std::vector<double> result;
    const auto& path = m_lines[id].path;
    const auto& across = m_lines[other].path;
    double before = 0.0;
    for (std::size_t k = 0; k + 1 < path.size(); ++k) {
        const Spot a = at(path[k]);
        const Spot b = at(path[k + 1]);
        for (std::size_t n = 0; n + 1 < across.size(); ++n) {
            if (const auto t = segment_crossing(a, b, at(across[n]), at(across[n + 1]))) {
                result.push_back(before + *t * distance(a, b));
            }
        }
        before += distance(a, b);
    }
    std::sort(result.begin(), result.end());
    return result;
}

std::vector<Draft::Segment> Draft::ground_segments() const {
    std::vector<Segment> segments;
    for (LineId id = 0; id < line_count(); ++id) {
        const DraftLine& l = m_lines[id];
        for (std::size_t k = 0; l.on_ground && k + 1 < l.path.size(); ++k) {
            segments.push_back({id, k, l.path[k], l.path[k + 1], at(l.path[k]), at(l.path[k + 1])});
        }
    }
    std::sort(segments.begin(), segments.end(), [](const Segment& a, const Segment& b) {
        return std::make_tuple(a.west(), a.line, a.index) < std::make_tuple(b.west(), b.line, b.index);
    });
    return segments;
}

std::optional<VertexId> Draft::meeting(const Segment& one, const Segment& other) {
    if (one.start == other.start || one.start == other.end || one.end == other.start ||
        one.end == other.end) {
        return std::nullopt;
    }
    const auto t = segment_crossing(one.a, one.b, other.a, other.b);
    if (!t) {
        return std::nullopt;
    }
    const Spot meet{one.a.x + *t * (one.b.x - one.a.x), one.a.y + *t * (one.b.y - one.a.y)};
    // A crossing close to an end of either segment uses that end, or tiny pieces of road would result.
    for (const VertexId end : {one.start, one.end, other.start, other.end}) {
        if (distance(at(end), meet) < snap_metres) {
            return end;
        }
    }
    return vertex(meet);
}

void Draft::join_crossings() {
    const std::vector<Segment> segments = ground_segments();
    // Per line: position as (segment index + how far along it), and the vertex to put there.
    Insertions found;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        const Segment& s = segments[i];
        for (std::size_t n = i + 1; n < segments.size() && segments[n].west() <= s.east(); ++n) {
            const Segment& o = segments[n];
            if (o.line == s.line || o.north() < s.south() || o.south() > s.north()) {
                continue;
            }
            if (const auto v = meeting(s, o)) {
                found[s.line].emplace_back(static_cast<double>(s.index) + to_segment(at(*v), s.a, s.b).second,
                                           *v);
                found[o.line].emplace_back(static_cast<double>(o.index) + to_segment(at(*v), o.a, o.b).second,
                                           *v);
            }
        }
    }
    insert_crossings(found);
}

void Draft::insert_crossings(Insertions& found) {
    for (auto& [id, places] : found) {
        std::sort(places.begin(), places.end());
        const std::vector<VertexId> old = std::move(m_lines[id].path);
        std::vector<VertexId> path;
        std::size_t next = 0;
        for (std::size_t k = 0; k < old.size(); ++k) {
            path.push_back(old[k]);
            for (; next < places.size() && places[next].first < static_cast<double>(k) + 1.0; ++next) {
                path.push_back(places[next].second);
            }
        }
        for (; next < places.size(); ++next) {
            path.push_back(places[next].second);
        }
        path.erase(std::unique(path.begin(), path.end()), path.end());
        m_lines[id].path = std::move(path);
    }
}

std::optional<Draft::Near> Draft::nearest(Spot spot, double within, const Filter& filter) const {
    std::optional<Near> best;
    for (LineId id = 0; id < line_count(); ++id) {
        const DraftLine& l = m_lines[id];
        if (l.path.empty() || !filter(l)) {
            continue;
        }
        double before = 0.0;
        for (std::size_t k = 0; k + 1 < l.path.size(); ++k) {
            const Spot a = at(l.path[k]);
            const Spot b = at(l.path[k + 1]);
            const auto [away, t] = to_segment(spot, a, b);
            if (away <= within) {
                within = away;
                best = Near{id, before + t * distance(a, b), away};
            }
            before += distance(a, b);
        }
    }
    return best;
}

std::vector<LineId> Draft::lines_through(VertexId v) const {
    std::vector<LineId> result;
    for (LineId id = 0; id < line_count(); ++id) {
        const auto& path = m_lines[id].path;
        if (std::find(path.begin(), path.end(), v) != path.end()) {
            result.push_back(id);
        }
    }
    return result;
}

}  // namespace loamway
