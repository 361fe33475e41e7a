// SPDX-License-Identifier: Apache-2.0
// Heights of roads from heights of the ground: drawn roads over ground given by a formula.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "../../src/build/road_heights.h"
#include "loamway/base/error.h"
#include "support/test_random.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

constexpr double lat0 = 53.5, lon0 = 13.2;
constexpr double metre_north = 1.0 / 111'290.0;  // in degrees, at this latitude
const float nothing = std::nanf("");

using Ground = std::function<double(double north_m, double east_m)>;

Elevation over(const Ground& ground) {
    return {[ground](std::span<const GeoPoint> points, std::span<float> metres) {
                for (std::size_t i = 0; i < points.size(); ++i)
                    metres[i] = static_cast<float>(ground(
                        (points[i].lat() - lat0) / metre_north,
                        (points[i].lon() - lon0) / metre_north * std::cos(lat0 * std::numbers::pi / 180)));
            },
            "ground.tif"};
}

NodeId node_at(TinyMap& m, double north_m) {
    return m.node(lat0 + north_m * metre_north, lon0);
}

struct Heights {
    RegionData data;
    std::vector<BuildCount> counts;
    [[nodiscard]] std::vector<std::int32_t> profile(EdgeId e) const { return data.view().edge_heights_dm(e); }
    [[nodiscard]] const EdgeClimbRecord& climb(EdgeId e) const { return data.edge_climb[e.index()]; }
    [[nodiscard]] std::int64_t count(const std::string& part) const {
        for (const BuildCount& c : counts)
            if (c.what.find(part) != std::string::npos)
                return c.count;
        return 0;
    }
};

Heights heights_of(const TinyMap& m, const Ground& ground) {
    Heights h{m.build(), {}};
    BuildCounts counts;
    add_heights(h.data, over(ground), counts);
    h.counts = counts.take();
    static_cast<void>(Region::from_data(h.data));  // throws when it does not hold together
    return h;
}

TEST(RoadHeights, SlopeIsTakenAsItIs) {
    TinyMap m;
    const NodeId a = node_at(m, 0), b = node_at(m, 3000);
    const EdgeId up = m.edge(a, b), down = m.edge(b, a);
    const Heights h = heights_of(m, [](double north, double) { return 20 + 0.05 * north; });
    const auto profile = h.profile(up);
    ASSERT_EQ(profile.size(), height_pieces(m.length_dm(up)) + 1u);
    for (std::size_t i = 3; i + 3 < profile.size(); ++i)
        EXPECT_NEAR(profile[i],
                    200 + 1500.0 * static_cast<double>(i) / static_cast<double>(profile.size() - 1), 2)
            << i;
    EXPECT_NEAR(h.climb(up).ascent_dm, 1500, 60);  // its ends are evened out
    EXPECT_EQ(h.climb(up).descent_dm, 0u);
    EXPECT_EQ(h.climb(down).descent_dm, h.climb(up).ascent_dm);
    EXPECT_EQ(h.data.meta.elevation, "ground.tif");
    EXPECT_TRUE(h.counts.empty());
}

/// What is left of a wave of the ground, as a share of its height.
double kept(double wave_m) {
    TinyMap m;
    const EdgeId e = m.edge(node_at(m, 0), node_at(m, 12000));
    const Heights h = heights_of(m, [wave_m](double north, double) {
        return 100 + 50 * std::sin(2 * std::numbers::pi * north / wave_m);
    });
    const auto profile = h.profile(e);
    std::int32_t high = -10000, low = 10000;
    for (std::size_t i = profile.size() / 4; i < profile.size() * 3 / 4; ++i) {
        high = std::max(high, profile[i]);
        low = std::min(low, profile[i]);
    }
    return (high - low) / 1000.0;
}

TEST(RoadHeights, HillsStayAndBumpsGo) {
    EXPECT_NEAR(kept(4000), 1.0, 0.01);
    EXPECT_NEAR(kept(1000), 0.98, 0.02);
    EXPECT_NEAR(kept(300), 0.66, 0.06);
    EXPECT_LT(kept(110), 0.3);
}

