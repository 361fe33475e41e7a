// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_RANDOM_H
#define LOAMWAY_COSTS_RANDOM_H

// SplitMix64 (Steele, Lea and Flood 2014). The distributions of the standard library differ from one library
// to the next; this generator gives the same numbers everywhere.

#include <cstdint>

namespace loamway {

class SplitMix64 {
public:
    explicit constexpr SplitMix64(std::uint64_t seed) : m_state(seed) {}
    constexpr std::uint64_t next() {
        m_state += 0x9e3779b97f4a7c15u;
        std::uint64_t z = m_state;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }
    /// From 0 up to, not including, 1, in steps of 2^-53.
    constexpr double uniform() { return static_cast<double>(next() >> 11) * 0x1p-53; }

private:
    std::uint64_t m_state;
};

}  // namespace loamway

#endif
