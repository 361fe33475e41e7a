// SPDX-License-Identifier: Apache-2.0
#include "place_lookup.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <tuple>

#include "field_mouth.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/desk/place_search.h"
#include "search_key.h"

namespace loamway {

namespace {

constexpr std::size_t most_candidates = 5;
constexpr std::size_t most_suggestions = 3;
// A part of a name must have this many letters.
constexpr std::size_t shortest_part = 3;
constexpr int no_hit = 4;

// "47,0700 9,5030": a position in a form that is not read.
bool looks_like_figures(std::string_view text) {
    return text.find_first_of("0123456789") != std::string_view::npos &&
           text.find_first_not_of("0123456789 .,;-+/") == std::string_view::npos;
}

}  // namespace

std::string_view word_for(PlaceKind kind) {
    constexpr std::array<std::string_view, 8> words{"city",   "town",     "village", "hamlet",
                                                    "suburb", "locality", "farm",    "place"};
    const auto index = static_cast<std::size_t>(kind);
    return index < words.size() ? words[index] : words.back();
}

PlaceLookup::PlaceLookup(std::vector<PlaceEntry> own, const Region& region)
    : m_own(std::move(own)), m_region(&region) {}

std::vector<PlaceLookup::Candidate> PlaceLookup::own_candidates() const {
    std::vector<Candidate> out;
    for (const PlaceEntry& p : m_own)
        out.push_back(
            {p.name, p.point, p.field ? "your field" : "your place", 0, p.entrance_known ? nullptr : &p});
    return out;
}

std::vector<PlaceLookup::Candidate> PlaceLookup::region_candidates() const {
    std::vector<Candidate> out;
    const RegionView& view = m_region->view();
    out.reserve(view.places.size());
    for (const PlaceRecord& p : view.places)
        out.push_back(
            {view.string(p.name), {p.lat_e7, p.lon_e7}, word_for(p.kind), static_cast<int>(p.kind)});
    return out;
}

// Exactness counts before origin: the region's "Mill" before the user's "Old Mill Field".
PlaceLookup::Hits PlaceLookup::best_hits(const std::vector<Candidate>& own,
                                         const std::vector<Candidate>& mapped, const std::string& name) {
    const std::string wanted = search_key(name);
    const auto exactness = [&](const Candidate& c) {
        if (c.name == name)
            return 0;
        const std::string key = search_key(c.name);
        if (key == wanted)
            return 1;
        if (wanted.size() < shortest_part)
            return no_hit;
        const auto at = key.find(wanted);
        return at == std::string::npos ? no_hit : at == 0 ? 2 : 3;
    };
    Hits best;
    int best_exactness = no_hit;
    for (const auto* list : {&own, &mapped}) {
        Hits hits;
        int least = best_exactness;
        for (const Candidate& c : *list) {
            const int e = exactness(c);
            if (e > least || e == no_hit || (e == best_exactness && list == &mapped))
                continue;
            if (e < least) {
                hits.clear();
                least = e;
            }
            hits.push_back(&c);
        }
        if (!hits.empty()) {
            best = std::move(hits);
            best_exactness = least;
        }
    }
    return best;
}

// A map has a town's name at its middle, at its station and on a part of it: whoever says it means the town.
// A yard that is a place to stop too stands twice in a list, at one spot.
const PlaceLookup::Candidate* PlaceLookup::all_one_place(const Hits& hits) {
    const Length part_of_it = Length::from_km(1.5), same_spot = Length::from_metres(30);
    if (hits.empty())
        return nullptr;
    const auto known_first = [](const Candidate* a, const Candidate* b) {
        return std::tuple(a->size, a->unentered != nullptr) < std::tuple(b->size, b->unentered != nullptr);
    };
    const Candidate* main = *std::min_element(hits.begin(), hits.end(), known_first);
    const bool one = std::all_of(hits.begin(), hits.end(), [&](const Candidate* c) {
        return distance(main->point, c->point) <= (c->size > main->size ? part_of_it : same_spot);
    });
    return one ? main : nullptr;
}

const PlaceLookup::Candidate* PlaceLookup::pick(const Hits& hits, const std::string& name,
                                                const std::string& what, const ErrorPlace& place) {
    if (const Candidate* one = all_one_place(hits))
        return one;
    if (hits.empty())
        return nullptr;
    std::vector<std::string> listed;
    for (std::size_t i = 0; i < hits.size() && i < most_candidates; ++i)
        listed.push_back(fmt::format("{} ({}) {:.6f},{:.6f}", printable(hits[i]->name), hits[i]->kind,
                                     hits[i]->point.lat(), hits[i]->point.lon()));
    const std::string more =
        hits.size() > most_candidates ? fmt::format(" and {} more", hits.size() - most_candidates) : "";
    throw Error(ErrorKind::input,
                fmt::format("{} \"{}\" stands for {} places", what, printable(name), hits.size()),
                fmt::format("give one as LAT,LON: {}{}", fmt::join(listed, "; "), more), place);
}

NamedPoint PlaceLookup::guess_entrance(const PlaceEntry& field, const std::string& what,
                                       const ErrorPlace& place) const {
    const std::string name = printable(field.name);
    const auto mouth = likeliest_mouth(m_region->view(), field.outline);
    if (!mouth)
        throw Error(
            ErrorKind::input,
            fmt::format("{}: where the field \"{}\" is entered is not known, and no road comes near it", what,
                        name),
            fmt::format("say it once: loamway correct add --region F --kind entrance --value \"{}\" --at "
                        "LAT,LON; the field has a corner at {:.5f},{:.5f}",
                        name, field.point.lat(), field.point.lon()),
            place);
    const std::string where = mouth->metres < 1 ? "" : fmt::format(", {:.0f} m from its edge", mouth->metres);
    return {field.name, mouth->point,
            fmt::format(
                "entrance of {} not known: taken at {}{} ({:.5f},{:.5f}). Confirm once: loamway correct add "
                "--region F --kind entrance --value \"{}\" --at LAT,LON",
                name, mouth->what, where, mouth->point.lat(), mouth->point.lon(), name)};
}

// What is near the whole name, else near one of its words: "rivr" is the River field.
std::vector<std::string> PlaceLookup::suggestions(const std::vector<Candidate>& own,
                                                  const std::vector<Candidate>& mapped,
                                                  const std::string& name) {
    std::vector<std::string_view> names;
    for (const auto* list : {&own, &mapped})
        for (const Candidate& c : *list)
            names.push_back(c.name);
    std::vector<std::string> near = nearest_names(name, names, most_suggestions);
    for (auto n = names.begin(); near.empty() && name.size() > shortest_part && n != names.end(); ++n)
        for (std::string_view rest = *n; near.empty() && !rest.empty();) {
            const std::array word{rest.substr(0, rest.find(' '))};
            if (!nearest_name(name, word).empty())
                near.push_back(printable(*n));
            rest.remove_prefix(std::min(rest.size(), word.front().size() + 1));
        }
    return near;
}

NamedPoint PlaceLookup::find(const std::string& name, const std::string& what,
                             const ErrorPlace& place) const {
    try {
        if (const std::optional<GeoPoint> point = parse_lat_lon(name))
            return {name, *point};
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("{} \"{}\": {}", what, printable(name), e.message()),
                    e.what_to_do(), place);
    }
    const std::vector<Candidate> own = own_candidates();
    const std::vector<Candidate> mapped = region_candidates();
    if (const Candidate* c = pick(best_hits(own, mapped, name), name, what, place)) {
        if (c->unentered != nullptr)
            return guess_entrance(*c->unentered, what, place);
        return {std::string(c->name), c->point};
    }

    const std::vector<std::string> near = suggestions(own, mapped, name);
    const std::string hint = !near.empty() ? fmt::format("did you mean {}?", fmt::join(near, ", "))
                             : looks_like_figures(name)
                                 ? "write LAT,LON in degrees, with points for decimals"
                                 : "give LAT,LON, or a name from your places or the map";
    throw Error(ErrorKind::not_found, fmt::format("{} \"{}\" is no place known here", what, printable(name)),
                hint, place);
}

}  // namespace loamway
