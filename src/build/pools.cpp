// SPDX-License-Identifier: Apache-2.0
// Texts and lists of tags held once: open addressing with linear probing, at most two thirds full.
#include <algorithm>
#include <limits>

#include "loamway/base/error.h"
#include "loamway/build/build.h"

namespace loamway {

namespace {

constexpr std::size_t first_table_size = 1024;  // a power of two, as every later size

/// FNV-1a, then a finishing mix so that the low bits depend on all of the text.
std::uint64_t text_hash(std::string_view text) {
    std::uint64_t h = 0xcbf29ce484222325u;
    for (const char c : text)
        h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
    return h ^ (h >> 32);
}

std::uint64_t tags_hash(std::span<const RawTag> tags) {
    std::uint64_t h = 0x9e3779b97f4a7c15u;
    for (const auto& [key, value] : tags) {
        h = (h ^ ((std::uint64_t{key} << 32) | value)) * 0xff51afd7ed558ccdu;
        h ^= h >> 32;
    }
    return h;
}

/// The slot that holds an equal entry, or the free one where it belongs.
template <class IsEqual>
std::size_t find_slot(const std::vector<std::uint32_t>& table, std::uint64_t hash, IsEqual is_equal) {
    const std::size_t mask = table.size() - 1;
    std::size_t slot = static_cast<std::size_t>(hash) & mask;
    while (table[slot] != 0 && !is_equal(table[slot] - 1))
        slot = (slot + 1) & mask;
    return slot;
}

template <class HashOf>
void grow_table(std::vector<std::uint32_t>& table, std::size_t entries, HashOf hash_of) {
    std::vector<std::uint32_t> larger(table.size() * 2);
    for (std::uint32_t i = 0; i < entries; ++i)
        larger[find_slot(larger, hash_of(i), [](std::uint32_t) { return false; })] = i + 1;
    table = std::move(larger);
}

void require_room(std::size_t have, std::size_t more, std::string_view what) {
    if (have + more >= std::numeric_limits<std::uint32_t>::max())
        throw Error(ErrorKind::limit, std::string("the extract has too many ") + std::string(what),
                    "cut it into smaller extracts");
}

}  // namespace

StringPool::StringPool() : m_first{0}, m_table(first_table_size) {
    add({});
}

std::uint32_t StringPool::add(std::string_view text) {
    const auto equal = [&](std::uint32_t i) { return get(i) == text; };
    std::size_t slot = find_slot(m_table, text_hash(text), equal);
    if (m_table[slot] != 0)
        return m_table[slot] - 1;
    require_room(m_bytes.size(), text.size(), "different texts");
    if ((size() + 1) * 3 > m_table.size() * 2) {
        grow_table(m_table, size(), [&](std::uint32_t i) { return text_hash(get(i)); });
        slot = find_slot(m_table, text_hash(text), equal);
    }
    m_bytes.insert(m_bytes.end(), text.begin(), text.end());
    m_first.push_back(static_cast<std::uint32_t>(m_bytes.size()));
    m_table[slot] = static_cast<std::uint32_t>(size());
    return static_cast<std::uint32_t>(size() - 1);
}

std::string_view StringPool::get(std::uint32_t index) const {
    return {m_bytes.data() + m_first[index], m_first[index + 1] - m_first[index]};
}

TagPool::TagPool() : m_first{0}, m_table(first_table_size) {
    add({});
}

std::uint32_t TagPool::add(std::span<const RawTag> tags) {
    const auto equal = [&](std::uint32_t i) { return std::ranges::equal(get(i), tags); };
    std::size_t slot = find_slot(m_table, tags_hash(tags), equal);
    if (m_table[slot] != 0)
        return m_table[slot] - 1;
    require_room(m_tags.size(), tags.size(), "different tags");
    if ((size() + 1) * 3 > m_table.size() * 2) {
        grow_table(m_table, size(), [&](std::uint32_t i) { return tags_hash(get(i)); });
        slot = find_slot(m_table, tags_hash(tags), equal);
    }
    m_tags.insert(m_tags.end(), tags.begin(), tags.end());
    m_first.push_back(static_cast<std::uint32_t>(m_tags.size()));
    m_table[slot] = static_cast<std::uint32_t>(size());
    return static_cast<std::uint32_t>(size() - 1);
}

std::span<const RawTag> TagPool::get(std::uint32_t index) const {
    return std::span(m_tags).subspan(m_first[index], m_first[index + 1] - m_first[index]);
}

}  // namespace loamway
