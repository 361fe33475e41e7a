// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_TEST_RANDOM_H
#define LOAMWAY_TESTS_SUPPORT_TEST_RANDOM_H

// Random numbers for tests, fixed by a seed.

#include <cstdint>

namespace loamway {

/// Deterministic everywhere, unlike the standard library's distributions.
class TestRandom {
public:
    explicit TestRandom(std::uint64_t seed) : m_state(seed) {}
    std::uint64_t next() {
        std::uint64_t z = (m_state += 0x9e3779b97f4a7c15u);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }
    std::uint32_t below(std::uint32_t n) { return static_cast<std::uint32_t>(next() % n); }
    bool chance(std::uint32_t percent) { return below(100) < percent; }

private:
    std::uint64_t m_state;
};

}  // namespace loamway

#endif
