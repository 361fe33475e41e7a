// SPDX-License-Identifier: Apache-2.0
#include "node_store.h"

#include <algorithm>
#include <bit>
#include <limits>
#include <numeric>
#include <thread>

#include "loamway/base/error.h"
#include "loamway/base/parallel.h"
#include "memory.h"

namespace loamway {

namespace {

constexpr unsigned most_threads = 4;  // memory is the limit

/// Merged from the back, so that every entry moves once and into free room.
void insert_missing(const std::vector<std::int64_t>& missing, std::vector<std::int64_t>& ids,
                    std::vector<GeoPoint>& points, std::vector<bool>& found) {
    std::size_t from = ids.size();
    std::size_t gap = missing.size();
    const std::size_t total = from + gap;
    ids.resize(total);
    points.resize(total);
    found.resize(total);
    for (std::size_t to = total; gap > 0; --to) {
        const bool take_missing = from == 0 || ids[from - 1] < missing[gap - 1];
        ids[to - 1] = take_missing ? missing[gap - 1] : ids[from - 1];
        points[to - 1] = take_missing ? GeoPoint{} : points[from - 1];
        found[to - 1] = !take_missing;
        --(take_missing ? gap : from);
    }
}

}  // namespace

/// A bit for each node, and how many are set before it.
class NeededNodes {
public:
    explicit NeededNodes(std::size_t nodes) : m_words(nodes / bits + 1), m_before(m_words.size()) {}

    void add(std::size_t node) { m_words[node / bits] |= std::uint64_t{1} << node % bits; }
    [[nodiscard]] bool has(std::size_t node) const { return (m_words[node / bits] >> node % bits & 1) != 0; }
    /// To be called when all are added.
    void number() {
        std::uint32_t count = 0;
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            m_before[w] = count;
            count += static_cast<std::uint32_t>(std::popcount(m_words[w]));
        }
    }
    /// How many of the nodes before this one are needed.
    [[nodiscard]] std::uint32_t rank(std::size_t node) const {
        const std::uint64_t below = (std::uint64_t{1} << node % bits) - 1;
        return m_before[node / bits] +
               static_cast<std::uint32_t>(std::popcount(m_words[node / bits] & below));
    }

private:
    static constexpr std::size_t bits = 64;
    std::vector<std::uint64_t> m_words;
    std::vector<std::uint32_t> m_before;
};

AscendingIds::AscendingIds(std::span<const std::int64_t> ids) : m_ids(ids) {
    if (ids.empty())
        return;
    constexpr std::size_t ids_per_slot = 4;  // on average; ids of a real map come in clusters
    m_lowest = static_cast<std::uint64_t>(ids.front());
    const std::uint64_t range = static_cast<std::uint64_t>(ids.back()) - m_lowest;
    while ((range >> m_shift) > ids.size() / ids_per_slot)
        ++m_shift;
    m_first.reserve(slot_of(ids.back()) + 2);
    for (std::size_t i = 0; i < ids.size(); ++i)
        while (m_first.size() <= slot_of(ids[i]))
            m_first.push_back(static_cast<std::uint32_t>(i));
    m_first.push_back(static_cast<std::uint32_t>(ids.size()));
}

std::uint32_t AscendingIds::look_up(std::int64_t id) const {
    if (m_ids.empty() || id < m_ids.front() || id > m_ids.back())
        return none;
    const std::size_t slot = slot_of(id);
    const auto first = m_ids.begin() + m_first[slot];
    const auto end = m_ids.begin() + m_first[slot + 1];
    const auto at = std::lower_bound(first, end, id);
    return at != end && *at == id ? static_cast<std::uint32_t>(at - m_ids.begin()) : none;
}

void NodeStore::reserve(std::size_t count) {
    m_ids.reserve(count);
    m_points.reserve(count);
}

void NodeStore::add(std::span<const std::int64_t> ids, std::span<const GeoPoint> points) {
    if (ids.empty())
        return;
    const auto not_above = [](std::int64_t a, std::int64_t b) { return b <= a; };
    if ((!m_ids.empty() && ids.front() <= m_ids.back()) ||
        std::ranges::adjacent_find(ids, not_above) != ids.end())
        m_ascending = false;
    m_ids.insert(m_ids.end(), ids.begin(), ids.end());
    m_points.insert(m_points.end(), points.begin(), points.end());
}

