// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/metric_cache.h"

#include <algorithm>

namespace loamway {

// Metrics are megabytes and therefore few: a list is searched faster than it is made more clever.
MetricCache::Metric MetricCache::find(const std::string& key) {
    const auto at =
        std::find_if(m_entries.begin(), m_entries.end(), [&key](const Entry& e) { return e.first == key; });
    if (at == m_entries.end())
        return nullptr;
    m_entries.splice(m_entries.begin(), m_entries, at);
    return at->second;
}

MetricCache::Metric MetricCache::get(const std::string& key, const std::function<HierarchyMetric()>& make) {
    {
        const std::lock_guard lock(m_mutex);
        if (Metric found = find(key))
            return found;
    }
    Metric made = std::make_shared<const HierarchyMetric>(make());
    const std::lock_guard lock(m_mutex);
    if (Metric found = find(key))
        return found;
    if (made->bytes() > m_max_bytes)
        return made;
    m_entries.emplace_front(key, made);
    m_bytes += made->bytes();
    while (m_bytes > m_max_bytes) {
        m_bytes -= m_entries.back().second->bytes();
        m_entries.pop_back();
    }
    return made;
}

std::size_t MetricCache::bytes() const {
    const std::lock_guard lock(m_mutex);
    return m_bytes;
}

std::size_t MetricCache::count() const {
    const std::lock_guard lock(m_mutex);
    return m_entries.size();
}

}  // namespace loamway
