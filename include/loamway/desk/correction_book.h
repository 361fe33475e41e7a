// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_CORRECTION_BOOK_H
#define LOAMWAY_DESK_CORRECTION_BOOK_H

// The corrections of one region, kept in a file beside it or in one that is named: read, added to, taken
// from.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "loamway/exchange/corrections.h"
#include "loamway/graph/correction_match.h"
#include "loamway/region/region.h"
#include "loamway/text/value.h"

namespace loamway {

/// A correction as somebody states it; exactly one of point, line and way.
struct CorrectionWanted {
    std::string kind;
    std::optional<std::string> at;    // "LAT,LON"
    std::optional<std::string> line;  // "LAT,LON;LAT,LON..."
    std::optional<std::int64_t> way;  // OpenStreetMap way id: all of it that the region holds
    std::string value, unit, from, to, by, note;
};

class CorrectionBook {
public:
    /// Reads the file; without `file` the one beside the region, which need not be there.
    CorrectionBook(const std::string& region_path, const std::optional<std::string>& file);

    [[nodiscard]] const std::string& path() const { return m_path; }
    [[nodiscard]] const std::vector<Correction>& corrections() const { return m_file.corrections; }

    /// Adds one under a new id and writes the file; several processes may add at once, none loses another's.
    /// Input Error when its parts do not fit each other, not_found when it lies on no road of the region or
    /// would change nothing: then nothing is written.
    [[nodiscard]] const Correction& add(const CorrectionWanted& wanted, const Region& region, Instant now);
    /// Takes one out and writes the file; not_found for an unknown id.
    void remove(const std::string& id);

private:
    [[nodiscard]] CorrectionFile read(bool must_be_there) const;
    std::string m_path;
    CorrectionFile m_file;
};

/// What somebody said of it, as JSON: id, kind, value, unit, from, to, by, noted, note; null what was not
/// said.
[[nodiscard]] Value::Object correction_said(const Correction& c);

/// A region's zone, UTC where it has none.
[[nodiscard]] TimeZone zone_of(const RegionMeta& meta);

}  // namespace loamway

#endif