TEST(RoadHeights, NoiseOfTheElevationIsNoClimb) {
    TinyMap m;
    std::vector<EdgeId> road;
    NodeId before = node_at(m, 0);
    for (int i = 1; i <= 40; ++i) {
        const NodeId next = node_at(m, i * 250.0);
        road.push_back(m.edge(before, next));
        before = next;
    }
    TestRandom random(3);
    const Heights h = heights_of(
        m, [&random](double, double) { return 50 + (random.below(2001) - 1000.0) / 500.0; });  // +- 2 m
    std::uint32_t climb_dm = 0, raw_dm = 0;
    for (const EdgeId e : road)
        climb_dm += h.climb(e).ascent_dm;
    raw_dm = 200 * 13 / 2;  // 200 steps of 1.3 m in the mean, half of them up
    EXPECT_LT(climb_dm, raw_dm / 3);
}

TEST(RoadHeights, RoadsMeetAtOneHeight) {
    TinyMap m;
    std::vector<NodeId> nodes;
    for (int i = 0; i < 36; ++i)
        nodes.push_back(m.node(lat0 + 137 * (i / 6) * metre_north, lon0 + 211 * (i % 6) * metre_north));
    std::vector<std::pair<NodeId, NodeId>> ends;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (i % 6 < 5)
            ends.emplace_back(nodes[i], nodes[i + 1]);
        if (i + 6 < nodes.size())
            ends.emplace_back(nodes[i], nodes[i + 6]);
    }
    for (const auto& [a, b] : ends)
        m.edge(a, b);
    const Heights h = heights_of(
        m, [](double north, double east) { return 300 + 20 * std::sin(north / 90) * std::cos(east / 70); });
    std::map<std::uint32_t, std::int32_t> height;
    for (std::size_t e = 0; e < ends.size(); ++e) {
        const auto profile = h.profile(EdgeId(e));
        EXPECT_EQ(height.try_emplace(ends[e].first.value(), profile.front()).first->second, profile.front());
        EXPECT_EQ(height.try_emplace(ends[e].second.value(), profile.back()).first->second, profile.back());
    }
}

/// A road in a thousand pieces of 2 m is the same road.
TEST(RoadHeights, ShortPiecesChangeNothing) {
    const Ground hills = [](double north, double) { return 80 + 25 * std::sin(north / 150); };
    TinyMap whole, cut;
    const EdgeId e = whole.edge(node_at(whole, 0), node_at(whole, 2000));
    std::vector<EdgeId> pieces;
    NodeId before = node_at(cut, 0);
    for (int i = 1; i <= 1000; ++i) {
        const NodeId next = node_at(cut, 2.0 * i);
        pieces.push_back(cut.edge(before, next));
        before = next;
    }
    const Heights one = heights_of(whole, hills), many = heights_of(cut, hills);
    const auto profile = one.profile(e);
    for (std::size_t i = 0; i < profile.size(); ++i)
        EXPECT_NEAR(profile[i],
                    many.profile(pieces[std::min<std::size_t>(999, i * 1000 / (profile.size() - 1))]).front(),
                    13)
            << i;  // of 500
}

TEST(RoadHeights, BridgesAndTunnelsAreStraight) {
    TinyMap m;
    // A valley 40 m deep between 1000 and 1400; the bridge is cut in two. A ridge between 3000 and 3400 with
    // a tunnel.
    const auto ground = [](double north, double) {
        if (north > 1005 && north < 1395)
            return 60.0;
        if (north > 3005 && north < 3395)
            return 190.0;
        return 100.0;
    };
    const std::vector<double> at{0, 1000, 1200, 1400, 3000, 3400, 4400};
    std::vector<NodeId> n;
    for (const double north : at)
        n.push_back(node_at(m, north));
    std::vector<EdgeId> road;
    for (std::size_t i = 0; i + 1 < n.size(); ++i) {
        const bool bridge = i == 1 || i == 2, tunnel = i == 4;
        road.push_back(m.road(n[i], n[i + 1],
                              {.flags = static_cast<std::uint8_t>((bridge ? edge_flag::bridge : 0) |
                                                                  (tunnel ? edge_flag::tunnel : 0))}));
    }
    // Another road across the valley, on the ground.
    const EdgeId below = m.edge(m.node(lat0 + 1200 * metre_north, lon0 - 0.01),
                                m.node(lat0 + 1200 * metre_north, lon0 + 0.01));
    const Heights h = heights_of(m, ground);
    for (const EdgeId e : road)
        for (const std::int32_t dm : h.profile(e))
            EXPECT_EQ(dm, 1000) << e.value();
    EXPECT_EQ(h.profile(below).front(), 600);
    EXPECT_NEAR(static_cast<double>(h.count("bridge and tunnel")), 800, 2);
}

