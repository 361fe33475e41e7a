// SPDX-License-Identifier: Apache-2.0
#include "hash.h"

#include <xxhash.h>

#include <algorithm>
#include <memory>
#include <new>

#include "format.h"

namespace loamway {

std::uint64_t hash64(std::span<const std::byte> bytes) {
    return XXH3_64bits(bytes.data(), bytes.size());
}

std::uint64_t hash64_padded(std::span<const std::byte> bytes) {
    const std::unique_ptr<XXH3_state_t, decltype(&XXH3_freeState)> state(XXH3_createState(), &XXH3_freeState);
    if (!state)
        throw std::bad_alloc();
    constexpr std::array<std::byte, section_alignment> zeros{};
    XXH3_64bits_reset(state.get());
    XXH3_64bits_update(state.get(), bytes.data(), bytes.size());
    XXH3_64bits_update(state.get(), zeros.data(), padded_size(bytes.size()) - bytes.size());
    return XXH3_64bits_digest(state.get());
}

std::array<std::uint8_t, 16> hash128(std::span<const std::byte> bytes) {
    XXH128_canonical_t canonical{};
    XXH128_canonicalFromHash(&canonical, XXH3_128bits(bytes.data(), bytes.size()));
    std::array<std::uint8_t, 16> result{};
    std::copy(std::begin(canonical.digest), std::end(canonical.digest), result.begin());
    return result;
}

std::string to_hex(std::span<const std::uint8_t> bytes) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (const std::uint8_t b : bytes) {
        text += digits[b >> 4];
        text += digits[b & 15];
    }
    return text;
}

}  // namespace loamway