bool NodeStore::had(std::int64_t id) const {
    return std::binary_search(m_ids.begin(), m_ids.begin() + static_cast<std::ptrdiff_t>(m_finished), id);
}

std::int64_t NodeStore::finish() {
    if (m_ids.size() >= AscendingIds::none)
        throw Error(ErrorKind::limit, "the extract has too many nodes", "cut it into smaller extracts");
    if (m_ascending) {
        m_finished = m_ids.size();
        return 0;
    }
    std::vector<std::uint32_t> order(m_ids.size());
    std::iota(order.begin(), order.end(), 0u);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return m_ids[a] < m_ids[b]; });
    std::vector<std::int64_t> ids;
    std::vector<GeoPoint> points;
    ids.reserve(order.size());
    points.reserve(order.size());
    for (const std::uint32_t i : order) {
        if (!ids.empty() && ids.back() == m_ids[i]) {
            points.back() = m_points[i];
            continue;
        }
        ids.push_back(m_ids[i]);
        points.push_back(m_points[i]);
    }
    m_ids = std::move(ids);
    m_points = std::move(points);
    m_ascending = true;
    m_finished = m_ids.size();
    return static_cast<std::int64_t>(order.size() - m_ids.size());
}

void NodeStore::look_up(std::span<const std::int64_t> refs, std::vector<std::uint32_t>& ref_nodes) const {
    constexpr std::size_t refs_per_piece = std::size_t{1} << 16;
    ref_nodes.resize(refs.size());
    const AscendingIds lookup(m_ids);
    WorkerPool pool(std::min(most_threads, std::max(1u, std::thread::hardware_concurrency())));
    pool.run(refs.size() / refs_per_piece + 1, [&](std::size_t piece, unsigned) {
        const std::size_t end = std::min(refs.size(), (piece + 1) * refs_per_piece);
        std::uint32_t node = AscendingIds::none;
        for (std::size_t i = piece * refs_per_piece; i < end; ++i)
            ref_nodes[i] = node = lookup.find(refs[i], node);
    });
}

std::size_t NodeStore::keep(const NeededNodes& needed) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < m_ids.size(); ++i)
        if (needed.has(i)) {
            m_ids[kept] = m_ids[i];
            m_points[kept] = m_points[i];
            ++kept;
        }
    return kept;
}

std::int64_t NodeStore::move_needed(std::span<const std::int64_t> refs, std::vector<std::int64_t>& ids,
                                    std::vector<GeoPoint>& points, std::vector<bool>& found,
                                    std::vector<std::uint32_t>& ref_nodes) {
    look_up(refs, ref_nodes);
    NeededNodes needed(m_ids.size());
    std::vector<std::int64_t> missing;
    for (std::size_t i = 0; i < refs.size(); ++i)
        if (ref_nodes[i] == AscendingIds::none)
            missing.push_back(refs[i]);
        else
            needed.add(ref_nodes[i]);
    std::sort(missing.begin(), missing.end());
    missing.erase(std::unique(missing.begin(), missing.end()), missing.end());
    needed.number();
    for (std::size_t i = 0; i < refs.size(); ++i) {
        // Among what is kept, and behind the missing ones with a lower id.
        const auto before = static_cast<std::uint32_t>(
            missing.empty() ? 0 : std::ranges::lower_bound(missing, refs[i]) - missing.begin());
        const std::uint32_t node = ref_nodes[i];
        ref_nodes[i] = before + (node != AscendingIds::none ? needed.rank(node) : 0);
        if (node == AscendingIds::none)
            ref_nodes[i] += needed.rank(
                static_cast<std::size_t>(std::ranges::lower_bound(m_ids, refs[i]) - m_ids.begin()));
    }

    const std::size_t all = m_ids.size();
    const std::size_t kept = keep(needed);
    ids = std::move(m_ids);
    points = std::move(m_points);
    ids.resize(kept);
    points.resize(kept);
    found.assign(kept, true);
    if (!missing.empty())
        insert_missing(missing, ids, points, found);
    // Moving to smaller memory takes both at once; not worth it for little.
    if (ids.size() < all / 4 * 3) {
        ids.shrink_to_fit();
        points.shrink_to_fit();
    }
    release_memory(m_ids);
    release_memory(m_points);
    return static_cast<std::int64_t>(missing.size());
}

}  // namespace loamway
