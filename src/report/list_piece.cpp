// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <utility>

#include "sheet_pieces.h"
#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double gutter = 12;
constexpr std::size_t short_list = 14;
constexpr double title_room = 13, room_below = 4;

class ListPiece : public SheetPiece {
public:
    ListPiece(std::string title, std::vector<ListEntry> entries, ListLook look)
        : m_title(std::move(title)), m_entries(std::move(entries)), m_look(look) {}

    [[nodiscard]] std::size_t count() const override { return m_entries.size(); }
    [[nodiscard]] bool keep_whole() const override { return m_entries.size() <= short_list; }

    [[nodiscard]] double height(const Canvas& canvas, std::size_t from, std::size_t to,
                                double width) const override {
        return title_height() + set_columns(canvas, from, to, width).height + room_below - m_look.closer;
    }

    void draw(Canvas& canvas, std::size_t from, std::size_t to, PagePoint at, double width) const override {
        draw_title(canvas, from, at, width);
        const Columns set = set_columns(canvas, from, to, width);
        double x = at.x, used = 0;
        for (std::size_t i = from; i < to; ++i) {
            const double h = set.heights[i - from];
            if (used > 0 && used + h > set.height + 0.01) {
                x += set.width + gutter;
                used = 0;
            }
            entry(canvas, m_entries[i], {x, at.y + title_height() + used}, set.width);
            used += h;
        }
    }

private:
    /// Half of what is asked for: the letters of the title need the rest.
    [[nodiscard]] double title_height() const { return title_room - m_look.closer / 2; }
    struct Columns {
        double width = 0, height = 0;
        std::vector<double> heights;  // of the entries
    };
    /// As many columns as make the list lowest: two long entries stand better side by side than three
    /// abreast.
    [[nodiscard]] Columns set_columns(const Canvas& canvas, std::size_t from, std::size_t to,
                                      double width) const {
        const double most = std::max(1.0, std::floor((width + gutter) / (m_look.least_column + gutter)));
        Columns best;
        for (double n = 1; n <= most; ++n) {
            Columns set;
            set.width = (width - (n - 1) * gutter) / n;
            set.heights = heights(canvas, from, to, set.width);
            set.height = balanced(set.heights, static_cast<std::size_t>(n));
            if (n == 1 || set.height < best.height)
                best = std::move(set);
        }
        return best;
    }
    [[nodiscard]] double text_left(const ListEntry& e) const {
        switch (e.mark) {
            case ListEntry::Mark::none:
                return 0;
            case ListEntry::Mark::bullet:
                return 7;
            case ListEntry::Mark::tick:
                return 12;
            case ListEntry::Mark::text:
                return m_look.label_width + 4;
            case ListEntry::Mark::warning:
                return m_look.label_width + (m_look.label_width > 0 ? 15 : 12);
        }
        return 0;
    }
    [[nodiscard]] Lettering letters(const ListEntry& e, double width) const {
        return {.size = m_look.size, .bold = e.strong, .ink = shade::ink, .width = width - text_left(e)};
    }
    [[nodiscard]] std::vector<double> heights(const Canvas& canvas, std::size_t from, std::size_t to,
                                              double column) const {
        std::vector<double> out;
        for (std::size_t i = from; i < to; ++i)
            out.push_back(canvas.measure(m_entries[i].text, letters(m_entries[i], column)).height +
                          m_look.gap);
        return out;
    }
    /// The least height at which the entries, in order, fit into that many columns.
    [[nodiscard]] static double balanced(const std::vector<double>& heights, std::size_t columns) {
        double total = 0, tallest = 0;
        for (const double h : heights) {
            total += h;
            tallest = std::max(tallest, h);
        }
        for (double limit = std::max(total / static_cast<double>(columns), tallest);; limit += 1) {
            std::size_t needed = 1;
            double used = 0;
            for (const double h : heights) {
                if (used > 0 && used + h > limit + 0.01) {
                    ++needed;
                    used = 0;
                }
                used += h;
            }
            if (needed <= columns)
                return limit;
        }
    }
    void draw_title(Canvas& canvas, std::size_t from, PagePoint at, double width) const {
        canvas.line({at.x, at.y + 0.5}, {at.x + width, at.y + 0.5}, {.ink = shade::ink, .width = 0.8});
        canvas.text({at.x, at.y + 2}, from == 0 ? m_title : m_title + ", continued",
                    {.size = 8, .bold = true, .ink = shade::ink, .width = width, .most_lines = 1});
    }
    void entry(Canvas& canvas, const ListEntry& e, PagePoint at, double width) const {
        const double middle = at.y + m_look.size * 0.6;
        switch (e.mark) {
            case ListEntry::Mark::none:
                break;
            case ListEntry::Mark::bullet: {
                const Fill black{.ink = shade::ink};
                canvas.circle({at.x + 2, middle}, 1.1, &black, nullptr);
                break;
            }
            case ListEntry::Mark::tick: {
                const Stroke thin{.ink = shade::ink, .width = 0.7};
                canvas.rectangle({at.x, middle - 4, 8, 8}, nullptr, &thin);
                break;
            }
            case ListEntry::Mark::warning:
                draw_warning(canvas, {at.x + text_left(e) - 7, middle}, 7);
                [[fallthrough]];
            case ListEntry::Mark::text:
                canvas.text({at.x + m_look.label_width, at.y}, e.label,
                            {.size = m_look.size, .bold = true, .ink = shade::ink, .align = Align::right});
                break;
        }
        canvas.text({at.x + text_left(e), at.y}, e.text, letters(e, width));
    }

    std::string m_title;
    std::vector<ListEntry> m_entries;
    ListLook m_look;
};

}  // namespace

std::unique_ptr<SheetPiece> list_piece(std::string title, std::vector<ListEntry> entries, ListLook look) {
    return std::make_unique<ListPiece>(std::move(title), std::move(entries), look);
}

}  // namespace loamway
