// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_CORRECTION_MATCH_H
#define LOAMWAY_GRAPH_CORRECTION_MATCH_H

// Which roads and places of a region a correction speaks of, found by geometry alone: within 15 m of the
// road, within 30 degrees of its direction, and with at least 80 % of a line's length on roads. A point
// belongs to the nearest road within 15 m; a place to stand, load or enter a field to the roads within 30 m.
//
// A region's pieces of road run from junction to junction and are not cut: a surface counts for a piece when
// at least half of it is covered. A closure, limit or gate counts for each piece with half its length or 20 m
// covered, in any case for the piece that most of it covers: what stops a machine on a part of a road stops
// it on the road.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/base/ids.h"
#include "loamway/region/correction.h"
#include "loamway/region/region.h"

namespace loamway {

struct CorrectionMatch {
    enum class State {
        matched,
        no_match,   // no road or place of the region lies where the correction does
        no_effect,  // it lies on roads, but changes nothing: see why
    };
    State state = State::matched;
    std::vector<EdgeId> edges;               // ascending: what it changes, or for places the roads beside it
    std::vector<NodeId> nodes;               // gates that stand in a junction or road end
    std::vector<std::uint32_t> stop_places;  // places of the region that a no_stop takes away
    Length length, on_roads;                 // of a line, and how much of it lies on roads
    std::optional<Length> nearest;           // without a match: how far the nearest road is
    std::string why;                         // without a match or effect: a sentence
};
[[nodiscard]] CorrectionMatch match_correction(const RegionView& region, const Correction& c);

/// Two corrections that say different things of one road or place, while both are valid.
struct CorrectionConflict {
    std::size_t loser = 0, winner = 0;  // the winner was noted later, or stands later in the file
    std::string text;
};
/// `matches` beside `corrections`. Those over at `at` are past quarrelling.
[[nodiscard]] std::vector<CorrectionConflict> find_conflicts(const RegionView& region,
                                                             std::span<const Correction> corrections,
                                                             std::span<const CorrectionMatch> matches,
                                                             const TimeZone& zone, Instant at);

/// Indices in the order in which corrections are laid over the map: by the time noted (none: first), then as
/// in the file. The last word counts.
[[nodiscard]] std::vector<std::size_t> order_noted(std::span<const Correction> corrections,
                                                   const TimeZone& zone);

}  // namespace loamway

#endif