TEST(RoadHeights, SlopingBridgeOfSeveralPieces) {
    TinyMap m;
    const std::vector<double> at{0, 1000, 1100, 1300, 1600, 3000};
    std::vector<NodeId> n;
    for (const double north : at)
        n.push_back(node_at(m, north));
    std::vector<EdgeId> road;
    for (std::size_t i = 0; i + 1 < n.size(); ++i)
        road.push_back(
            m.road(n[i], n[i + 1], {.flags = i >= 1 && i <= 3 ? edge_flag::bridge : std::uint8_t{0}}));
    const Heights h = heights_of(
        m, [](double north, double) { return north > 1005 && north < 1595 ? 0.0 : 100 + north / 100; });
    EXPECT_NEAR(h.profile(road[2]).front(), 1110, 2);
    EXPECT_NEAR(h.profile(road[2]).back(), 1130, 2);
}

TEST(RoadHeights, ShortVoidsAreBridged) {
    TinyMap m;
    const NodeId a = node_at(m, 0), b = node_at(m, 2050), c = node_at(m, 4000);
    const EdgeId ab = m.edge(a, b), bc = m.edge(b, c);
    // The junction at 2050 lies in the void.
    const Heights h = heights_of(
        m, [](double north, double) { return north > 1790 && north < 2310 ? nothing : 100 + 0.02 * north; });
    EXPECT_NEAR(h.profile(ab).back(), 1410, 3);
    EXPECT_NEAR(h.profile(bc).front(), 1410, 3);
    EXPECT_NEAR(static_cast<double>(h.count("across voids")), 600, 120);
    EXPECT_EQ(h.count("taken as flat"), 0);
}

TEST(RoadHeights, LongVoidsAreFlatAndCounted) {
    TinyMap m;
    const NodeId a = node_at(m, 0), b = node_at(m, 3000), c = node_at(m, 6000), d = node_at(m, 9000);
    const EdgeId ab = m.edge(a, b), bc = m.edge(b, c), cd = m.edge(c, d);
    const Heights h = heights_of(
        m, [](double north, double) { return north > 3500 && north < 5200 ? nothing : 100 + 0.02 * north; });
    EXPECT_FALSE(h.profile(ab).empty());
    EXPECT_TRUE(h.profile(bc).empty());
    EXPECT_EQ(h.climb(bc).ascent_dm, 0u);
    EXPECT_FALSE(h.profile(cd).empty());
    EXPECT_NEAR(static_cast<double>(h.count("taken as flat")), 3000, 5);
}

TEST(RoadHeights, BeyondTheRimNothingIsMadeUp) {
    TinyMap m;
    const NodeId a = node_at(m, 0), b = node_at(m, 1000), c = node_at(m, 1300), d = node_at(m, 2000);
    const EdgeId ab = m.edge(a, b), bc = m.edge(b, c), cd = m.edge(c, d);
    const Heights h = heights_of(m, [](double north, double) { return north > 1100 ? nothing : 100.0; });
    EXPECT_FALSE(h.profile(ab).empty());
    EXPECT_TRUE(h.profile(bc).empty());
    EXPECT_TRUE(h.profile(cd).empty());
    EXPECT_NEAR(static_cast<double>(h.count("taken as flat")), 1000, 5);
}

TEST(RoadHeights, ElevationOfSomewhereElseIsAnError) {
    TinyMap m;
    m.edge(node_at(m, 0), node_at(m, 1000));
    RegionData data = m.build();
    BuildCounts counts;
    try {
        add_heights(data, over([](double, double) { return nothing; }), counts);
        ADD_FAILURE();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_TRUE(std::string(e.what()).starts_with("ground.tif: no road of the map has a height"))
            << e.what();
    }
}

TEST(RoadHeights, SmallUpsAndDownsAreNoClimb) {
    TinyMap m;
    const EdgeId small = m.edge(node_at(m, 0), node_at(m, 3000)),
                 large = m.edge(node_at(m, 3000), node_at(m, 6000));
    const Heights h = heights_of(m, [](double north, double) {
        return 100 + (north < 3000 ? 0.4 : 5) * std::sin(2 * std::numbers::pi * north / 1000);
    });
    EXPECT_LE(h.climb(small).ascent_dm, 4u);
    EXPECT_NEAR(h.climb(large).ascent_dm, 300, 25);  // three hills of 10 m
    EXPECT_NEAR(h.climb(large).descent_dm, 300, 25);
}

}  // namespace
}  // namespace loamway
