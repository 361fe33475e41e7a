// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_ERROR_H
#define LOAMWAY_BASE_ERROR_H

// The one exception type. Expected outcomes (no route, does not fit) are return values, not errors.

#include <exception>
#include <optional>
#include <string>
#include <string_view>

namespace loamway {

enum class ErrorKind {
    input,      // a wrong command line, file or value
    not_found,  // a name, place or road that is not there
    no_route,   // a valid question without an answer
    damaged,    // a region or other file of ours that is not whole
    io,         // disk full, no permission, read failed
    limit,      // a size or count beyond what is accepted
    internal    // a fault of the program
};

/// Where the trouble is. Empty fields are left out of the message.
struct ErrorPlace {
    std::string file;
    std::optional<int> line;
    std::string item;  // key, place name, way id: what inside the file
};

class Error : public std::exception {
public:
    /// `what_is_wrong` and `what_to_do` are phrases without a final stop; `what_to_do` may be empty.
    Error(ErrorKind kind, std::string what_is_wrong, std::string what_to_do = {}, ErrorPlace place = {});

    [[nodiscard]] ErrorKind kind() const { return m_kind; }
    [[nodiscard]] const std::string& message() const { return m_message; }
    [[nodiscard]] const std::string& what_to_do() const { return m_what_to_do; }
    [[nodiscard]] const ErrorPlace& place() const { return m_place; }
    /// "FILE:LINE: what is wrong (what to do)", always one line; control characters are replaced.
    /// place().item is for records: a message that needs it says it in its own words.
    [[nodiscard]] const char* what() const noexcept override { return m_line.c_str(); }

private:
    ErrorKind m_kind;
    std::string m_message;
    std::string m_what_to_do;
    ErrorPlace m_place;
    std::string m_line;
};

/// The word for a kind in JSON records: "input", "not_found", ...
[[nodiscard]] std::string_view error_kind_name(ErrorKind kind);

/// 1 the work failed, 2 wrong command line or input file, 3 a valid question without an answer.
[[nodiscard]] int exit_status(ErrorKind kind);

}  // namespace loamway

#endif
