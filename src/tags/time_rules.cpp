// SPDX-License-Identifier: Apache-2.0
#include "time_rules.h"

#include <array>
#include <string>

#include "loamway/base/names.h"
#include "tag_text.h"

namespace loamway {

namespace {

// Longer than any value the map holds (255 characters); bounds the work on a stranger's text.
constexpr std::size_t longest_condition = 512;

constexpr std::array<std::string_view, 12> months{"jan", "feb", "mar", "apr", "may", "jun",
                                                  "jul", "aug", "sep", "oct", "nov", "dec"};
constexpr std::array<std::string_view, 7> weekdays{"su", "mo", "tu", "we", "th", "fr", "sa"};

// Reads the lower-cased text from left to right. Every take_ function either takes what it names or
// leaves the position alone.
class TimeReader {
public:
    explicit TimeReader(std::string_view text) : m_text(text) {}

    std::optional<std::vector<TimeRule>> rules() {
        std::vector<TimeRule> result;
        bool additional = false;
        for (;;) {
            std::optional<TimeRule> next = rule();
            if (!next)
                return std::nullopt;
            next->additional = additional;
            result.push_back(std::move(*next));
            if (at_end())
                return result;
            additional = take(',');
            if (!additional && !take(';'))
                return std::nullopt;
            if (!additional && at_end())  // a closing ";" is common
                return result;
        }
    }

private:
    std::optional<TimeRule> rule() {
        TimeRule result;
        if (take_word("24/7"))
            return result;
        read_dates(result);
        if (!result.dates.empty())
            take(':');
        read_weekdays(result);
        if (!read_hours(result))
            return std::nullopt;
        result.off = take_word("off") || take_word("closed");
        const bool nothing_read = result.dates.empty() && result.weekday_mask == 0 && !result.holidays &&
                                  result.hours.empty() && !result.off;
        return nothing_read ? std::nullopt : std::optional(std::move(result));
    }

    void read_dates(TimeRule& result) {
        do {
            const std::size_t before = m_at;
            if (!read_date_span(result)) {
                m_at = before;
                break;
            }
        } while (take_list_comma());
        give_back_comma();
    }

    bool read_date_span(TimeRule& result) {
        DateSpan span;
        std::optional<int> month = take_name(months);
        if (!month) {  // "Dec 24,26": another day of the month before
            const std::optional<int> more = result.dates.empty() ? std::nullopt : take_day();
            if (!more)
                return false;
            span.from_month = span.to_month = result.dates.back().to_month;
            span.from_day = span.to_day = *more;
        } else {
            span.from_month = span.to_month = *month + 1;
            if (const std::optional<int> day = take_day())
                span.from_day = span.to_day = *day;
        }
        const std::size_t before_dash = m_at;
        if (take('-')) {
            if (const std::optional<int> to = take_name(months)) {
                span.to_month = *to + 1;
                span.to_day = take_day().value_or(31);
            } else if (const std::optional<int> day = take_day()) {
                span.to_day = *day;
            } else {
                m_at = before_dash;
            }
        }
        result.dates.push_back(span);
        return true;
    }

    void read_weekdays(TimeRule& result) {
        do {
            const std::size_t before = m_at;
            if (take_word("ph") || take_word("sh")) {
                result.holidays = true;
                continue;
            }
            const std::optional<int> from = take_name(weekdays);
            if (!from) {
                m_at = before;
                break;
            }
            int to = *from;
            if (take('-'))
                to = take_name(weekdays).value_or(-1);
            if (to < 0) {
                m_at = before;
                break;
            }
            for (int day = *from;; day = (day + 1) % 7) {
                result.weekday_mask |= 1u << static_cast<unsigned>(day);
                if (day == to)
                    break;
            }
        } while (take_list_comma());
        give_back_comma();
    }

