// SPDX-License-Identifier: Apache-2.0
// Scores the candidates, takes the best of each place and writes the list. The scores are assumptions of this
// project. The side of the road depends on the direction of travel: whoever plans adds 2 for the near side.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <tuple>

#include "stop_candidates.h"

namespace loamway {

namespace {

constexpr std::int32_t least_score = 2;
constexpr std::int32_t wide_score = 2;
constexpr std::int32_t soft_score = 1;

struct KindScore {
    std::int32_t score;
    std::string_view words;
};

KindScore kind_score(StopPlaceKind kind) {
    switch (kind) {
        case StopPlaceKind::rest_area:
            return {5, "rest area"};
        case StopPlaceKind::services:
            return {5, "services"};
        case StopPlaceKind::lay_by:
            return {5, "lay-by"};
        case StopPlaceKind::parking:
            return {5, "parking place"};
        case StopPlaceKind::side_way:
            return {4, "mouth of a side way"};
        case StopPlaceKind::yard:
            return {4, "yard"};
        case StopPlaceKind::passing_place:
            return {1, "passing place"};
        case StopPlaceKind::named:
            break;  // corrections make those
    }
    return {0, ""};
}

/// Wideness of the road counts for who stands beside it, not for who stands in a side way.
bool counts_wide(const StandingPlace& c) {
    return c.wide_road && c.kind != StopPlaceKind::side_way;
}

bool is_soft(const StandingPlace& c) {
    return (c.flags & stop_flag::soft_ground) != 0;
}

std::int32_t score_of(const StandingPlace& c) {
    return kind_score(c.kind).score + (counts_wide(c) ? wide_score : 0) + (is_soft(c) ? soft_score : 0);
}

std::string reason_of(const StandingPlace& c) {
    std::string text = fmt::format("{} +{}", kind_score(c.kind).words, kind_score(c.kind).score);
    if (counts_wide(c))
        text += fmt::format(", wide road or shoulder +{}", wide_score);
    if (is_soft(c))
        text += fmt::format(", gravel or earth ground +{}", soft_score);
    return text;
}

constexpr std::array<std::string_view, stop_bar::count> bar_words = {
    "stop places left out: motorway, trunk road or motorroad",
    "stop places left out: the road is closed to machines",
    "stop places left out: on a bridge, in a tunnel or covered",
    "stop places left out: within 50 m of a level crossing",
    "stop places left out: within 30 m of a junction or roundabout",
    "stop places left out: in a residential area",
    "stop places left out: within 50 m of a building",
    "stop places left out: within 20 m of a power line",
    "stop places left out: steeper than 6 %",
    "stop places left out: in a bend of less than 60 m",
    "stop places left out: within 25 m of water, wetland or a protection area",
    "stop places left out: side way too short or closed",
    "stop places left out: on a crest",
    "stop places left out: on a cycle lane",
};

void count_bar(BuildCounts& counts, std::uint32_t bars) {
    for (std::size_t i = 0; i < bar_words.size(); ++i)
        if ((bars & (1u << i)) != 0)
            return counts.add(bar_words[i]);
}

/// Better first: fit, on a through road, high score, near the road, and then any fixed order.
auto rank(const StandingPlace& c) {
    return std::tuple(c.bars != 0, c.side_road && c.kind != StopPlaceKind::side_way, -score_of(c),
                      c.to_road_m, c.edge, c.offset_dm);
}

StopPlaceRecord record_of(Assembly& a, const StandingPlace& c) {
    StopPlaceRecord r{};
    r.lat_e7 = c.stand.lat_e7;
    r.lon_e7 = c.stand.lon_e7;
    r.edge = c.edge;
    r.offset_dm = c.offset_dm;
    r.kind = c.kind;
    r.flags = c.flags;
    r.usable_dm = c.usable_dm;
    r.score = score_of(c);
    r.name = a.texts.add(a.map.strings.get(c.name));
    r.reason = a.texts.add(reason_of(c));
    r.osm_id = c.osm_id;
    return r;
}

}  // namespace

void list_stop_places(Assembly& a, std::span<const StandingPlace> candidates) {
    for (std::size_t i = 0; i < candidates.size();) {
        std::size_t end = i + 1;
        while (end < candidates.size() && candidates[end].group == candidates[i].group)
            ++end;
        const auto first = candidates.begin();
        const StandingPlace& best = *std::min_element(
            first + static_cast<std::ptrdiff_t>(i), first + static_cast<std::ptrdiff_t>(end),
            [](const StandingPlace& x, const StandingPlace& y) { return rank(x) < rank(y); });
        if (best.bars != 0)
            count_bar(a.counts, best.bars);
        else if (score_of(best) >= least_score)
            a.out.stop_places.push_back(record_of(a, best));
        i = end;
    }
    std::sort(a.out.stop_places.begin(), a.out.stop_places.end(),
              [](const StopPlaceRecord& x, const StopPlaceRecord& y) {
                  return std::tuple(x.edge, x.offset_dm, x.kind, x.osm_id) <
                         std::tuple(y.edge, y.offset_dm, y.kind, y.osm_id);
              });
}

}  // namespace loamway
