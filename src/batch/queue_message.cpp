// SPDX-License-Identifier: Apache-2.0
#include "queue_message.h"

#include <fmt/format.h>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/region/digest.h"
#include "loamway/text/table.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::string_view schema = "loamway.move/1";
constexpr std::size_t longest_run = 64;
constexpr std::size_t longest_key = 200;  // an index of a database takes no more than some 2 kB
constexpr double largest_whole = 9007199254740992.0;

bool is_run_name(const std::string& run) {
    return !run.empty() && run.size() <= longest_run &&
           run.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
               std::string::npos;
}

std::string digest_at(Table& head, std::string_view key) {
    std::string text = head.require_text(key);
    if (!is_digest(text))
        throw head.error_at(key, fmt::format("{} is no digest", key));
    return text;
}

Error no_move(std::string_view why, ErrorKind kind = ErrorKind::input) {
    return {kind, fmt::format("a message of the queue is no move: {}", why)};
}

template <class T>
T there(const std::optional<T>& value, std::string_view key) {
    if (!value)
        throw no_move(fmt::format("{} is missing", key));
    return *value;
}

QueueMove read_head(std::string_view text) {
    const Value document = parse_json(text, "message", {.bytes = longest_head, .depth = 2});
    Table head(document, "message");
    QueueMove m;
    if (head.require_text("schema") != schema)
        throw no_move("another schema");
    m.run = head.require_text("run");
    if (!is_run_name(m.run))
        throw no_move("its run has no proper name");
    m.number = static_cast<std::uint64_t>(there(head.integer("number", {1, largest_whole}), "number"));
    m.shelf.region = digest_at(head, "region");
    m.shelf.local = digest_at(head, "local");
    m.choices = there(head.boolean("choices"), "choices");
    m.at = {there(head.integer("at", {-largest_whole, largest_whole}), "at")};
    head.finish();
    return m;
}

}  // namespace

void require_run_name(const std::string& run) {
    if (!is_run_name(run))
        throw Error(ErrorKind::input, fmt::format("--run \"{}\" is no name of a run", printable(run)),
                    "up to 64 letters, digits, \"-\", \"_\", \".\"");
}

std::string write_queue_move(const QueueMove& m) {
    return to_json(Value::Object{{"schema", schema},
                                 {"run", m.run},
                                 {"number", static_cast<std::int64_t>(m.number)},
                                 {"region", m.shelf.region},
                                 {"local", m.shelf.local},
                                 {"choices", m.choices},
                                 {"at", m.at.unix_seconds}}) +
           "\n" + m.line;
}

QueueMove read_queue_move(std::string_view bytes) {
    const std::size_t end = bytes.substr(0, longest_head + 1).find('\n');
    if (end == std::string_view::npos)
        throw no_move("it has no head");
    if (bytes.size() - end - 1 > longest_queue_line)
        throw no_move("it is too large", ErrorKind::limit);
    QueueMove m = read_head(bytes.substr(0, end));
    m.line = bytes.substr(end + 1);
    if (m.line.find('\n') != std::string::npos)
        throw no_move("it has more than one line");
    return m;
}

std::string move_key(const QueueMove& m) {
    std::string key = fmt::format("line {}", m.number);
    try {
        const Value document = parse_json(m.line, "line", {.bytes = longest_queue_line});
        const Value* id = document.find("id");
        if (id != nullptr && (id->as_string() != nullptr || id->as_integer() != nullptr))
            key = to_json(*id);
    } catch (const Error&) {
        // The line is answered with what is wrong with it, under its number.
    }
    // No JSON begins like this.
    return key.size() <= longest_key ? key : "#" + digest_of_text(key);
}

std::string move_digest(const QueueMove& m) {
    return digest_of_text(fmt::format("{} {} {}\n{}", m.shelf.region, m.shelf.local, m.choices, m.line));
}

}  // namespace loamway
