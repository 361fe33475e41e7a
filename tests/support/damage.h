// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_DAMAGE_H
#define LOAMWAY_TESTS_SUPPORT_DAMAGE_H

// Damages a text the way files get damaged: bytes changed, pieces lost, doubled, swapped for other tokens.

#include <array>
#include <cstdint>
#include <random>
#include <string>
#include <string_view>

namespace loamway::test {

class Damage {
public:
    explicit Damage(std::uint32_t seed) : m_random(seed) {}

    /// One to four faults in a copy of the text.
    std::string of(const std::string& text) {
        std::string out = text;
        for (std::size_t left = 1 + below(4); left > 0 && !out.empty(); --left)
            one(out);
        return out;
    }

private:
    std::size_t below(std::size_t limit) { return m_random() % limit; }
    void one(std::string& text) {
        static constexpr std::array<std::string_view, 14> tokens{
            "null", "true", "-1",     "1e9", "-1e9",        "0",    "\"\"",
            "[]",   "{}",   "1e-300", "180", "\"\\u0000\"", "[[]]", "9999999"};
        const std::size_t at = below(text.size());
        switch (below(5)) {
            case 0:
                text[at] = static_cast<char>(below(256));
                break;
            case 1:
                text.erase(at, 1 + below(20));
                break;
            case 2:
                text.insert(at, text.substr(below(text.size()), 1 + below(40)));
                break;
            case 3: {  // a value gives way to another kind of value
                const std::size_t colon = text.find(':', at);
                if (colon == std::string::npos)
                    break;
                const std::size_t end = text.find_first_of(",}]", colon);
                text.replace(colon + 1, end == std::string::npos ? std::string::npos : end - colon - 1,
                             tokens[below(tokens.size())]);
                break;
            }
            default:
                text.resize(at);
        }
    }
    std::mt19937 m_random;
};

}  // namespace loamway::test

#endif
