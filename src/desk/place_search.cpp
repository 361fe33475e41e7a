// SPDX-License-Identifier: Apache-2.0
#include "loamway/desk/place_search.h"

#include <algorithm>
#include <optional>
#include <tuple>

#include "search_key.h"

namespace loamway {

namespace {

struct Ranked {
    PlaceHit hit;
    int match = 0;  // 0 equal, 1 begins so, 2 has it in it
    int size = 0;   // the order of PlaceKind: the largest first
};

std::optional<int> match_of(std::string_view name, const std::string& wanted) {
    if (wanted.empty())
        return 0;
    const std::string key = search_key(name);
    const auto at = key.find(wanted);
    if (at == std::string::npos)
        return std::nullopt;
    return at != 0 ? 2 : key.size() == wanted.size() ? 0 : 1;
}

}  // namespace

std::vector<PlaceHit> search_places(const std::vector<PlaceEntry>& own, const Region& region,
                                    std::string_view text, std::size_t most) {
    const std::string wanted = search_key(text);
    std::vector<Ranked> all;
    for (const PlaceEntry& p : own)
        if (const auto match = match_of(p.name, wanted))
            all.push_back({{p.name, p.field ? "your field" : "your place", p.point, true}, *match, 0});
    const RegionView& view = region.view();
    for (const PlaceRecord& p : view.places)
        if (const auto match = match_of(view.string(p.name), wanted))
            all.push_back({{std::string(view.string(p.name)), word_for(p.kind), {p.lat_e7, p.lon_e7}, false},
                           *match,
                           static_cast<int>(p.kind)});
    const auto order = [](const Ranked& r) {
        return std::tuple(r.match, !r.hit.own, r.size, std::string_view(r.hit.name), r.hit.point.lat_e7,
                          r.hit.point.lon_e7);
    };
    const auto end = all.begin() + static_cast<std::ptrdiff_t>(std::min(most, all.size()));
    std::partial_sort(all.begin(), end, all.end(),
                      [&](const Ranked& a, const Ranked& b) { return order(a) < order(b); });
    std::vector<PlaceHit> out;
    for (auto r = all.begin(); r != end; ++r)
        out.push_back(std::move(r->hit));
    return out;
}

}  // namespace loamway
