// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_CORRECTED_REGION_H
#define LOAMWAY_GRAPH_CORRECTED_REGION_H

// A region with the corrections that hold at one moment laid over it. Nodes, edges and arcs keep their
// numbers, so that everything made for the region (its hierarchy, too) goes on fitting; what changes are
// odds, reasons and tag sets of roads, tags of nodes, and stop places. Only arrays that change are copied:
// without corrections in force view() is the region's own. The digest stays the region's. The region must
// outlive it. Thread-safe to read.

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/graph/correction_match.h"

namespace loamway {

class CorrectedRegion {
public:
    /// `at`: the departure of the move, in whose light "valid from, to" is read; dates in the region's zone.
    CorrectedRegion(const Region& region, std::vector<Correction> corrections, Instant at);
    CorrectedRegion(const CorrectedRegion&) = delete;
    CorrectedRegion& operator=(const CorrectedRegion&) = delete;
    ~CorrectedRegion();

    [[nodiscard]] const RegionView& view() const { return m_view; }
    [[nodiscard]] std::span<const Correction> corrections() const { return m_corrections; }
    /// Beside corrections().
    [[nodiscard]] std::span<const CorrectionMatch> matches() const { return m_matches; }
    [[nodiscard]] std::span<const Validity> validity() const { return m_validity; }
    [[nodiscard]] std::span<const CorrectionConflict> conflicts() const { return m_conflicts; }
    /// Valid at the moment, matched, and with an effect.
    [[nodiscard]] bool in_force(std::size_t correction) const { return m_in_force[correction]; }
    [[nodiscard]] std::size_t in_force_count() const;

    /// Corrections in force that change this road or close it; ascending.
    [[nodiscard]] std::vector<std::size_t> on_edge(EdgeId e) const;
    [[nodiscard]] std::vector<std::size_t> at_node(NodeId n) const;
    /// The correction that added this stop place of view().
    [[nodiscard]] std::optional<std::size_t> of_stop_place(std::size_t index) const;

private:
    struct Overlay;
    void apply(std::size_t correction);

    std::vector<Correction> m_corrections;
    std::vector<CorrectionMatch> m_matches;
    std::vector<Validity> m_validity;
    std::vector<CorrectionConflict> m_conflicts;
    std::vector<bool> m_in_force;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> m_by_edge,
        m_by_node;  // edge or node, correction; sorted
    std::unique_ptr<Overlay> m_overlay;
    RegionView m_view;
};

}  // namespace loamway

#endif
