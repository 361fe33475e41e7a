// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_TEXT_TEXT_LIMITS_H
#define LOAMWAY_SRC_TEXT_TEXT_LIMITS_H

// The checks that both readers share.

#include <string>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

void check_size(std::string_view text, const std::string& name, const TextLimits& limits);
[[nodiscard]] Error too_deep(const std::string& name, int line, const TextLimits& limits);
[[nodiscard]] Error text_error(const std::string& name, int line, std::string what,
                               std::string what_to_do = {});

}  // namespace loamway

#endif
