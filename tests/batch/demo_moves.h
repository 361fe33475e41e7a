// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BATCH_DEMO_MOVES_H
#define LOAMWAY_TESTS_BATCH_DEMO_MOVES_H

// Moves through the invented county that take little time.

#include <fmt/format.h>

#include <string>
#include <vector>

namespace loamway::test {

inline std::string cheap_move(int i) {
    constexpr const char* ends[] = {"Nettle Farm yard", "Long Forty", "Crooked Eighty", "Kettle Quarter"};
    return fmt::format(
        R"({{"id":"m{}","from":"{}","to":"{}","machine":"medium","modes":["drive"],"trials":20,)"
        R"("conditions":{{"air_c":{}}},"depart":"2026-07-14T{:02}:00"}})",
        i, ends[i % 4], ends[(i + 1 + i / 4 % 3) % 4], 5 + i % 30, i % 24);
}

/// Among them lines that cannot be answered.
inline std::vector<std::string> cheap_moves(int count) {
    std::vector<std::string> out;
    for (int i = 0; i < count; ++i)
        out.push_back(cheap_move(i));
    if (count > 8) {
        out[3] = "{no json";
        out[4] = R"({"id":7,"from":"Nettle Farm yard","to":"nowhere at all","machine":"medium"})";
        out[5] = R"({"from":"Nettle Farm yard"})";
        out[6] = R"({"id":{"a":1}})";
    }
    return out;
}

}  // namespace loamway::test

#endif
