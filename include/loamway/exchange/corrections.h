// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_EXCHANGE_CORRECTIONS_H
#define LOAMWAY_EXCHANGE_CORRECTIONS_H

// A file of corrections: GeoJSON (RFC 7946, WGS84), schema loamway.corrections/1, described in README. Made
// by `loamway correct`, by hand or by any map program.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/region/correction.h"

namespace loamway {

struct CorrectionFile {
    std::vector<Correction> corrections;
    /// The highest number handed out in an id "c7" so far, so that an id is never used twice.
    std::int64_t last_number = 0;

    /// A new id; counts up.
    [[nodiscard]] std::string next_id();
};

/// Strict: a wrong key, word, date or geometry is an input Error with file and line.
[[nodiscard]] CorrectionFile read_corrections(const std::string& path);
[[nodiscard]] CorrectionFile parse_corrections(std::string_view json, const std::string& file);

/// An input Error without a place when the correction's parts do not fit each other: what the reader checks
/// and what a command must check before it adds one.
void check_correction(const Correction& c);

/// The document; the same corrections always give the same bytes.
[[nodiscard]] std::string corrections_to_json(const CorrectionFile& file);
/// Writes it whole or not at all.
void write_corrections(const CorrectionFile& file, const std::string& path);

}  // namespace loamway

#endif
