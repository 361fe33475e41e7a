// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STOP_CHOICE_H
#define LOAMWAY_SEARCH_STOP_CHOICE_H

// Which stop places along a given route to use so that no stretch between two lubrications is longer than
// the interval: the fewest stops, among those the best places (highest sum of scores), among those the
// earlier ones. Exact, by dynamic programming; lengths are whole decimetres.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace loamway {

struct StopCandidate {
    std::uint64_t at_dm = 0;    // along the route
    std::uint32_t spur_dm = 0;  // driven off the route to reach the place, and again to come back
    std::int32_t score = 0;
};

struct StopQuestion {
    std::uint64_t length_dm = 0;  // of the route
    std::uint64_t since_dm = 0;   // driven since the last lubrication, at the start; at most the interval
    std::uint64_t interval_dm = 0;
    std::span<const StopCandidate> candidates;  // by at_dm, ascending
    /// Positions after which the belts count as dry (fords): the next candidate strictly behind each is used.
    std::span<const std::uint64_t> dry_after_dm;
};

/// A stretch where the user has to name a place: somewhere in it is close enough behind the places before
/// and ahead of the places after. With more than one place missing it is the first such stretch.
struct MissingPlace {
    std::uint64_t from_dm = 0;
    std::uint64_t to_dm = 0;
    bool more_than_one = false;
};

struct StopChoice {
    std::vector<std::size_t> chosen;      // indices of candidates, in driving order
    std::optional<MissingPlace> missing;  // set when no choice keeps the interval; chosen is then empty
};

[[nodiscard]] StopChoice choose_stops(const StopQuestion& question);

}  // namespace loamway

#endif
