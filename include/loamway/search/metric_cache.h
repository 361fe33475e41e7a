// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_METRIC_CACHE_H
#define LOAMWAY_SEARCH_METRIC_CACHE_H

// Metrics of one hierarchy, kept while there is room for them; the one unused for longest goes first.
// Thread-safe. A metric in use stays alive when it leaves the cache.

#include <cstddef>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <utility>

#include "loamway/search/hierarchy.h"

namespace loamway {

class MetricCache {
public:
    using Metric = std::shared_ptr<const HierarchyMetric>;

    explicit MetricCache(std::size_t max_bytes) : m_max_bytes(max_bytes) {}

    /// The metric under this key, made when it is not there. The key must tell apart everything that went
    /// into the weights: a digest of vehicle, moment, purpose and corrections. Two threads that miss the same
    /// key at once both make it. A metric larger than the whole cache is made and not kept.
    [[nodiscard]] Metric get(const std::string& key, const std::function<HierarchyMetric()>& make);

    [[nodiscard]] std::size_t bytes() const;
    [[nodiscard]] std::size_t count() const;

private:
    using Entry = std::pair<std::string, Metric>;
    [[nodiscard]] Metric find(const std::string& key);

    mutable std::mutex m_mutex;
    std::list<Entry> m_entries;  // the last used first
    std::size_t m_bytes = 0;
    std::size_t m_max_bytes;
};

}  // namespace loamway

#endif
