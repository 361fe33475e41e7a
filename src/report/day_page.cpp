// SPDX-License-Identifier: Apache-2.0
#include "day_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "loamway/base/names.h"
#include "sheet_layout.h"
#include "sheet_moves.h"
#include "sheet_pieces.h"
#include "sheet_style.h"

namespace loamway {

namespace {

std::string fact_of(const SheetContent& s, std::string_view name) {
    for (const auto& [key, text] : s.facts)
        if (key == name)
            return text;
    return {};
}

class DayPage {
public:
    DayPage(Canvas& canvas, std::span<const SheetContent> moves) : m_c(canvas), m_moves(moves) {}

    void draw() {
        m_width = m_c.width() - 2 * page_margin;
        head();
        for (std::size_t i = 0; i < m_moves.size(); ++i)
            row(i);
        conflicts();
        draw_page_foot(m_c, m_moves.front().map_words, 1, 1);
    }

private:
    void head() {
        m_y = 24;
        m_y += m_c.text({page_margin, m_y}, day_title(m_moves), {.size = 24, .bold = true, .ink = shade::ink})
                   .height;
        m_c.text({page_margin, m_y},
                 fmt::format("{} moves. A sheet for each follows. Times in {}.", m_moves.size(),
                             m_moves.front().zone),
                 {.size = 9, .ink = shade::ink});
        m_y += 20;
    }
    void row(std::size_t i) {
        const SheetContent& s = m_moves[i];
        const double text_width = m_width - 110 - 110;
        const Lettering words{.size = 9, .ink = shade::ink, .width = text_width};
        const std::string line = fmt::format("{} to {}", fact_of(s, "From"), fact_of(s, "To"));
        const std::string below = fmt::format("{}. {}", fact_of(s, "Machine"), fact_of(s, "Way"));
        Lettering strong = words;
        strong.bold = true;
        strong.size = 10;
        const double high =
            std::max(44.0, m_c.measure(line, strong).height + m_c.measure(below, words).height + 12);
        if (m_y + high > m_c.height() - 60) {
            draw_page_foot(m_c, m_moves.front().map_words, 1, 1);
            m_c.next_page();
            m_y = 24;
        }
        m_c.line({page_margin, m_y}, {page_margin + m_width, m_y}, {.ink = shade::ink, .width = 0.8});
        m_c.text({page_margin, m_y + 5}, fmt::format("{}", i + 1),
                 {.size = 20, .bold = true, .ink = shade::ink});
        m_c.text({page_margin + 34, m_y + 5}, s.leave, {.size = 14, .bold = true, .ink = shade::ink});
        m_c.text({page_margin + 34, m_y + 24}, fmt::format("until {}", s.arrive),
                 {.size = 8, .ink = shade::ink});
        const double x = page_margin + 110;
        const double first = m_c.text({x, m_y + 5}, line, strong).height;
        m_c.text({x, m_y + 6 + first}, below, words);
        verdict(s, {page_margin + m_width - 100, m_y + 7, 100, 24});
        m_y += high;
    }
    void verdict(const SheetContent& s, const PageBox& box) {
        const Fill black{.ink = shade::ink};
        const Stroke frame{.ink = shade::ink, .width = 1.4};
        m_c.rectangle(box, s.can_be_done ? nullptr : &black, &frame, 3);
        m_c.text(box.centre(), s.headline,
                 {.size = s.headline.size() > 9 ? 9.0 : 12.0,
                  .bold = true,
                  .ink = s.can_be_done ? shade::ink : white_ink,
                  .align = Align::centre,
                  .rise = Rise::middle});
    }
    void conflicts() {
        m_c.line({page_margin, m_y}, {page_margin + m_width, m_y}, {.ink = shade::ink, .width = 0.8});
        m_y += 12;
        std::vector<ListEntry> entries;
        for (const std::string& text : day_conflicts(m_moves))
            entries.push_back({ListEntry::Mark::warning, {}, text, true});
        if (entries.empty())
            return;
        const auto list = list_piece("Does not go together", std::move(entries),
                                     {.size = 9, .least_column = 400, .label_width = 0, .gap = 3});
        list->draw(m_c, 0, list->count(), {page_margin, m_y}, m_width);
    }

    Canvas& m_c;
    std::span<const SheetContent> m_moves;
    double m_width = 0, m_y = 0;
};

}  // namespace

void draw_day_page(Canvas& canvas, std::span<const SheetContent> moves) {
    DayPage(canvas, moves).draw();
}

}  // namespace loamway
