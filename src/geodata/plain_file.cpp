// SPDX-License-Identifier: Apache-2.0
#include "plain_file.h"

#include <filesystem>
#include <system_error>

#include "loamway/base/error.h"
#include "loamway/base/file.h"

namespace loamway {

void require_plain_file(const std::string& path) {
    require_plain_path(path);
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found)
        throw Error(ErrorKind::not_found, "there is no such file", {}, {path, {}, {}});
    if (status.type() == std::filesystem::file_type::none)
        throw Error(ErrorKind::io, "cannot look at this file: " + error.message(), {}, {path, {}, {}});
    if (status.type() != std::filesystem::file_type::regular)
        throw Error(ErrorKind::input, "this is not a regular file", "name a file on disk", {path, {}, {}});
}

std::string name_of_file(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    return slash == std::string::npos ? path : path.substr(slash + 1);
}

}  // namespace loamway
