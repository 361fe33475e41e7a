// SPDX-License-Identifier: Apache-2.0
#include "node_store.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "loamway/base/error.h"
#include "memory.h"

namespace loamway {

std::uint32_t AscendingIds::find(std::int64_t id) {
    const std::size_t size = m_ids.size();
    if (size == 0)
        return none;
    std::size_t low = m_last;
    std::size_t high = m_last;
    for (std::size_t step = 1; low > 0 && m_ids[low] > id; step *= 2)
        low -= std::min(step, low);
    for (std::size_t step = 1; high < size && m_ids[high] < id; step *= 2)
        high = std::min(high + step, size);
    const auto first = m_ids.begin();
    const auto at = std::lower_bound(first + static_cast<std::ptrdiff_t>(low),
                                     first + static_cast<std::ptrdiff_t>(std::min(high + 1, size)), id);
    const auto index = static_cast<std::size_t>(at - first);
    m_last = std::min(index, size - 1);
    return index < size && *at == id ? static_cast<std::uint32_t>(index) : none;
}

void NodeStore::add(std::int64_t id, GeoPoint point) {
    if (!m_ids.empty() && id <= m_ids.back())
        m_ascending = false;
    m_ids.push_back(id);
    m_points.push_back(point);
}

std::int64_t NodeStore::finish() {
    if (m_ids.size() >= AscendingIds::none)
        throw Error(ErrorKind::limit, "the extract has too many nodes", "cut it into smaller extracts");
    if (m_ascending)
        return 0;
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
    return static_cast<std::int64_t>(order.size() - m_ids.size());
}

std::int64_t NodeStore::move_needed(std::span<const std::int64_t> refs, std::vector<std::int64_t>& ids,
                                    std::vector<GeoPoint>& points, std::vector<bool>& found) {
    std::vector<bool> needed(m_ids.size());
    std::vector<std::int64_t> missing;
    AscendingIds lookup(m_ids);
    for (const std::int64_t ref : refs) {
        const std::uint32_t i = lookup.find(ref);
        if (i == AscendingIds::none)
            missing.push_back(ref);
        else
            needed[i] = true;
    }
    std::sort(missing.begin(), missing.end());
    missing.erase(std::unique(missing.begin(), missing.end()), missing.end());

    std::size_t kept = 0;
    for (std::size_t i = 0; i < m_ids.size(); ++i)
        if (needed[i]) {
            m_ids[kept] = m_ids[i];
            m_points[kept] = m_points[i];
            ++kept;
        }
    ids = std::move(m_ids);
    points = std::move(m_points);
    ids.resize(kept);
    points.resize(kept);
    found.assign(kept, true);
    if (!missing.empty()) {
        // Merged from the back, so that every entry moves once and into free room.
        const std::size_t total = kept + missing.size();
        ids.resize(total);
        points.resize(total);
        found.resize(total);
        std::size_t from = kept;
        std::size_t gap = missing.size();
        for (std::size_t to = total; gap > 0; --to) {
            const bool take_missing = from == 0 || ids[from - 1] < missing[gap - 1];
            ids[to - 1] = take_missing ? missing[gap - 1] : ids[from - 1];
            points[to - 1] = take_missing ? GeoPoint{} : points[from - 1];
            found[to - 1] = !take_missing;
            --(take_missing ? gap : from);
        }
    }
    ids.shrink_to_fit();
    points.shrink_to_fit();
    release_memory(m_ids);
    release_memory(m_points);
    return static_cast<std::int64_t>(missing.size());
}

}  // namespace loamway
