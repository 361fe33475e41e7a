// SPDX-License-Identifier: Apache-2.0
// The curve runs through the quarters lower left, upper left, upper right, lower right. In the two lower
// quarters it runs mirrored, so that it leaves each where the next begins. Four bits of each coordinate are
// taken at a time, through a table that is made once at compile time.
#include "hilbert.h"

#include <array>
#include <utility>

namespace loamway {

namespace {

/// How the coordinates are turned in the quarter reached: bit 0 swaps them, bit 1 inverts both.
using Turn = unsigned;

struct Step {
    std::uint8_t digits;  // four quarters, two bits each
    std::uint8_t turn;
};

constexpr Step step_of(Turn turn, unsigned x, unsigned y) {
    unsigned digits = 0;
    for (unsigned side = 8; side > 0; side >>= 1) {
        const bool invert = (turn & 2) != 0;
        bool right = ((x & side) != 0) != invert;
        bool upper = ((y & side) != 0) != invert;
        if ((turn & 1) != 0)
            std::swap(right, upper);
        digits = digits << 2 | (right ? (upper ? 2u : 3u) : (upper ? 1u : 0u));
        if (!upper)
            turn ^= right ? 3u : 1u;
    }
    return {static_cast<std::uint8_t>(digits), static_cast<std::uint8_t>(turn)};
}

constexpr std::array<Step, 1024> make_table() {
    std::array<Step, 1024> table{};
    for (unsigned i = 0; i < table.size(); ++i)
        table[i] = step_of(i >> 8, i >> 4 & 15, i & 15);
    return table;
}

constexpr std::array<Step, 1024> table = make_table();

}  // namespace

std::uint64_t hilbert_index(GeoPoint p) {
    const auto x = static_cast<std::uint32_t>(std::int64_t{p.lon_e7} + 1'800'000'000);
    const auto y = static_cast<std::uint32_t>(std::int64_t{p.lat_e7} + 900'000'000);
    std::uint64_t index = 0;
    Turn turn = 0;
    for (int shift = 28; shift >= 0; shift -= 4) {
        const Step step = table[turn << 8 | (x >> shift & 15) << 4 | (y >> shift & 15)];
        index = index << 8 | step.digits;
        turn = step.turn;
    }
    return index;
}

}  // namespace loamway
