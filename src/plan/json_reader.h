// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_JSON_READER_H
#define LOAMWAY_SRC_PLAN_JSON_READER_H

// Reads one of our own JSON documents, key by key, strict about types. Unlike Table it lets keys it does
// not know pass: a later version may have added them. Faults are input Errors with file, line and key path.

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

class JsonReader {
public:
    /// `value` and `file` must outlive the reader. `path` is the dotted name in messages.
    JsonReader(const Value& value, const std::string& file, std::string path = {});

    /// This value as a table; its member; its elements.
    [[nodiscard]] JsonReader at(std::string_view key) const;                    // must be there
    [[nodiscard]] std::optional<JsonReader> maybe(std::string_view key) const;  // nothing when absent or null
    [[nodiscard]] std::vector<JsonReader> items() const;
    [[nodiscard]] std::vector<JsonReader> items(std::size_t exactly) const;

    [[nodiscard]] double number() const;  // up to 1e9 either way
    [[nodiscard]] std::int64_t integer() const;
    [[nodiscard]] bool truth() const;
    [[nodiscard]] std::string text() const;  // null reads as empty
    [[nodiscard]] std::vector<std::string> texts() const;
    [[nodiscard]] std::size_t word(std::span<const std::string_view> words) const;

    [[nodiscard]] std::optional<double> maybe_number(std::string_view key) const;
    [[nodiscard]] std::optional<bool> maybe_truth(std::string_view key) const;

    [[nodiscard]] const Value& value() const { return *m_value; }
    [[nodiscard]] Error fault(std::string what, std::string what_to_do = {}) const;

private:
    const Value* m_value;
    const std::string* m_file;
    std::string m_path;
};

}  // namespace loamway

#endif
