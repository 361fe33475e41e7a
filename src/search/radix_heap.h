// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_RADIX_HEAP_H
#define LOAMWAY_SEARCH_RADIX_HEAP_H

// A queue for searches whose keys never fall (Ahuja, Mehlhorn, Orlin and Tarjan 1990). An entry lies in the
// bucket of the highest bit in which its key differs from the key taken last, so that it moves to a lower
// bucket a few times instead of up and down a tree. Equal keys come out in an order that depends only on the
// order in which they went in.

#include <array>
#include <bit>
#include <cstdint>
#include <limits>
#include <vector>

namespace loamway {

/// Entries have a member `key`, std::uint64_t.
template <class Entry>
class RadixHeap {
public:
    [[nodiscard]] bool empty() const { return m_size == 0; }

    /// A key below that of the entry taken last is taken next.
    void push(const Entry& entry) {
        m_buckets[bucket(entry.key)].push_back(entry);
        ++m_size;
    }
    /// Takes an entry with the least key out. Not empty.
    Entry pop() {
        if (m_buckets[0].empty())
            refill();
        const Entry least = m_buckets[0].back();
        m_buckets[0].pop_back();
        --m_size;
        return least;
    }

private:
    [[nodiscard]] std::size_t bucket(std::uint64_t key) const {
        return key <= m_last ? 0 : static_cast<std::size_t>(std::bit_width(key ^ m_last));
    }
    void refill() {
        std::size_t from = 1;
        while (m_buckets[from].empty())
            ++from;
        std::vector<Entry>& moved = m_buckets[from];
        std::uint64_t least = std::numeric_limits<std::uint64_t>::max();
        for (const Entry& e : moved)
            least = e.key < least ? e.key : least;
        m_last = least;
        for (const Entry& e : moved)
            m_buckets[bucket(e.key)].push_back(e);
        moved.clear();
    }

    std::array<std::vector<Entry>, 65> m_buckets;
    std::uint64_t m_last = 0;
    std::size_t m_size = 0;
};

}  // namespace loamway

#endif
