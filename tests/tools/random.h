// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_RANDOM_H
#define LOAMWAY_TESTS_TOOLS_RANDOM_H

// Random numbers that are the same on every machine and with every standard library (splitmix64). Each stage
// of a map draws from its own stream, so that a change in one stage does not shuffle all the others. Two
// draws never stand in one argument list or one product: compilers may take them in either order.

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace loamway {

[[nodiscard]] constexpr std::uint64_t mix64(std::uint64_t x) {
    x += 0x9e3779b97f4a7c15ULL;
    x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
    return x ^ (x >> 31U);
}

class Random {
public:
    Random(std::uint64_t seed, std::string_view stream) : m_state(seed) {
        for (const char c : stream) {
            m_state = mix64(m_state ^ static_cast<unsigned char>(c));
        }
    }
    [[nodiscard]] std::uint64_t next() {
        m_state += 0x9e3779b97f4a7c15ULL;
        return mix64(m_state);
    }
    /// In [0, 1), in steps of 2^-53.
    [[nodiscard]] double unit() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }
    [[nodiscard]] double between(double low, double high) { return low + (high - low) * unit(); }
    /// Between low and high, with either sign.
    [[nodiscard]] double either_side(double low, double high) {
        const double magnitude = between(low, high);
        return chance(0.5) ? magnitude : -magnitude;
    }
    [[nodiscard]] std::size_t below(std::size_t n) { return static_cast<std::size_t>(next() % n); }
    [[nodiscard]] bool chance(double p) { return unit() < p; }

private:
    std::uint64_t m_state;
};

}  // namespace loamway

#endif
