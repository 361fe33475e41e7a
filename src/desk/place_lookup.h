// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_PLACE_LOOKUP_H
#define LOAMWAY_SRC_DESK_PLACE_LOOKUP_H

// From what a person types to a point: "LAT,LON", a place of the user's file, a place of the region.

#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/exchange/places.h"
#include "loamway/plan/inputs.h"
#include "loamway/region/region.h"

namespace loamway {

class PlaceLookup {
public:
    PlaceLookup(std::vector<PlaceEntry> own, const Region& region);

    /// An exact name before one that differs in case or accents, that before the beginning of a name, that
    /// before any part of it; among equals the user's own places come before the region's, and a town before
    /// what carries its name close by. not_found with suggestions for an unknown name, input Error listing
    /// the candidates for a name that several places carry. `what` ("from") and `place` are for messages.
    [[nodiscard]] NamedPoint find(const std::string& name, const std::string& what,
                                  const ErrorPlace& place) const;
    [[nodiscard]] const std::vector<PlaceEntry>& own() const { return m_own; }

private:
    struct Candidate {
        std::string_view name;
        GeoPoint point;
        std::string_view kind;
        int size = 0;                           // the order of PlaceKind: the largest first
        const PlaceEntry* unentered = nullptr;  // a field of which nobody has said where it is entered
    };
    [[nodiscard]] static std::vector<std::string> suggestions(const std::vector<Candidate>& own,
                                                              const std::vector<Candidate>& mapped,
                                                              const std::string& name);
    [[nodiscard]] NamedPoint guess_entrance(const PlaceEntry& field, const std::string& what,
                                            const ErrorPlace& place) const;
    [[nodiscard]] std::vector<Candidate> own_candidates() const;
    [[nodiscard]] std::vector<Candidate> region_candidates() const;
    using Hits = std::vector<const Candidate*>;
    [[nodiscard]] static Hits best_hits(const std::vector<Candidate>& own,
                                        const std::vector<Candidate>& mapped, const std::string& name);
    [[nodiscard]] static const Candidate* all_one_place(const Hits& hits);
    [[nodiscard]] static const Candidate* pick(const Hits& hits, const std::string& name,
                                               const std::string& what, const ErrorPlace& place);

    std::vector<PlaceEntry> m_own;
    const Region* m_region;
};

}  // namespace loamway

#endif
