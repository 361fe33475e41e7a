// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/error.h"

#include <fmt/format.h>

#include <utility>

#include "loamway/base/names.h"

namespace loamway {

namespace {

std::string one_line(const std::string& message, const std::string& what_to_do, const ErrorPlace& place) {
    std::string line;
    if (!place.file.empty())
        line += place.file + ":";
    if (place.line)
        line += fmt::format("{}{}:", place.file.empty() ? "line " : "", *place.line);
    if (!line.empty())
        line += ' ';
    line += message;
    if (!what_to_do.empty())
        line += " (" + what_to_do + ")";
    return printable(line);
}

}  // namespace

Error::Error(ErrorKind kind, std::string what_is_wrong, std::string what_to_do, ErrorPlace place)
    : m_kind(kind),
      m_message(std::move(what_is_wrong)),
      m_what_to_do(std::move(what_to_do)),
      m_place(std::move(place)),
      m_line(one_line(m_message, m_what_to_do, m_place)) {}

std::string_view error_kind_name(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::input:
            return "input";
        case ErrorKind::not_found:
            return "not_found";
        case ErrorKind::no_route:
            return "no_route";
        case ErrorKind::damaged:
            return "damaged";
        case ErrorKind::io:
            return "io";
        case ErrorKind::limit:
            return "limit";
        case ErrorKind::internal:
            return "internal";
    }
    return "internal";
}

int exit_status(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::input:
        case ErrorKind::not_found:
            return 2;
        case ErrorKind::no_route:
            return 3;
        case ErrorKind::damaged:
        case ErrorKind::io:
        case ErrorKind::limit:
        case ErrorKind::internal:
            return 1;
    }
    return 1;
}

}  // namespace loamway
