// SPDX-License-Identifier: Apache-2.0
#include "text_limits.h"

#include <fmt/format.h>

#include <optional>
#include <utility>

namespace loamway {

void check_size(std::string_view text, const std::string& name, const TextLimits& limits) {
    if (text.size() > limits.bytes)
        throw Error(
            ErrorKind::limit,
            fmt::format("the text has {} bytes, more than the {} accepted", text.size(), limits.bytes),
            "give a smaller document", {name, {}, {}});
}

Error too_deep(const std::string& name, int line, const TextLimits& limits) {
    return text_error(name, line, fmt::format("lists and tables are nested more than {} deep", limits.depth));
}

Error text_error(const std::string& name, int line, std::string what, std::string what_to_do) {
    ErrorPlace place{name, {}, {}};
    if (line > 0)
        place.line = line;
    return {ErrorKind::input, std::move(what), std::move(what_to_do), std::move(place)};
}

}  // namespace loamway
