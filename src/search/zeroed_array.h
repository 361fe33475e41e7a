// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_ZEROED_ARRAY_H
#define LOAMWAY_SEARCH_ZEROED_ARRAY_H

// Arrays with a place for every state of a large map, of which one search writes few. The system hands out
// zeroed pages as they are written, so what is not touched costs neither time nor memory.

#include <cstddef>
#include <cstdlib>
#include <memory>
#include <new>
#include <type_traits>

namespace loamway {

/// All bytes zero at first.
template <class T>
class ZeroedArray {
    static_assert(std::is_trivially_copyable_v<T> && std::is_trivially_destructible_v<T>);

public:
    ZeroedArray() = default;
    explicit ZeroedArray(std::size_t size) : m_places(static_cast<T*>(std::calloc(size, sizeof(T)))) {
        if (!m_places && size > 0)
            throw std::bad_alloc();
    }
    [[nodiscard]] T& operator[](std::size_t i) { return m_places.get()[i]; }
    [[nodiscard]] const T& operator[](std::size_t i) const { return m_places.get()[i]; }

private:
    struct Free {
        void operator()(T* p) const { std::free(p); }
    };
    std::unique_ptr<T, Free> m_places;
};

/// Unsigned numbers, all at their greatest value at first.
template <class T>
class FarArray {
    static_assert(std::is_unsigned_v<T>);

public:
    FarArray() = default;
    explicit FarArray(std::size_t size) : m_complements(size) {}
    [[nodiscard]] T operator[](std::size_t i) const { return static_cast<T>(~m_complements[i]); }
    void set(std::size_t i, T value) { m_complements[i] = static_cast<T>(~value); }

private:
    ZeroedArray<T> m_complements;
};

}  // namespace loamway

#endif
