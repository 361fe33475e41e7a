// SPDX-License-Identifier: Apache-2.0
// A ring becomes segments that meet only at their ends; segments that lie on each other cancel in pairs. What
// is left parts inside from outside, and is walked round face by face.
#include "tile_rings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace loamway {

namespace {

struct Segment {
    TilePoint a, b;  // a < b
    friend auto operator<=>(const Segment&, const Segment&) = default;
};
using Segments = std::vector<Segment>;

std::int64_t cross(TilePoint a, TilePoint b, TilePoint c) {
    return (std::int64_t{b.x} - a.x) * (std::int64_t{c.y} - a.y) -
           (std::int64_t{b.y} - a.y) * (std::int64_t{c.x} - a.x);
}

void add_segment(Segments& to, TilePoint a, TilePoint b) {
    if (a != b)
        to.push_back({std::min(a, b), std::max(a, b)});
}

/// On the segment's line already; strictly between its ends?
bool inside(const Segment& s, TilePoint p) {
    return s.a < p && p < s.b && p.y >= std::min(s.a.y, s.b.y) && p.y <= std::max(s.a.y, s.b.y);
}

bool apart(std::int64_t p, std::int64_t q) {
    return (p < 0 && q > 0) || (p > 0 && q < 0);
}

/// Where each segment has to be cut so that it meets others only at ends.
class Cuts {
public:
    explicit Cuts(const Segments& segments) : m_s(segments), m_cuts(segments.size()) {
        // Sorted by their western ends.
        for (std::size_t i = 0; i < m_s.size(); ++i)
            for (std::size_t j = i + 1; j < m_s.size() && m_s[j].a.x <= m_s[i].b.x; ++j)
                meet(i, j);
    }
    [[nodiscard]] bool any() const { return m_any; }
    [[nodiscard]] Segments applied() {
        Segments out;
        for (std::size_t i = 0; i < m_s.size(); ++i) {
            const Segment& s = m_s[i];
            std::vector<TilePoint>& cuts = m_cuts[i];
            const auto along = [&s](TilePoint p) {
                return (std::int64_t{p.x} - s.a.x) * (std::int64_t{s.b.x} - s.a.x) +
                       (std::int64_t{p.y} - s.a.y) * (std::int64_t{s.b.y} - s.a.y);
            };
            std::sort(cuts.begin(), cuts.end(), [&along](TilePoint p, TilePoint q) {
                return std::pair(along(p), p) < std::pair(along(q), q);
            });
            TilePoint last = s.a;
            for (const TilePoint p : cuts) {
                add_segment(out, last, p);
                last = p;
            }
            add_segment(out, last, s.b);
        }
        return out;
    }

private:
    void cut(std::size_t i, TilePoint p) {
        if (p == m_s[i].a || p == m_s[i].b)
            return;
        m_cuts[i].push_back(p);
        m_any = true;
    }
    void meet(std::size_t i, std::size_t j) {
        const Segment &s = m_s[i], &t = m_s[j];
        if (std::max(s.a.y, s.b.y) < std::min(t.a.y, t.b.y) ||
            std::max(t.a.y, t.b.y) < std::min(s.a.y, s.b.y))
            return;
        const std::int64_t ta = cross(s.a, s.b, t.a), tb = cross(s.a, s.b, t.b);
        const std::int64_t sa = cross(t.a, t.b, s.a), sb = cross(t.a, t.b, s.b);
        if (ta == 0 && inside(s, t.a))
            cut(i, t.a);
        if (tb == 0 && inside(s, t.b))
            cut(i, t.b);
        if (sa == 0 && inside(t, s.a))
            cut(j, s.a);
        if (sb == 0 && inside(t, s.b))
            cut(j, s.b);
        if (apart(ta, tb) && apart(sa, sb)) {
            const double share = static_cast<double>(sa) / static_cast<double>(sa - sb);
            const TilePoint p = rounded({s.a.x + share * (s.b.x - s.a.x), s.a.y + share * (s.b.y - s.a.y)});
            cut(i, p);
            cut(j, p);
        }
    }

