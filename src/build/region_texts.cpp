// SPDX-License-Identifier: Apache-2.0
#include "region_texts.h"

#include <algorithm>

#include "loamway/base/names.h"

namespace loamway {

std::uint32_t RegionTexts::add(std::string_view text) {
    return is_utf8(text) ? m_strings.add(text) : m_strings.add(valid_utf8(text));
}

std::uint32_t RegionTexts::add_tag_set(const TagView& tags,
                                       const std::function<bool(std::string_view)>& matters) {
    std::vector<Tag> kept;
    std::ranges::copy_if(tags.all(), std::back_inserter(kept), matters, &Tag::key);
    std::ranges::sort(kept, {}, &Tag::key);
    std::vector<RawTag> list;
    for (const Tag& tag : kept) {
        const std::uint32_t key = add(tag.key);
        list.emplace_back(key, add(tag.value));
    }
    return m_sets.add(list);
}

TagView RegionTexts::tag_set(std::uint32_t index) const {
    TagView view;
    for (const auto& [key, value] : m_sets.get(index))
        view.add(get(key), get(value));
    return view;
}

void RegionTexts::move_to(RegionData& out) {
    out.tag_set_first = {0};
    out.tag_set_strings.clear();
    for (std::uint32_t i = 0; i < m_sets.size(); ++i) {
        for (const auto& [key, value] : m_sets.get(i)) {
            out.tag_set_strings.push_back(key);
            out.tag_set_strings.push_back(value);
        }
        out.tag_set_first.push_back(static_cast<std::uint32_t>(out.tag_set_strings.size()));
    }
    out.string_first = m_strings.first();
    out.string_bytes = m_strings.bytes();
}

}  // namespace loamway
