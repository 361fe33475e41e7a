// SPDX-License-Identifier: Apache-2.0
#include "loamway/order/node_order.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <set>

#include "loamway/base/error.h"
#include "support/test_random.h"

// Oracle: taking nodes out one by one with sets, as the definition says.

namespace loamway {
namespace {

struct Arcs {
    std::vector<std::uint32_t> first{0}, head;
};

Arcs arcs_of(std::uint32_t nodes, const std::vector<std::pair<std::uint32_t, std::uint32_t>>& pairs) {
    std::vector<std::vector<std::uint32_t>> at(nodes);
    for (const auto& [from, to] : pairs)
        at[from].push_back(to);
    Arcs arcs;
    for (const auto& heads : at) {
        arcs.head.insert(arcs.head.end(), heads.begin(), heads.end());
        arcs.first.push_back(static_cast<std::uint32_t>(arcs.head.size()));
    }
    return arcs;
}

/// Random arcs, with loops, repeats, isolated nodes and several pieces.
Arcs random_arcs(TestRandom& random, std::uint32_t nodes, std::uint32_t arcs) {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> pairs;
    for (std::uint32_t i = 0; i < arcs; ++i) {
        const std::uint32_t from = random.below(nodes);
        const std::uint32_t near = std::min(nodes - 1, from + random.below(6));
        pairs.emplace_back(from, random.chance(70) ? near : random.below(nodes));
        if (random.chance(10))
            pairs.push_back(pairs.back());
        if (random.chance(5))
            pairs.emplace_back(from, from);
    }
    return arcs_of(nodes, pairs);
}

Arcs grid(std::uint32_t side) {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> pairs;
    for (std::uint32_t r = 0; r < side; ++r)
        for (std::uint32_t c = 0; c < side; ++c) {
            if (c + 1 < side)
                pairs.emplace_back(r * side + c, r * side + c + 1);
            if (r + 1 < side)
                pairs.emplace_back(r * side + c + side, r * side + c);
        }
    return arcs_of(side * side, pairs);
}

std::vector<std::set<std::uint32_t>> joined_by_sets(const Arcs& arcs,
                                                    const std::vector<std::uint32_t>& rank) {
    std::vector<std::set<std::uint32_t>> at(rank.size());
    for (std::uint32_t n = 0; n < rank.size(); ++n)
        for (std::uint32_t i = arcs.first[n]; i < arcs.first[n + 1]; ++i)
            if (arcs.head[i] != n) {
                at[rank[n]].insert(rank[arcs.head[i]]);
                at[rank[arcs.head[i]]].insert(rank[n]);
            }
    for (std::uint32_t x = 0; x < at.size(); ++x) {
        at[x].erase(at[x].begin(), at[x].lower_bound(x));
        for (const std::uint32_t y : at[x])
            for (const std::uint32_t z : at[x])
                if (y < z)
                    at[y].insert(z);
    }
    return at;
}

bool is_permutation_of_ranks(std::vector<std::uint32_t> rank) {
    std::sort(rank.begin(), rank.end());
    for (std::uint32_t i = 0; i < rank.size(); ++i)
        if (rank[i] != i)
            return false;
    return true;
}

/// A node's descendants must be the ranks right before it.
void expect_post_order(const NodeHierarchy& h) {
    const auto count = static_cast<std::uint32_t>(h.rank.size());
    std::vector<std::uint32_t> lowest(count), size(count, 1);
    std::iota(lowest.begin(), lowest.end(), 0u);
    for (std::uint32_t x = 0; x < count; ++x) {
        ASSERT_EQ(x - lowest[x] + 1, size[x]) << "rank " << x;
        const std::uint32_t up = h.parent(x);
        if (up == NodeHierarchy::no_parent)
            continue;
        lowest[up] = std::min(lowest[up], lowest[x]);
        size[up] += size[x];
    }
}

void expect_equals_definition(const Arcs& arcs, const NodeHierarchy& h) {
    ASSERT_TRUE(is_permutation_of_ranks(h.rank));
    const auto expected = joined_by_sets(arcs, h.rank);
    ASSERT_EQ(h.up_first.size(), expected.size() + 1);
    for (std::uint32_t x = 0; x < expected.size(); ++x) {
        const std::vector<std::uint32_t> row(h.up_head.begin() + h.up_first[x],
                                             h.up_head.begin() + h.up_first[x + 1]);
        ASSERT_EQ(row, std::vector<std::uint32_t>(expected[x].begin(), expected[x].end())) << "rank " << x;
    }
    expect_post_order(h);
}

TEST(NodeOrder, EqualsTakingNodesOutOneByOne) {
    TestRandom random(11);
    for (int round = 0; round < 300; ++round) {
        const std::uint32_t nodes = 1 + random.below(round < 200 ? 40 : 400);
        const Arcs arcs = random_arcs(random, nodes, random.below(3 * nodes));
        SCOPED_TRACE("round " + std::to_string(round));
        expect_equals_definition(arcs, order_nodes(arcs.first, arcs.head));
    }
}

TEST(NodeOrder, AnyOrderJoinsTheSameNodesAfterPostOrdering) {
    TestRandom random(12);
    for (int round = 0; round < 100; ++round) {
        const std::uint32_t nodes = 2 + random.below(60);
        const Arcs arcs = random_arcs(random, nodes, 2 * nodes);
        std::vector<std::uint32_t> order(nodes);
        std::iota(order.begin(), order.end(), 0u);
        for (std::uint32_t i = nodes; i > 1; --i)
            std::swap(order[i - 1], order[random.below(i)]);
        const NodeHierarchy h = eliminate(plain_graph(arcs.first, arcs.head), order);
        SCOPED_TRACE("round " + std::to_string(round));
        expect_equals_definition(arcs, h);
        std::size_t joined = 0;
        for (const auto& row : joined_by_sets(arcs, order))
            joined += row.size();
        EXPECT_EQ(h.up_head.size(), joined);
    }
}

TEST(NodeOrder, GraphsOfHardlyAnything) {
    const std::vector<std::uint32_t> no_nodes{0};
    EXPECT_TRUE(order_nodes(no_nodes, {}).rank.empty());
    EXPECT_EQ(order_nodes(no_nodes, {}).up_first, no_nodes);
    const Arcs isolated = arcs_of(200, {});
    expect_equals_definition(isolated, order_nodes(isolated.first, isolated.head));
    const Arcs loops = arcs_of(3, {{0, 0}, {1, 1}, {1, 1}, {2, 2}});
    EXPECT_TRUE(order_nodes(loops.first, loops.head).up_head.empty());
    const Arcs pair = arcs_of(2, {{0, 1}, {1, 0}, {0, 1}, {1, 1}});
    expect_equals_definition(pair, order_nodes(pair.first, pair.head));
    EXPECT_EQ(order_nodes(pair.first, pair.head).up_head.size(), 1u);
}

TEST(NodeOrder, StarsPathsRingsAndCliquesOfManySizes) {
    for (const std::uint32_t n : {3u, 5u, 63u, 64u, 65u, 66u, 100u, 121u, 300u}) {
        std::vector<std::pair<std::uint32_t, std::uint32_t>> star, path, ring, clique;
        for (std::uint32_t i = 1; i < n; ++i) {
            star.emplace_back(0, i);
            path.emplace_back(i - 1, i);
        }
        ring = path;
        ring.emplace_back(n - 1, 0);
        for (std::uint32_t i = 0; i < std::min(n, 80u); ++i)
            for (std::uint32_t j = 0; j < i; ++j)
                clique.emplace_back(i, j);
        for (const auto& pairs : {star, path, ring, clique}) {
            const Arcs arcs = arcs_of(n, pairs);
            SCOPED_TRACE(std::to_string(n) + " nodes, " + std::to_string(pairs.size()) + " arcs");
            expect_equals_definition(arcs, order_nodes(arcs.first, arcs.head));
        }
    }
}

TEST(NodeOrder, GridStaysSparse) {
    // Nested dissection of a k x k grid joins about 31/4 k^2 log2 k pairs (George 1973, from memory); an
    // order by rows would join k^3 = 1,000,000 here.
    const std::uint32_t side = 100;
    const Arcs arcs = grid(side);
    const NodeHierarchy h = order_nodes(arcs.first, arcs.head);
    ASSERT_TRUE(is_permutation_of_ranks(h.rank));
    expect_post_order(h);
    EXPECT_LT(h.up_head.size(), 200'000u);
    EXPECT_GE(h.up_head.size(), arcs.head.size());
    std::uint32_t depth = 0;
    for (std::uint32_t x = 0; x != NodeHierarchy::no_parent; x = h.parent(x))
        ++depth;
    EXPECT_LT(depth, 5 * side);
}

TEST(NodeOrder, SameGraphSameOrder) {
    const Arcs arcs = grid(60);
    const NodeHierarchy a = order_nodes(arcs.first, arcs.head), b = order_nodes(arcs.first, arcs.head);
    EXPECT_EQ(a.rank, b.rank);
    EXPECT_EQ(a.up_head, b.up_head);
}

TEST(NodeOrder, RefusesWhatIsNoGraph) {
    const auto kind_of = [](auto&& f) {
        try {
            f();
        } catch (const Error& e) {
            return error_kind_name(e.kind());
        }
        return std::string_view("none");
    };
    const std::vector<std::uint32_t> first{0, 1}, falling{0, 2, 1, 2}, head{1}, two{0, 0}, loop{0};
    EXPECT_EQ(kind_of([&] { static_cast<void>(plain_graph(first, head)); }), "internal");
    EXPECT_EQ(kind_of([&] { static_cast<void>(plain_graph(falling, two)); }), "internal");
    EXPECT_EQ(kind_of([&] { static_cast<void>(plain_graph({}, {})); }), "internal");
    EXPECT_EQ(kind_of([&] { static_cast<void>(plain_graph(first, loop)); }), "none");
    const PlainGraph pair{{0, 1, 2}, {1, 0}};
    EXPECT_EQ(kind_of([&] { static_cast<void>(eliminate(pair, two)); }), "internal");
    EXPECT_EQ(kind_of([&] { static_cast<void>(eliminate(pair, loop)); }), "internal");
}

}  // namespace
}  // namespace loamway
