// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_MOVE_WORDS_H
#define LOAMWAY_SRC_DESK_MOVE_WORDS_H

// Ranges and words of a move, the same for documents and flags.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/text/table.h"

namespace loamway {

namespace desk_limits {
constexpr Range air_c{-50, 60};
constexpr Range sun{0, 1};
constexpr Range cloud{0, 1};
constexpr Range since_lube_km{0, 1000};
constexpr Range belt_hours{0, 30000};
constexpr Range bar_mm{2, 150};  // what the heat estimate can take
constexpr Range detour_cap{0, 10};
constexpr Range snap_km{0.01, 50};
constexpr Range front_point{1, 1000};
constexpr Range trials{1, 1e6};
constexpr Range seed{0, 9e15};
constexpr Range also_kg{0, 60000};
constexpr Range also_m{0, 20};
constexpr Range also_min{0, 240};
constexpr Range also_cost{0, 1e6};
}  // namespace desk_limits

namespace desk_words {
inline std::vector<std::string_view> belts() {
    return {"new", "run-in", "washed"};
}
inline std::vector<std::string_view> grounds() {
    return {"dry", "dusty", "moist", "wet", "frozen"};
}
inline std::vector<std::string_view> modes() {
    return {"drive", "haul", "mixed"};
}
inline std::vector<std::string_view> ways_to_move_along() {
    return {"same-deck", "own-trip", "stays"};
}
inline std::vector<std::string_view> bases() {
    return {"marginal", "full"};
}
inline std::vector<std::string_view> units() {
    return {"metric", "imperial"};
}
}  // namespace desk_words

/// The number of a word among those known; input Error with the nearest or all of them.
std::size_t check_word(const std::string& word, const std::vector<std::string_view>& words,
                       const std::string& what);

}  // namespace loamway

#endif
