// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_SETTLED_LABELS_H
#define LOAMWAY_SEARCH_SETTLED_LABELS_H

// What the stop search has settled, state by state, to tell whether a new label brings anything: one that is
// no better in any of weight, length and distance since the last lubrication, and may do no more, does not.
//
// Labels that stand at the same place and may do the same make a group. A group is a staircase in two of the
// three sums; each step keeps the third. Labels settle nearly in the order of their weight, so that the
// third seldom decides. A step is dropped when a new one lies below it in the two sums: that may let a
// needless label through later, never lose one that is needed.

#include <algorithm>
#include <cstdint>
#include <vector>

#include "zeroed_array.h"

namespace loamway {

class SettledLabels {
public:
    struct Group {
        std::uint32_t place = 0;  // offer stood at, or none
        bool dry = false, fresh = false, may_turn = false;
        friend bool operator==(const Group&, const Group&) = default;
    };
    /// `x` and `y` make the staircase, `z` is kept.
    struct Sums {
        std::uint64_t x = 0, y = 0, z = 0;
    };

    explicit SettledLabels(std::uint32_t states) : m_first(states) {}

    [[nodiscard]] bool beat(std::uint32_t state, const Group& group, const Sums& sums) const {
        for (std::uint32_t g = m_first[state]; g != none; g = m_groups[g].next)
            if (may_do_as_much(m_groups[g].group, group) && beat(m_groups[g].steps, sums))
                return true;
        return false;
    }
    void add(std::uint32_t state, const Group& group, const Sums& sums) {
        std::vector<Sums>& steps = steps_of(state, group);
        const auto begin = std::lower_bound(steps.begin(), steps.end(), sums.x,
                                            [](const Sums& s, std::uint64_t x) { return s.x < x; });
        auto end = begin;
        while (end != steps.end() && end->y >= sums.y)
            ++end;
        if (end == begin) {
            steps.insert(begin, sums);
        } else {
            *begin = sums;
            steps.erase(begin + 1, end);
        }
    }

private:
    static constexpr std::uint32_t none = 0xffffffffu;
    struct Steps {
        Group group;
        std::uint32_t next;       // group of the same state
        std::vector<Sums> steps;  // x rising, y falling
    };

    [[nodiscard]] static bool may_do_as_much(const Group& a, const Group& b) {
        return a.place == b.place && a.dry <= b.dry && a.fresh >= b.fresh && a.may_turn >= b.may_turn;
    }
    [[nodiscard]] static bool beat(const std::vector<Sums>& steps, const Sums& sums) {
        auto s = std::upper_bound(steps.begin(), steps.end(), sums.x,
                                  [](std::uint64_t x, const Sums& t) { return x < t.x; });
        while (s != steps.begin()) {
            --s;
            if (s->y > sums.y)
                return false;
            if (s->z <= sums.z)
                return true;
        }
        return false;
    }
    [[nodiscard]] std::vector<Sums>& steps_of(std::uint32_t state, const Group& group) {
        for (std::uint32_t g = m_first[state]; g != none; g = m_groups[g].next)
            if (m_groups[g].group == group)
                return m_groups[g].steps;
        m_groups.push_back({group, m_first[state], {}});
        m_first.set(state, static_cast<std::uint32_t>(m_groups.size() - 1));
        return m_groups.back().steps;
    }

    FarArray<std::uint32_t> m_first;  // by state: its last group
    std::vector<Steps> m_groups;
};

}  // namespace loamway

#endif
