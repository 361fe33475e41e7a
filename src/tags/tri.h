// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TRI_H
#define LOAMWAY_TAGS_TRI_H

// Yes, no, or not to be decided here: the outcome of every condition in a tag.

#include <optional>

namespace loamway {

enum class Tri { no, yes, unknown };

[[nodiscard]] constexpr Tri tri(bool b) {
    return b ? Tri::yes : Tri::no;
}
[[nodiscard]] constexpr Tri tri(const std::optional<bool>& b) {
    return b ? tri(*b) : Tri::unknown;
}
[[nodiscard]] constexpr Tri tri_not(Tri a) {
    return a == Tri::unknown ? a : tri(a == Tri::no);
}
[[nodiscard]] constexpr Tri tri_and(Tri a, Tri b) {
    if (a == Tri::no || b == Tri::no)
        return Tri::no;
    return a == Tri::yes && b == Tri::yes ? Tri::yes : Tri::unknown;
}
[[nodiscard]] constexpr Tri tri_or(Tri a, Tri b) {
    return tri_not(tri_and(tri_not(a), tri_not(b)));
}

}  // namespace loamway

#endif
