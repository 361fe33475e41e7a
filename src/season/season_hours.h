// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_HOURS_H
#define LOAMWAY_SRC_SEASON_SEASON_HOURS_H

// What each machine and each low-bed does hour by hour: for lists and pictures.

#include <string>
#include <vector>

#include "loamway/season/season.h"

namespace loamway {

enum class HourKind { work, driven, hauled, mixed, empty_run };

/// Within one day.
struct Hours {
    Instant from, to;
    HourKind kind = HourKind::work;
    std::string text;   // "drive 18 km (12 paved), 1 stop: Yard to Long Forty"
    std::string brief;  // "18 km"; of work the job
    std::optional<std::size_t> low_bed;
};

[[nodiscard]] std::vector<Hours> hours_of_machine(const Season& s, std::size_t machine);
[[nodiscard]] std::vector<Hours> hours_of_low_bed(const Season& s, std::size_t bed);

[[nodiscard]] TimeZone zone_of_season(const Season& s);
/// "Mon 2026-07-13"
[[nodiscard]] std::string day_words(const Season& s, Instant t);
/// "drive 18 km (12 paved), 1 stop"
[[nodiscard]] std::string way_words(const SeasonMove& m);
/// "12 jobs, 3 machines, 2 low-beds: ...; cost 9302 CU"
[[nodiscard]] std::string season_headline(const Season& s);
/// "This is the least-cost season." or how far it may be from it.
[[nodiscard]] std::string bound_words(const Season& s);
/// What differs between figures and the world, and how the season was found.
[[nodiscard]] std::vector<std::string> season_basis(const Season& s);

}  // namespace loamway

#endif
