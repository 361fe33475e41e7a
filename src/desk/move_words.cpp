// SPDX-License-Identifier: Apache-2.0
#include "move_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

std::size_t check_word(const std::string& word, const std::vector<std::string_view>& words,
                       const std::string& what) {
    const auto found = std::find(words.begin(), words.end(), word);
    if (found != words.end())
        return static_cast<std::size_t>(found - words.begin());
    const std::string near = nearest_name(word, words);
    std::string known;
    for (const std::string_view w : words)
        known += fmt::format("{}{}", known.empty() ? "" : ", ", w);
    throw Error(ErrorKind::input, fmt::format("{} \"{}\" is not known", what, printable(word)),
                near.empty() ? fmt::format("one of {}", known) : fmt::format("did you mean {}?", near));
}

}  // namespace loamway
