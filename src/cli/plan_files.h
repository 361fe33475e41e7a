// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_PLAN_FILES_H
#define LOAMWAY_SRC_CLI_PLAN_FILES_H

// What the commands that make files from plans share.

#include <array>
#include <string>
#include <string_view>
#include <utility>

#include "command.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// Errors name the file.
[[nodiscard]] Plan read_plan(const std::string& path);

/// Input Error unless the plan can be read and is not the file to be written.
void require_plan_apart(const std::string& plan, const std::string& output);

/// Throws the input Error for a file whose name says none of these formats.
[[noreturn]] void no_such_format(const std::string& path, const std::string& there);

/// What the ending of a file's name stands for.
template <class Make, std::size_t N>
Make format_for(const std::array<std::pair<std::string_view, Make>, N>& formats, const std::string& path) {
    const std::string extension = extension_of(path);
    std::string there;
    for (const auto& [name, make] : formats) {
        if (name == extension)
            return make;
        there += (there.empty() ? "." : ", .") + std::string(name);
    }
    no_such_format(path, there);
}

}  // namespace loamway

#endif
