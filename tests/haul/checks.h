// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_HAUL_CHECKS_H
#define LOAMWAY_TESTS_HAUL_CHECKS_H

// The check values in tests/haul/data/haul.json; its first line names their sources.

#include <stdexcept>
#include <string>
#include <string_view>

#include "loamway/text/value.h"
#include "support/test_files.h"

namespace loamway::test {

/// What stands at a path with bars between its names, for example "legal|tiedown_count" (names hold dots).
[[nodiscard]] inline const Value& check(std::string_view path) {
    static const Value document = [] {
        const std::string file = source_path("tests/haul/data/haul.json");
        return parse_json(slurp(file), file);
    }();
    const Value* at = &document;
    while (!path.empty()) {
        const std::size_t bar = path.find('|');
        at = at->find(path.substr(0, bar));
        if (at == nullptr)
            throw std::runtime_error("no check value " + std::string(path));
        path.remove_prefix(bar == std::string_view::npos ? path.size() : bar + 1);
    }
    return *at;
}
[[nodiscard]] inline double number(std::string_view path) {
    return check(path).number();
}

/// The numbers after each '=' of "N=3,L=12".
[[nodiscard]] inline int after(std::string_view text, std::string_view name) {
    const std::size_t at = text.find(name);
    if (at == std::string_view::npos)
        throw std::runtime_error("no " + std::string(name) + " in " + std::string(text));
    return std::stoi(std::string(text.substr(at + name.size())));
}

}  // namespace loamway::test

#endif
