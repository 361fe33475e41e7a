// SPDX-License-Identifier: Apache-2.0
// Heights: every profile decodes to as many heights as its edge's length asks for, all of them on Earth, and
// agrees with the climb beside it, so that a sum of climbs is the height gained.
#include <fmt/format.h>

#include "check.h"
#include "coded_number.h"

namespace loamway {
namespace {

// From below the shore of the Dead Sea to above every mountain.
constexpr std::int64_t lowest_dm = -10'000;
constexpr std::int64_t highest_dm = 100'000;

struct ProfileEnds {
    std::int64_t first = 0, last = 0;
    std::uint64_t count = 0;
    bool whole = true;
};

ProfileEnds read_ends(std::span<const std::uint8_t> bytes) {
    ProfileEnds ends;
    std::int64_t height = 0;
    for (std::size_t at = 0; at < bytes.size(); ++ends.count) {
        std::int64_t step = 0;
        if (!read_number(bytes, at, step) || height + step < lowest_dm || height + step > highest_dm) {
            ends.whole = false;
            return ends;
        }
        height += step;
        if (ends.count == 0)
            ends.first = height;
    }
    ends.last = height;
    return ends;
}

Fault profile_fault(const RegionView& v, std::size_t edge, std::span<const std::uint8_t> bytes) {
    const EdgeClimbRecord& climb = v.edge_climb[edge];
    const std::int64_t net = std::int64_t{climb.ascent_dm} - climb.descent_dm;
    if (bytes.empty())
        return climb.ascent_dm == 0 && climb.descent_dm == 0
                   ? Fault{}
                   : fmt::format("edge {} climbs {} dm and falls {} dm without heights", edge,
                                 climb.ascent_dm, climb.descent_dm);
    const ProfileEnds ends = read_ends(bytes);
    const std::uint64_t wanted = std::uint64_t{height_pieces(v.edges[edge].length_dm)} + 1;
    if (!ends.whole || ends.count != wanted)
        return fmt::format("the heights of edge {} do not decode to {} heights on Earth", edge, wanted);
    if (ends.last - ends.first != net)
        return fmt::format("edge {} climbs {} dm and falls {} dm between heights of {} and {} dm", edge,
                           climb.ascent_dm, climb.descent_dm, ends.first, ends.last);
    return std::nullopt;
}

}  // namespace

Fault heights_fault(const RegionView& v) {
    if (v.edge_climb.empty())
        return v.heights.empty() ? Fault{} : Fault{"heights without climbs of edges"};
    if (v.edge_climb.size() != v.edge_count())
        return fmt::format("{} climbs for {} edges", v.edge_climb.size(), v.edge_count());
    if (v.edge_climb.front().height_first != 0)
        return fmt::format("the first heights start at byte {}", v.edge_climb.front().height_first);
    for (std::size_t i = 0; i < v.edge_count(); ++i) {
        const std::size_t first = v.edge_climb[i].height_first;
        const std::size_t end = i + 1 < v.edge_count() ? v.edge_climb[i + 1].height_first : v.heights.size();
        if (end < first || end > v.heights.size())
            return fmt::format("the heights of edge {} are bytes {} to {} of {}", i, first, end,
                               v.heights.size());
        if (Fault fault = profile_fault(v, i, v.heights.subspan(first, end - first)))
            return fault;
    }
    return std::nullopt;
}

}  // namespace loamway
