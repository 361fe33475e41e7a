// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/order/node_order.h"

namespace loamway {

namespace {

void check_arcs(std::span<const std::uint32_t> first, std::span<const std::uint32_t> head) {
    if (first.empty() || first.front() != 0 || first.back() != head.size() ||
        !std::is_sorted(first.begin(), first.end()) || head.size() > std::numeric_limits<std::int32_t>::max())
        throw Error(ErrorKind::internal, "the arcs to be ordered do not fit their nodes");
    const std::size_t nodes = first.size() - 1;
    if (std::any_of(head.begin(), head.end(), [nodes](std::uint32_t h) { return h >= nodes; }))
        throw Error(ErrorKind::internal, "an arc to be ordered leads to no node");
}

}  // namespace

PlainGraph plain_graph(std::span<const std::uint32_t> first, std::span<const std::uint32_t> head) {
    check_arcs(first, head);
    const auto nodes = static_cast<std::uint32_t>(first.size() - 1);
    const auto each_pair = [&](auto&& visit) {
        for (std::uint32_t n = 0; n < nodes; ++n)
            for (std::uint32_t i = first[n]; i < first[n + 1]; ++i)
                if (head[i] != n) {
                    visit(n, head[i]);
                    visit(head[i], n);
                }
    };
    PlainGraph g;
    g.first.assign(std::size_t{nodes} + 1, 0);
    each_pair([&](std::uint32_t from, std::uint32_t) { ++g.first[from + 1]; });
    for (std::uint32_t n = 0; n < nodes; ++n)
        g.first[n + 1] += g.first[n];
    g.head.resize(g.first.back());
    std::vector<std::uint32_t> next(g.first.begin(), g.first.end() - 1);
    each_pair([&](std::uint32_t from, std::uint32_t to) { g.head[next[from]++] = to; });

    std::uint32_t kept = 0;
    for (std::uint32_t n = 0; n < nodes; ++n) {
        const auto begin = g.head.begin() + g.first[n];
        const auto end = g.head.begin() + next[n];
        std::sort(begin, end);
        const auto last = std::unique(begin, end);
        std::copy(begin, last, g.head.begin() + kept);
        g.first[n] = kept;
        kept += static_cast<std::uint32_t>(last - begin);
    }
    g.first[nodes] = kept;
    g.head.resize(kept);
    return g;
}

NodeHierarchy order_nodes(std::span<const std::uint32_t> first, std::span<const std::uint32_t> head) {
    const PlainGraph graph = plain_graph(first, head);
    return eliminate(graph, nested_dissection(graph));
}

}  // namespace loamway
