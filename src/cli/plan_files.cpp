// SPDX-License-Identifier: Apache-2.0
#include "plan_files.h"

#include <fmt/format.h>

#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/value.h"

namespace loamway {

Plan read_plan(const std::string& path) {
    constexpr std::size_t largest_plan = std::size_t{256} << 20;
    return plan_from_json(
        parse_document(read_text_file(path, largest_plan), path, DocumentKind::plan, {.bytes = largest_plan}),
        path);
}

void require_plan_apart(const std::string& plan, const std::string& output) {
    require_readable(plan);
    require_apart({plan}, output, "the plan");
}

void no_such_format(const std::string& path, const std::string& there) {
    const std::string extension = extension_of(path);
    throw Error(ErrorKind::input,
                extension.empty() ? std::string("the file name says no format")
                                  : fmt::format("the format .{} is not there", printable(extension)),
                fmt::format("there is {}", there), {path, {}, {}});
}

}  // namespace loamway
