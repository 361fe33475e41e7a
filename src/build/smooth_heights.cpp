// SPDX-License-Identifier: Apache-2.0
// A smooth surface over the network of roads: the heights x that solve (M + s^2 K) x = M h, where M is the
// road each height stands for and K lets heights that follow each other along a road pull at each other.
// Along a straight road that is a window that falls to 1/e within s on both sides. Done twice, the second
// time for what the first took away, it leaves hills alone: with a = (2 pi s / wave)^2 a wave keeps (1 + 2 a)
// / (1 + a)^2 of its height (a little more when it is hardly longer than two pieces). Solved by conjugate
// gradients for the change x - h.
#include <algorithm>
#include <cmath>

#include "road_heights.h"

namespace loamway {
namespace {

constexpr double reach_m = 60;       // s (assumption: roads are laid out over some hundred metres)
constexpr double least_piece_m = 1;  // keeps very short edges solvable
constexpr double good_enough_m = 0.02;
constexpr int most_rounds = 500;

using Values = std::vector<float>;  // beside RoadHeights::metres

double dot(const Values& a, const Values& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        sum += double{a[i]} * b[i];
    return sum;
}

/// a += f b.
void add(Values& a, double f, const Values& b) {
    for (std::size_t i = 0; i < a.size(); ++i)
        a[i] = static_cast<float>(a[i] + f * b[i]);
}

class Smoother {
public:
    Smoother(const RegionData& region, const RoadHeights& heights)
        : m_region(region), m_heights(heights), m_mass(heights.metres.size(), 0.0f), m_diagonal(m_mass) {
        for_each_piece([this](std::size_t a, std::size_t b, float length, float pull) {
            for (const std::size_t i : {a, b}) {
                m_mass[i] += length / 2;
                m_diagonal[i] += length / 2 + pull;
            }
        });
    }

    /// The solution of (M + s^2 K) x = M h.
    [[nodiscard]] Values smooth(const Values& h) const {
        Values change(h.size(), 0.0f), left(h.size(), 0.0f);
        pull_together(h, left);
        for (float& v : left)
            v = -v;
        Values next = preconditioned(left), direction = next, image;
        double energy = dot(left, next);
        for (int round = 0; round < most_rounds && error_at_most(left) >= good_enough_m; ++round) {
            image = m_mass;
            for (std::size_t i = 0; i < image.size(); ++i)
                image[i] *= direction[i];
            pull_together(direction, image);
            const double step = energy / dot(direction, image);
            add(change, step, direction);
            add(left, -step, image);
            next = preconditioned(left);
            const double energy_now = dot(left, next);
            for (std::size_t i = 0; i < direction.size(); ++i)
                direction[i] = static_cast<float>(next[i] + energy_now / energy * direction[i]);
            energy = energy_now;
        }
        add(change, 1.0, h);
        return change;
    }

private:
    /// Calls f(from, to, metres, pull) for every two heights that follow each other along a road.
    template <class F>
    void for_each_piece(F f) const {
        for (std::size_t e = 0; e < m_region.edges.size(); ++e) {
            if (!m_heights.known[e])
                continue;
            const EdgeRecord& edge = m_region.edges[e];
            const double length =
                std::max(least_piece_m, edge.length_dm * 0.1 / height_pieces(edge.length_dm));
            const auto piece = static_cast<float>(length),
                       pull = static_cast<float>(reach_m * reach_m / length);
            std::size_t before = edge.tail;
            for (std::size_t i = m_heights.inner_first[e]; i < m_heights.inner_first[e + 1]; before = i++)
                f(before, i, piece, pull);
            f(before, std::size_t{edge.head}, piece, pull);
        }
    }

    /// out += s^2 K v.
    void pull_together(const Values& v, Values& out) const {
        for_each_piece([&v, &out](std::size_t a, std::size_t b, float, float pull) {
            const float flow = pull * (v[a] - v[b]);
            out[a] += flow;
            out[b] -= flow;
        });
    }

    [[nodiscard]] Values preconditioned(const Values& left) const {
        Values out(left.size(), 0.0f);
        for (std::size_t i = 0; i < out.size(); ++i)
            if (m_diagonal[i] > 0)
                out[i] = left[i] / m_diagonal[i];
        return out;
    }
    /// K pulls every height towards its neighbours, so no height is further off than the largest force left
    /// over the road it acts on.
    [[nodiscard]] double error_at_most(const Values& left) const {
        float most = 0;
        for (std::size_t i = 0; i < left.size(); ++i)
            if (m_mass[i] > 0)
                most = std::max(most, std::abs(left[i]) / m_mass[i]);
        return double{most};
    }

    const RegionData& m_region;
    const RoadHeights& m_heights;
    Values m_mass, m_diagonal;  // 0 where no road has known heights
};

}  // namespace

void smooth_heights(const RegionData& region, RoadHeights& heights) {
    // A single void would spread through every sum; heights of no known road stay out of it.
    Values h = heights.metres;
    for (float& v : h)
        v = std::isnan(v) ? 0.0f : v;
    const Smoother smoother(region, heights);
    const Values once = smoother.smooth(h);
    Values lost = h;
    add(lost, -1.0, once);
    heights.metres = smoother.smooth(lost);
    add(heights.metres, 1.0, once);
}

}  // namespace loamway
