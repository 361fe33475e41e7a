// SPDX-License-Identifier: Apache-2.0
#include "command.h"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <system_error>

#include "loamway/base/file.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

std::string reason(int code) {
    return std::error_code(code, std::generic_category()).message();
}

std::string folder_of(const std::string& path) {
    const auto slash = path.rfind('/');
    if (slash == std::string::npos)
        return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

}  // namespace

double flag_number(std::string_view flag, const std::string& text, std::string_view unit) {
    double v = 0;
    const char* end = text.data() + text.size();
    const auto [stop, code] = std::from_chars(text.data(), end, v);
    if (code != std::errc() || stop != end || !std::isfinite(v))
        throw Error(ErrorKind::input, fmt::format("{} \"{}\" is not a number", flag, printable(text)),
                    fmt::format("{}, with a point for decimals", unit));
    return v + 0.0;  // never "-0": nobody means it, and it would be printed
}

std::int64_t flag_whole(std::string_view flag, const std::string& text, std::int64_t least,
                        std::string_view what) {
    std::int64_t v = 0;
    const char* end = text.data() + text.size();
    const auto [stop, code] = std::from_chars(text.data(), end, v);
    if (code != std::errc() || stop != end || v < least)
        throw Error(ErrorKind::input,
                    fmt::format("{} \"{}\" is not a whole number{}", flag, printable(text),
                                least > 0 ? " above zero" : ""),
                    std::string(what));
    return v;
}

int flag_count(std::string_view flag, const std::string& text, std::string_view what) {
    const std::int64_t v = flag_whole(flag, text, 1, what);
    if (v > std::numeric_limits<int>::max())
        throw Error(ErrorKind::input, fmt::format("{} \"{}\" is too large", flag, printable(text)),
                    std::string(what));
    return static_cast<int>(v);
}

std::vector<std::string> flag_list(std::string_view flag, const std::string& text) {
    std::vector<std::string> out(1);
    for (const char c : text) {
        if (c == ',')
            out.emplace_back();
        else
            out.back().push_back(c);
    }
    for (const std::string& piece : out)
        if (piece.empty())
            throw Error(ErrorKind::input, fmt::format("{} \"{}\" has an empty piece", flag, printable(text)),
                        "separate the words by single commas");
    return out;
}

void require_writable(const std::string& path) {
    if (path == "-")
        return;
    require_plain_path(path);
    struct stat info {};
    if (::stat(path.c_str(), &info) == 0 && S_ISDIR(info.st_mode))
        throw Error(ErrorKind::input, "this is a folder, not a file", "name a file in it", {path, {}, {}});
    const std::string folder = folder_of(path);
    if (::stat(folder.c_str(), &info) != 0 || !S_ISDIR(info.st_mode))
        throw Error(ErrorKind::input, fmt::format("there is no folder {}", printable(folder)),
                    "make it first or name another", {path, {}, {}});
    if (::access(folder.c_str(), W_OK) != 0)
        throw Error(ErrorKind::io, fmt::format("cannot write in {}: {}", printable(folder), reason(errno)),
                    "name another folder", {path, {}, {}});
}

void require_readable(const std::string& path) {
    if (path == "-")
        return;
    require_plain_path(path);
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0)
        throw Error(ErrorKind::not_found, "there is no such file", {}, {path, {}, {}});
    if (S_ISDIR(info.st_mode))
        throw Error(ErrorKind::input, "this is a folder, not a file", {}, {path, {}, {}});
    if (::access(path.c_str(), R_OK) != 0)
        throw Error(ErrorKind::input, fmt::format("cannot be read: {}", reason(errno)), {}, {path, {}, {}});
}

void require_apart(const std::vector<std::string>& inputs, const std::string& output, std::string_view what) {
    if (output.empty() || output == "-")
        return;
    for (const std::string& input : inputs) {
        std::error_code none;  // what is not there is no file to lose
        if (input == output || std::filesystem::equivalent(input, output, none))
            throw Error(ErrorKind::input, fmt::format("this would overwrite {}", what), "name another -o",
                        {output, {}, {}});
    }
}

void require_replaceable(const std::string& output, std::string_view start, std::string_view what) {
    std::error_code none;
    if (output == "-" || !std::filesystem::is_regular_file(output, none) ||
        std::filesystem::file_size(output, none) == 0)
        return;
    std::string there(start.size(), '\0');
    std::ifstream file(output, std::ios::binary);
    if (!file.read(there.data(), static_cast<std::streamsize>(there.size())) || there != start)
        throw Error(ErrorKind::input, fmt::format("there is a file of this name, and it is not {}", what),
                    "nothing was written: name another, or remove that one first", {output, {}, {}});
}

std::string extension_of(const std::string& path) {
    const auto slash = path.rfind('/');
    const std::string name = slash == std::string::npos ? path : path.substr(slash + 1);
    const auto dot = name.rfind('.');
    return dot == std::string::npos || dot == 0 ? std::string() : ascii_lower(name.substr(dot + 1));
}

Error in_file(const Error& e, const std::string& file) {
    ErrorPlace place = e.place();
    if (place.file.empty())
        place.file = file;
    return {e.kind(), e.message(), e.what_to_do(), place};
}

}  // namespace loamway
