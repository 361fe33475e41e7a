// SPDX-License-Identifier: Apache-2.0
#include "toml_depth.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace loamway {

namespace {

class DepthScan {
public:
    DepthScan(std::string_view text, int most) : m_text(text), m_most(most) {}

    int run() {
        while (m_at < m_text.size()) {
            step(m_text[m_at]);
            if (m_total > m_most)
                return m_line;
        }
        return 0;
    }

private:
    void step(char c) {
        switch (c) {
            case '#':
                m_at = std::min(m_text.find('\n', m_at), m_text.size());
                return;
            case '"':
            case '\'':
                skip_string(c);
                return;
            case '.':
                ++m_dots.back();
                ++m_total;
                break;
            case '[':
            case '{':
                m_dots.push_back(0);
                ++m_total;
                break;
            case ']':
            case '}':
                pop();
                break;
            case '\n':
                ++m_line;
                restart();
                break;
            case ',':
                restart();
                break;
            default:
                break;
        }
        ++m_at;
    }

    void pop() {
        if (m_dots.size() == 1)
            return;
        m_total -= m_dots.back() + 1;
        m_dots.pop_back();
    }
    /// The next key or value begins at this level.
    void restart() {
        m_total -= m_dots.back();
        m_dots.back() = 0;
    }

    /// Texts may hold any of the signs above. Only the double quote knows the backslash; three quotes in a
    /// row open a text of several lines, which may itself end in up to two more.
    void skip_string(char quote) {
        const std::size_t run = quotes(quote, 6);
        if (run == 2 || run == 6) {
            m_at += run;
            return;
        }
        const bool multi_line = run >= 3;
        m_at += multi_line ? 3 : 1;
        while (m_at < m_text.size()) {
            const char c = m_text[m_at];
            if (c == '\n' && !multi_line)
                return;
            if (c == '\\' && quote == '"') {
                ++m_at;
                if (m_at < m_text.size() && m_text[m_at] == '\n')
                    ++m_line;
                ++m_at;
                continue;
            }
            if (c == '\n')
                ++m_line;
            if (c != quote) {
                ++m_at;
                continue;
            }
            const std::size_t here = quotes(quote, multi_line ? 5 : 1);
            m_at += here;
            if (!multi_line || here >= 3)
                return;
        }
    }
    [[nodiscard]] std::size_t quotes(char quote, std::size_t most) const {
        std::size_t n = 0;
        while (n < most && m_at + n < m_text.size() && m_text[m_at + n] == quote)
            ++n;
        return n;
    }

    std::string_view m_text;
    int m_most;
    std::size_t m_at = 0;
    int m_line = 1;
    int m_total = 0;
    std::vector<int> m_dots{0};  // dots of the key at hand, for each bracket that is open
};

}  // namespace

int first_too_deep_line(std::string_view text, int most) {
    return DepthScan(text, most).run();
}

}  // namespace loamway
