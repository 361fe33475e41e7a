// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <set>

#include "loamway/graph/correction_match.h"
#include "stop_reach.h"

namespace loamway {

namespace {

Instant noted_at(const Correction& c, const TimeZone& zone) {
    return c.noted.empty() ? Instant{std::numeric_limits<std::int64_t>::min()}
                           : parse_date_or_time(c.noted, zone, false);
}

/// What two corrections on one road quarrel about; empty: nothing that another could gainsay.
std::string subject_of(const Correction& c) {
    switch (c.kind) {
        case CorrectionKind::surface:
            return "surface";
        case CorrectionKind::limit:
            return stated_limit(c).key;
        case CorrectionKind::gate:
            return "gate";
        default:
            return {};
    }
}

bool same_word(const Correction& a, const Correction& b) {
    return a.kind == CorrectionKind::limit ? stated_limit(a).figure == stated_limit(b).figure
                                           : a.value == b.value;
}

class Conflicts {
public:
    Conflicts(const RegionView& region, std::span<const Correction> corrections,
              std::span<const CorrectionMatch> matches, const TimeZone& zone, Instant at)
        : m_region(region), m_corrections(corrections), m_matches(matches) {
        const std::vector<std::size_t> order = order_noted(corrections, zone);
        m_rank.resize(corrections.size());
        for (std::size_t i = 0; i < order.size(); ++i)
            m_rank[order[i]] = i;
        for (std::size_t i = 0; i < corrections.size(); ++i) {
            m_validity.push_back(validity_of(corrections[i], zone));
            m_past.push_back(m_validity.back().over_at(at));
        }
    }

    std::vector<CorrectionConflict> find() {
        std::map<std::pair<std::string, EdgeId>, std::vector<std::size_t>> on_roads;
        std::map<NodeId, std::vector<std::size_t>> at_nodes;
        for (std::size_t i = 0; i < m_corrections.size(); ++i) {
            const std::string subject = subject_of(m_corrections[i]);
            if (subject.empty() || m_past[i])
                continue;
            for (const EdgeId e : m_matches[i].edges)
                on_roads[{subject, e}].push_back(i);
            for (const NodeId n : m_matches[i].nodes)
                at_nodes[n].push_back(i);
        }
        for (const auto& [key, all] : on_roads)
            quarrel(all, fmt::format("the same road (OSM way {})", m_region.edge_way[key.second.index()]));
        for (const auto& [node, all] : at_nodes)
            quarrel(all, "the same gate");
        compare_places();
        return std::move(m_found);
    }

private:
    void quarrel(const std::vector<std::size_t>& all, const std::string& where) {
        for (std::size_t i = 0; i < all.size(); ++i)
            for (std::size_t k = i + 1; k < all.size(); ++k)
                if (!same_word(m_corrections[all[i]], m_corrections[all[k]]))
                    add(all[i], all[k], where);
    }

    void compare_places() {
        for (std::size_t i = 0; i < m_corrections.size(); ++i) {
            if (m_corrections[i].kind != CorrectionKind::stop || m_past[i])
                continue;
            for (std::size_t k = 0; k < m_corrections.size(); ++k)
                if (m_corrections[k].kind == CorrectionKind::no_stop && !m_past[k] &&
                    distance_to(m_corrections[k], m_corrections[i].line.front()) <= beside_place)
                    add(i, k, "the same place");
        }
    }

    void add(std::size_t a, std::size_t b, const std::string& where) {
        if (!m_validity[a].overlaps(m_validity[b]) || !m_seen.insert(std::minmax(a, b)).second)
            return;
        if (m_rank[a] > m_rank[b])
            std::swap(a, b);
        const Correction& loser = m_corrections[a];
        const Correction& winner = m_corrections[b];
        m_found.push_back({a, b,
                           fmt::format("{} says {}, {} says {} of {}: {}, {}, counts", loser.id,
                                       words_for(loser), winner.id, words_for(winner), where, winner.id,
                                       loser.noted == winner.noted ? "later in the file" : "noted later")});
    }

    const RegionView& m_region;
    std::span<const Correction> m_corrections;
    std::span<const CorrectionMatch> m_matches;
    std::vector<std::size_t> m_rank;
    std::vector<Validity> m_validity;
    std::vector<bool> m_past;
    std::set<std::pair<std::size_t, std::size_t>> m_seen;
    std::vector<CorrectionConflict> m_found;
};

}  // namespace

std::vector<std::size_t> order_noted(std::span<const Correction> corrections, const TimeZone& zone) {
    std::vector<Instant> noted;
    for (const Correction& c : corrections)
        noted.push_back(noted_at(c, zone));
    std::vector<std::size_t> order(corrections.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return noted[a] < noted[b]; });
    return order;
}

std::vector<CorrectionConflict> find_conflicts(const RegionView& region,
                                               std::span<const Correction> corrections,
                                               std::span<const CorrectionMatch> matches, const TimeZone& zone,
                                               Instant at) {
    return Conflicts(region, corrections, matches, zone, at).find();
}

}  // namespace loamway
