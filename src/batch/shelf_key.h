// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_SHELF_KEY_H
#define LOAMWAY_SRC_BATCH_SHELF_KEY_H

// What a move is planned with, as two digests: a worker takes only moves whose digests are its own, so that
// its answers are those the publisher would get. The region's digest has a part of its own because a person
// can look it up (region info).

#include <compare>
#include <string>
#include <string_view>

#include "loamway/desk/shelf.h"

namespace loamway {

struct ShelfKey {
    std::string region;  // digest of the region file
    std::string local;   // of program version, corrections, places, profiles and whether there is a ledger
    friend auto operator<=>(const ShelfKey&, const ShelfKey&) = default;
};

/// 32 hexadecimal digits.
[[nodiscard]] bool is_digest(std::string_view text);

/// Reads corrections and places again.
[[nodiscard]] ShelfKey shelf_key(const Shelf& shelf);

/// Tells whether the file of corrections, which each plan reads anew, is still the one it was.
class CorrectionsWatch {
public:
    explicit CorrectionsWatch(const Shelf& shelf);
    [[nodiscard]] bool changed() const;
    [[nodiscard]] const std::string& file() const { return m_file; }

private:
    std::string m_file;
    std::string m_stamp;
};

}  // namespace loamway

#endif
