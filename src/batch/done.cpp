// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <system_error>

#include "loamway/base/error.h"
#include "loamway/batch/batch.h"

namespace loamway {

BatchDone find_done(const std::string& path, const std::function<void(std::string_view)>& each) {
    BatchDone out;
    std::error_code failed;
    const auto size = std::filesystem::file_size(path, failed);
    if (failed)
        return out;
    std::ifstream file(path, std::ios::binary);
    if (!file)
        throw Error(ErrorKind::io, "cannot be read", "check its permissions", {path, {}, {}});
    std::uintmax_t whole = 0;
    for (std::string line; std::getline(file, line);) {
        if (file.eof())
            break;  // no end of line: the run was stopped while it wrote this one
        if (!line.starts_with("{\"id\":"))
            throw Error(ErrorKind::input, "this is no answer of a batch",
                        "name the output of the run to resume", {path, static_cast<int>(out.lines + 1), {}});
        whole += line.size() + 1;
        ++out.lines;
        if (each)
            each(line);
        out.last = std::move(line);
    }
    if (whole < size) {
        std::filesystem::resize_file(path, whole, failed);
        if (failed)
            throw Error(ErrorKind::io, fmt::format("cannot be cut to its whole lines: {}", failed.message()),
                        {}, {path, {}, {}});
    }
    return out;
}

}  // namespace loamway
