// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_PLACE_SEARCH_H
#define LOAMWAY_DESK_PLACE_SEARCH_H

// Places offered while a name is being typed.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/exchange/places.h"
#include "loamway/region/region.h"

namespace loamway {

[[nodiscard]] std::string_view word_for(PlaceKind kind);  // "town", "farm" ...

struct PlaceHit {
    std::string name;
    std::string_view kind;  // "town", "farm" ...; "your place", "your field"
    GeoPoint point;
    bool own = false;
};

/// The best first: names that are equal, that begin so, that have the text in them (from three letters on, as
/// a move's place is found); the user's own before the region's, larger before smaller. An empty text
/// offers all. At most `most`.
[[nodiscard]] std::vector<PlaceHit> search_places(const std::vector<PlaceEntry>& own, const Region& region,
                                                  std::string_view text, std::size_t most);

}  // namespace loamway

#endif
