// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_SURFACE_H
#define LOAMWAY_BASE_SURFACE_H

// The three surface classes that every part above speaks of. The numbers are stored in region files.

#include <array>
#include <cstdint>
#include <string_view>

namespace loamway {

enum class SurfaceClass : std::uint8_t { hard = 0, gravel = 1, earth = 2 };
constexpr std::size_t surface_class_count = 3;
constexpr std::array<std::string_view, 3> surface_class_names{"hard", "gravel", "earth"};
[[nodiscard]] constexpr std::string_view name_of(SurfaceClass c) {
    return surface_class_names[static_cast<std::size_t>(c)];
}

/// Probabilities are kept in steps of 1/200, so that expected lengths are exact integers.
constexpr std::uint32_t probability_steps = 200;

/// P(hard), P(gravel), P(earth); the three add up to probability_steps.
struct SurfaceOdds {
    std::uint8_t hard = 0;
    std::uint8_t gravel = 0;
    std::uint8_t earth = 0;
    /// Hard from one half on, else the likelier of gravel and earth (gravel when equal).
    [[nodiscard]] constexpr SurfaceClass likeliest() const {
        if (hard * 2u >= probability_steps)
            return SurfaceClass::hard;
        return gravel >= earth ? SurfaceClass::gravel : SurfaceClass::earth;
    }
    friend constexpr bool operator==(const SurfaceOdds&, const SurfaceOdds&) = default;
};

}  // namespace loamway

#endif