    const Segments& m_s;
    std::vector<std::vector<TilePoint>> m_cuts;
    bool m_any = false;
};

/// Sorted; of equal segments one stays when their number is odd.
bool cancel_pairs(Segments& segments) {
    std::sort(segments.begin(), segments.end());
    Segments out;
    for (const Segment& s : segments)
        if (!out.empty() && out.back() == s)
            out.pop_back();
        else
            out.push_back(s);
    const bool changed = out.size() != segments.size();
    segments = std::move(out);
    return changed;
}

/// Cuts until nothing crosses: rounded crossings can make new ones, seldom more than twice.
bool untangle(Segments& segments, bool& changed) {
    constexpr int most_rounds = 24;
    for (int round = 0; round < most_rounds; ++round) {
        changed = cancel_pairs(segments) || changed;
        Cuts cuts(segments);
        if (!cuts.any())
            return true;
        changed = true;
        segments = cuts.applied();
    }
    return false;
}

/// Walks round the faces that lie inside, each to the left of the walk (y taken upwards).
class Faces {
public:
    explicit Faces(const Segments& segments) : m_s(segments) {
        for (std::size_t k = 0; k < m_s.size(); ++k) {
            m_out[m_s[k].a].push_back(2 * k);
            m_out[m_s[k].b].push_back(2 * k + 1);
        }
        for (auto& [point, out] : m_out)
            std::sort(out.begin(), out.end(), [this](std::size_t p, std::size_t q) { return before(p, q); });
    }
    [[nodiscard]] std::vector<TileLine> rings() const {
        std::vector<TileLine> out;
        std::vector<bool> walked(2 * m_s.size(), false);
        for (std::size_t first = 0; first < walked.size(); ++first) {
            if (walked[first])
                continue;
            TileLine ring;
            std::size_t slanted = first;
            for (std::size_t h = first; !walked[h]; h = next(h)) {
                walked[h] = true;
                ring.push_back(from(h));
                if (from(h).x != to(h).x)
                    slanted = h;
            }
            if (left_is_inside(slanted))
                split(ring, out);
        }
        return out;
    }

private:
    [[nodiscard]] TilePoint from(std::size_t h) const { return h % 2 == 0 ? m_s[h / 2].a : m_s[h / 2].b; }
    [[nodiscard]] TilePoint to(std::size_t h) const { return from(h ^ 1); }
    /// By angle, from the x axis on.
    [[nodiscard]] bool before(std::size_t p, std::size_t q) const {
        const auto lower = [this](std::size_t h) {
            return to(h).y < from(h).y || (to(h).y == from(h).y && to(h).x < from(h).x);
        };
        if (lower(p) != lower(q))
            return lower(q);
        return cross(from(p), to(p), to(q)) > 0;
    }
    [[nodiscard]] std::size_t next(std::size_t h) const {
        const std::vector<std::size_t>& out = m_out.at(to(h));
        const auto back = static_cast<std::size_t>(std::find(out.begin(), out.end(), h ^ 1) - out.begin());
        return out[(back + out.size() - 1) % out.size()];
    }
    /// Counts the segments above the middle of a segment that is not upright.
    [[nodiscard]] bool left_is_inside(std::size_t h) const {
        const Segment& own = m_s[h / 2];
        const std::int64_t x = std::int64_t{own.a.x} + own.b.x,
                           y = std::int64_t{own.a.y} + own.b.y;  // doubled
        bool odd = false;
        for (const Segment& s : m_s) {
            if (x < 2 * s.a.x || x >= 2 * s.b.x || s == own)
                continue;
            // The segment's height at x against y, both times the segment's width.
            const std::int64_t width = std::int64_t{s.b.x} - s.a.x;
            const std::int64_t height = 2 * s.a.y * width + (x - 2 * s.a.x) * (std::int64_t{s.b.y} - s.a.y);
            if (height > y * width)
                odd = !odd;
        }
        const bool left_is_above = h % 2 == 0;
        return left_is_above ? odd : !odd;
    }
    /// A walk that comes to a point twice is several rings.
    static void split(const TileLine& walk, std::vector<TileLine>& out) {
        TileLine open;
        std::map<TilePoint, std::size_t> place;
        for (const TilePoint p : walk) {
            const auto [at, is_new] = place.try_emplace(p, open.size());
            if (is_new) {
                open.push_back(p);
                continue;
            }
            TileLine loop(open.begin() + static_cast<std::ptrdiff_t>(at->second), open.end());
            for (std::size_t i = 1; i < loop.size(); ++i)
                place.erase(loop[i]);
            open.resize(at->second + 1);
            out.push_back(std::move(loop));
        }
        out.push_back(std::move(open));
    }

    const Segments& m_s;
    std::map<TilePoint, std::vector<std::size_t>> m_out;
};

/// Whether the middle of the hole's first side lies in the ring; it lies on none.
bool holds(const TileLine& ring, const TileLine& hole) {
    const std::int64_t x = std::int64_t{hole[0].x} + hole[1].x, y = std::int64_t{hole[0].y} + hole[1].y;
    bool odd = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const TilePoint p = ring[i], q = ring[(i + 1) % ring.size()];
        const TilePoint a = std::min(p, q), b = std::max(p, q);
        if (x < 2 * a.x || x >= 2 * b.x)
            continue;
        const std::int64_t width = std::int64_t{b.x} - a.x;
        if (2 * a.y * width + (x - 2 * a.x) * (std::int64_t{b.y} - a.y) > y * width)
            odd = !odd;
    }
    return odd;
}

std::vector<TilePolygon> assembled(std::vector<TileLine> rings) {
    std::vector<TilePolygon> out;
    for (TileLine& ring : rings)
        if (ring.size() >= 3 && twice_area(ring) > 0)
            out.push_back({std::move(ring), {}});
    for (TileLine& ring : rings) {
        if (ring.size() < 3 || twice_area(ring) >= 0)
            continue;
        TilePolygon* least = nullptr;
        for (TilePolygon& p : out)
            if (holds(p.outer, ring) && (least == nullptr || twice_area(p.outer) < twice_area(least->outer)))
                least = &p;
        if (least != nullptr)
            least->holes.push_back(std::move(ring));
    }
    return out;
}

bool comes_twice_to_a_point(TileLine points) {
    std::sort(points.begin(), points.end());
    return std::adjacent_find(points.begin(), points.end()) != points.end();
}

}  // namespace

std::int64_t twice_area(const TileLine& ring) {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const TilePoint p = ring[i], q = ring[(i + 1) % ring.size()];
        sum += std::int64_t{p.x} * q.y - std::int64_t{q.x} * p.y;
    }
    return sum;
}

std::vector<TilePolygon> valid_polygons(TileLine ring) {
    if (ring.size() < 3)
        return {};
    Segments segments;
    for (std::size_t i = 0; i < ring.size(); ++i)
        add_segment(segments, ring[i], ring[(i + 1) % ring.size()]);
    bool changed = false;
    if (!untangle(segments, changed))
        return {};
    if (!changed && !comes_twice_to_a_point(ring)) {
        if (twice_area(ring) < 0)
            std::reverse(ring.begin(), ring.end());
        return {{std::move(ring), {}}};
    }
    return assembled(Faces(segments).rings());
}

}  // namespace loamway
