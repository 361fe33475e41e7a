// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_CORRECTION_H
#define LOAMWAY_REGION_CORRECTION_H

// Local knowledge about a road or a place, laid over a region without building it again. A correction is
// bound to the map by its geometry alone, so that it outlives a newer map.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"

namespace loamway {

enum class CorrectionKind {
    surface,   // value: a surface word of OpenStreetMap
    closed,    // no way through
    limit,     // value: maxheight=3.8, maxwidth=, maxweight=, maxaxleload=; or =none
    stop,      // a place to stand and lubricate; value: its name, may be empty
    no_stop,   // no place to stand here, whatever the map says
    gate,      // value: locked, key or open
    loading,   // a place where a low-bed can load; value: its name, may be empty
    entrance,  // where a field is entered; value: the field's name
};
constexpr std::array<std::string_view, 8> correction_kind_names{"surface", "closed", "limit",   "stop",
                                                                "no_stop", "gate",   "loading", "entrance"};
[[nodiscard]] constexpr std::string_view name_of(CorrectionKind k) {
    return correction_kind_names[static_cast<std::size_t>(k)];
}

struct Correction {
    std::string id;
    CorrectionKind kind = CorrectionKind::closed;
    std::string value;
    std::string unit;      // of a limit: m, cm, ft, in; t, kg, lb; empty: m or t
    std::string from, to;  // "2026-07-14" or "2026-07-14T14:00"; the whole day of a date counts
    std::string by, noted, note;
    std::vector<GeoPoint> line;  // a single point, or a line along the road

    [[nodiscard]] bool is_point() const { return line.size() == 1; }
};

/// When a correction holds: from `begins` on and before `ends`; without a bound where none is said.
struct Validity {
    std::optional<Instant> begins, ends;
    [[nodiscard]] bool holds_at(Instant t) const { return (!begins || *begins <= t) && (!ends || t < *ends); }
    [[nodiscard]] bool over_at(Instant t) const { return ends && *ends <= t; }
    [[nodiscard]] bool overlaps(const Validity& other) const {
        return !(ends && other.begins && *ends <= *other.begins) &&
               !(other.ends && begins && *other.ends <= *begins);
    }
};

/// A date (its first moment, or with `end_of_day` the first moment of the next day) or a time. Input Error
/// without a place otherwise.
[[nodiscard]] Instant parse_date_or_time(std::string_view text, const TimeZone& zone, bool end_of_day);
/// Times of a correction that was checked when it was read.
[[nodiscard]] Validity validity_of(const Correction& c, const TimeZone& zone);

/// The limit a correction states: the OpenStreetMap key, and metres or tonnes; no figure: lifted.
struct StatedLimit {
    std::string key;
    std::optional<double> figure;
};
/// Input Error without a place when value and unit are no limit.
[[nodiscard]] StatedLimit stated_limit(const Correction& c);

/// "gravel", "maxheight 3.8 m", "closed": what a correction says, for people.
[[nodiscard]] std::string words_for(const Correction& c);

/// Where a region's own corrections lie: FILE.region.corrections.geojson.
[[nodiscard]] std::string corrections_beside(const std::string& region_path);

}  // namespace loamway

#endif
