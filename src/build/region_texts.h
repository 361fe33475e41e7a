// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_REGION_TEXTS_H
#define LOAMWAY_SRC_BUILD_REGION_TEXTS_H

// The texts and tag sets of the region in the making. Index 0 is the empty text and the empty set. Texts are
// made valid UTF-8 on their way in.

#include <cstdint>
#include <functional>
#include <string_view>
#include <vector>

#include "loamway/build/build.h"
#include "loamway/tags/tag_view.h"

namespace loamway {

class RegionTexts {
public:
    std::uint32_t add(std::string_view text);
    [[nodiscard]] std::string_view get(std::uint32_t index) const { return m_strings.get(index); }

    /// The tag set of those keys that `matters` keeps, sorted by key.
    std::uint32_t add_tag_set(const TagView& tags, const std::function<bool(std::string_view)>& matters);
    /// Views stay valid until the next add.
    [[nodiscard]] TagView tag_set(std::uint32_t index) const;
    [[nodiscard]] std::size_t tag_set_count() const { return m_sets.size(); }

    void move_to(RegionData& out);

private:
    StringPool m_strings;
    TagPool m_sets;
};

}  // namespace loamway

#endif
