// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PROFILE_DEFAULT_READER_H
#define LOAMWAY_SRC_PROFILE_DEFAULT_READER_H

// Keys of a profile that may be left out.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/text/table.h"

namespace loamway {

/// Reads keys that have a default and notes the ones that were left out, so that a plan can say so.
class DefaultReader {
public:
    DefaultReader(Table& table, std::vector<std::string>& assumed) : m_table(table), m_assumed(assumed) {}

    double number(std::string_view key, Range range, double fallback) {
        const std::optional<double> given = m_table.number(key, range);
        return given ? *given : left_out(key, fallback);
    }
    std::int64_t integer(std::string_view key, Range range, std::int64_t fallback) {
        const std::optional<std::int64_t> given = m_table.integer(key, range);
        return given ? *given : left_out(key, fallback);
    }
    template <class T>
    T left_out(std::string_view key, T fallback) {
        m_assumed.push_back(m_table.path().empty() ? std::string(key)
                                                   : m_table.path() + "." + std::string(key));
        return fallback;
    }

private:
    Table& m_table;
    std::vector<std::string>& m_assumed;
};

}  // namespace loamway

#endif
