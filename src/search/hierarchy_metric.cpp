// SPDX-License-Identifier: Apache-2.0
// Putting weights on a hierarchy: rank by rank upwards, each rank's arcs are shortened by all detours over
// ranks below it. A rank needs only what lies below it in the elimination tree, so subtrees can be done side
// by side; and a minimum does not depend on the order in which its terms come, so threads cannot change the
// result.
#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/parallel.h"
#include "loamway/search/hierarchy.h"
#include "route_ends.h"

namespace loamway {

namespace {

/// The weights that are being made. `place` says where in the current rank's row a head stands.
class Customiser {
public:
    Customiser(const Hierarchy& hierarchy, std::vector<RouteWeight>& up, std::vector<RouteWeight>& down)
        : m_hierarchy(hierarchy), m_up(up), m_down(down) {}

    void all(const Hierarchy::Run& run, std::vector<std::uint32_t>& place) const {
        for (std::uint32_t x = run.begin; x < run.end; ++x) {
            shorten(x, m_hierarchy.below(x), place);
            check_lengths(x);
        }
    }
    /// Detours over ranks below `bound` only, and over the others only.
    void below(std::uint32_t x, std::uint32_t bound, std::vector<std::uint32_t>& place) const {
        const auto all = m_hierarchy.below(x);
        shorten(x, all.first(split(all, bound)), place);
    }
    void from(std::uint32_t x, std::uint32_t bound, std::vector<std::uint32_t>& place) const {
        const auto all = m_hierarchy.below(x);
        shorten(x, all.subspan(split(all, bound)), place);
        check_lengths(x);
    }

private:
    static std::size_t split(std::span<const Hierarchy::Below> all, std::uint32_t bound) {
        const auto at =
            std::lower_bound(all.begin(), all.end(), bound,
                             [](const Hierarchy::Below& b, std::uint32_t r) { return b.tail < r; });
        return static_cast<std::size_t>(at - all.begin());
    }

    void shorten(std::uint32_t x, std::span<const Hierarchy::Below> below,
                 std::vector<std::uint32_t>& place) const {
        const std::uint32_t begin = m_hierarchy.up_begin(x), end = m_hierarchy.up_end(x);
        if (begin == end || below.empty())
            return;
        for (std::uint32_t arc = begin; arc < end; ++arc)
            place[m_hierarchy.up_head(arc)] = arc;
        for (const Hierarchy::Below& b : below)
            shorten_over(b, end, place);
    }

    /// All arcs of the row that ends at `end`, by detours over one rank. The hot loop of it all: a sum that
    /// leaves 64 bits is left out by a branch that is hardly ever taken, the rest goes without one.
    void shorten_over(const Hierarchy::Below& b, std::uint32_t end,
                      const std::vector<std::uint32_t>& place) const {
        const std::uint32_t* const heads = m_hierarchy.region().up_head.data();
        RouteWeight* const up = m_up.data();
        RouteWeight* const down = m_down.data();
        const RouteWeight to_x = up[b.arc], from_x = down[b.arc];
        if (to_x == infinite_weight && from_x == infinite_weight)
            return;
        std::uint32_t over = b.arc + 1;
        const auto shorten_arc = [&](std::uint32_t arc) {
            RouteWeight sum = 0;
            if (!__builtin_add_overflow(from_x, up[over], &sum))
                up[arc] = std::min(up[arc], sum);
            if (!__builtin_add_overflow(down[over], to_x, &sum))
                down[arc] = std::min(down[arc], sum);
        };
        const std::uint32_t last = m_hierarchy.up_end(b.tail);
        for (; over < last; ++over) {
            const std::uint32_t arc = place[heads[over]];
            // These heads are among those; as many left in both rows means the same ones from here on.
            if (last - over == end - arc)
                break;
            shorten_arc(arc);
        }
        const std::uint32_t shift = end - last;
        for (; over < last; ++over)
            shorten_arc(over + shift);
    }

    // Two lengths below 2^31 add up without touching the primary weight; so no sum anywhere can.
    void check_lengths(std::uint32_t x) const {
        bool too_long = false;
        for (std::uint32_t arc = m_hierarchy.up_begin(x); arc < m_hierarchy.up_end(x); ++arc)
            for (const RouteWeight w : {m_up[arc], m_down[arc]})
                too_long |= w != infinite_weight && length_of(w) >> 31 != 0;
        if (too_long)
            too_long_to_add_up();
    }

    const Hierarchy& m_hierarchy;
    std::vector<RouteWeight>& m_up;
    std::vector<RouteWeight>& m_down;
};

void customise_together(const Hierarchy& hierarchy, const Customiser& customiser, unsigned threads) {
    WorkerPool pool(threads);
    std::vector<std::vector<std::uint32_t>> place(pool.thread_count(),
                                                  std::vector<std::uint32_t>(hierarchy.node_count()));
    pool.run(hierarchy.pieces().size(), [&](std::size_t piece, unsigned worker) {
        customiser.all(hierarchy.pieces()[piece], place[worker]);
    });
    // A chain waits for itself only where it leads over its own ranks; the far greater part lies below it.
    constexpr std::uint32_t block = 8;
    for (const Hierarchy::Run& chain : hierarchy.chains()) {
        const std::uint32_t count = chain.end - chain.begin;
        if (count <= block) {
            customiser.all(chain, place[0]);
            continue;
        }
        pool.run((count + block - 1) / block, [&](std::size_t piece, unsigned worker) {
            const std::uint32_t first = chain.begin + static_cast<std::uint32_t>(piece) * block;
            for (std::uint32_t x = first; x < std::min(first + block, chain.end); ++x)
                customiser.below(x, chain.begin, place[worker]);
        });
        for (std::uint32_t x = chain.begin; x < chain.end; ++x)
            customiser.from(x, chain.begin, place[0]);
    }
}

}  // namespace

HierarchyMetric::HierarchyMetric(const Hierarchy& hierarchy, std::vector<RouteWeight> arc_weights,
                                 unsigned threads)
    : m_hierarchy(&hierarchy),
      m_arc_weights(std::move(arc_weights)),
      m_up(hierarchy.arc_count(), infinite_weight),
      m_down(hierarchy.arc_count(), infinite_weight) {
    const RegionView& region = hierarchy.region();
    if (m_arc_weights.size() != region.arcs.size())
        throw Error(ErrorKind::internal, "the weights do not fit the region's arcs");
    for (std::uint32_t n = 0; n < region.node_count(); ++n)
        for (std::uint32_t a = region.arc_first[n]; a < region.arc_first[n + 1]; ++a) {
            const std::uint32_t arc = hierarchy.arc_of(EdgeId{region.arcs[a].edge});
            if (arc == Hierarchy::none)
                continue;
            const bool upwards = hierarchy.rank(NodeId{n}) < region.node_rank[region.arcs[a].head];
            RouteWeight& weight = upwards ? m_up[arc] : m_down[arc];
            weight = std::min(weight, m_arc_weights[a]);
        }
    const Customiser customiser(hierarchy, m_up, m_down);
    if (threads == 1 || hierarchy.pieces().size() < 2) {
        std::vector<std::uint32_t> place(hierarchy.node_count());
        customiser.all({0, hierarchy.node_count()}, place);
    } else {
        customise_together(hierarchy, customiser, threads);
    }
}

}  // namespace loamway