    // False when something like an hour is there and cannot be read.
    bool read_hours(TimeRule& result) {
        do {
            const std::size_t before = m_at;
            const std::optional<ClockEdge> from = take_edge();
            if (!from) {
                m_at = before;
                break;
            }
            const std::optional<ClockEdge> to = take('-') ? take_edge() : std::nullopt;
            if (!to)
                return false;
            result.hours.push_back({*from, *to});
        } while (take_list_comma());
        give_back_comma();
        return true;
    }

    std::optional<ClockEdge> take_edge() {
        using Kind = ClockEdge::Kind;
        if (take_word("sunrise"))
            return ClockEdge{Kind::sunrise, 0};
        if (take_word("sunset"))
            return ClockEdge{Kind::sunset, 0};
        if (take_word("dawn"))
            return ClockEdge{Kind::dawn, 0};
        if (take_word("dusk"))
            return ClockEdge{Kind::dusk, 0};
        const std::optional<int> hour = take_number();
        if (!hour || *hour > 48 || !take(':'))
            return std::nullopt;
        const std::optional<int> minute = take_number();
        if (!minute || *minute > 59)
            return std::nullopt;
        return ClockEdge{Kind::clock, *hour * 60 + *minute};
    }

    // A day of the month: a number that is not the hour of "07:00".
    std::optional<int> take_day() {
        const std::size_t before = m_at;
        const std::optional<int> day = take_number();
        const bool hour_follows = m_at < m_text.size() && m_text[m_at] == ':' && m_at + 1 < m_text.size() &&
                                  is_tag_digit(m_text[m_at + 1]);
        if (day && *day >= 1 && *day <= 31 && !hour_follows)
            return day;
        m_at = before;
        return std::nullopt;
    }

    std::optional<int> take_number() {
        skip_blanks();
        std::size_t end = m_at;
        int value = 0;
        while (end < m_text.size() && is_tag_digit(m_text[end]) && end - m_at < 3)
            value = value * 10 + (m_text[end++] - '0');
        if (end == m_at || end - m_at > 2)  // years have four digits and are not read
            return std::nullopt;
        m_at = end;
        return value;
    }

    template <std::size_t N>
    std::optional<int> take_name(const std::array<std::string_view, N>& names) {
        for (std::size_t i = 0; i < N; ++i)
            if (take_word(names[i]))
                return static_cast<int>(i);
        return std::nullopt;
    }

    bool take_word(std::string_view word) {
        skip_blanks();
        if (!m_text.substr(m_at).starts_with(word))
            return false;
        const std::size_t end = m_at + word.size();
        if (end < m_text.size() && is_tag_letter(m_text[end]))
            return false;
        m_at = end;
        return true;
    }

    bool take(char c) {
        skip_blanks();
        if (m_at >= m_text.size() || m_text[m_at] != c)
            return false;
        ++m_at;
        return true;
    }

    // A comma may also join whole rules: when no further item of the list follows it is given back.
    bool take_list_comma() {
        skip_blanks();
        m_comma_at = m_at;
        m_has_comma = take(',');
        m_after_comma = m_at;
        return m_has_comma;
    }
    void give_back_comma() {
        if (m_has_comma && m_at == m_after_comma)
            m_at = m_comma_at;
        m_has_comma = false;
    }

    void skip_blanks() {
        while (m_at < m_text.size() && is_tag_blank(m_text[m_at]))
            ++m_at;
    }
    bool at_end() {
        skip_blanks();
        return m_at == m_text.size();
    }

    std::string_view m_text;
    std::size_t m_at = 0;
    std::size_t m_comma_at = 0;
    std::size_t m_after_comma = 0;
    bool m_has_comma = false;
};

}  // namespace

std::optional<std::vector<TimeRule>> read_time_rules(std::string_view text) {
    if (text.size() > longest_condition)
        return std::nullopt;
    const std::string lower = ascii_lower(text);
    return TimeReader(lower).rules();
}

}  // namespace loamway
