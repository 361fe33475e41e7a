// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/quote_sheet.h"

#include <fmt/format.h>

#include <array>

#include "budget_words.h"
#include "page_foot.h"

namespace loamway {

namespace {

constexpr double margin = 42, top = 46, foot = 34;
constexpr double inner = a4_width - 2 * margin;
constexpr Ink ink{0.07, 0.07, 0.09, 1};
constexpr Ink soft{0.38, 0.38, 0.40, 1};
constexpr Ink rule{0.70, 0.70, 0.72, 1};
constexpr Ink panel{0.945, 0.94, 0.925, 1};

/// Columns of the table of jobs: left edge or right edge from the margin, by how it is set.
struct Column {
    const char* head;
    double at, width;
    Align align;
};
constexpr std::array<Column, 8> columns{{{"Job", 0, 112, Align::left},
                                         {"Move to it", 118, 122, Align::left},
                                         {"Field h", 276, 34, Align::right},
                                         {"Fuel l", 312, 34, Align::right},
                                         {"Bars up to °C", 366, 52, Align::right},
                                         {"Belts mm (% of a set)", 432, 64, Align::right},
                                         {"Cost", 470, 36, Align::right},
                                         {"Price", 511, 38, Align::right}}};

/// Shares of a bar told apart by pattern, so that a print without colour tells them apart too.
constexpr std::array<std::pair<Pattern, double>, 6> bar_fills{{{Pattern::solid, 0.25},
                                                               {Pattern::diagonal, 0.35},
                                                               {Pattern::dots, 0.30},
                                                               {Pattern::horizontal, 0.40},
                                                               {Pattern::crossed, 0.45},
                                                               {Pattern::vertical, 0.40}}};

class QuotePages {
public:
    QuotePages(const Budget& budget, PictureFormat format) : m_b(budget), m_canvas(setup(budget, format)) {}

    std::string finish() {
        head();
        jobs();
        causes();
        what_ifs();
        days();
        basis();
        footer();
        return m_canvas.finish();
    }

private:
    static CanvasSetup setup(const Budget& b, PictureFormat format) {
        CanvasSetup s;
        s.format = format;
        s.title = b.title.empty() ? "Budget of jobs" : b.title;
        s.subject = "belt wear, fuel, time and cost of jobs";
        if (!b.jobs.empty())
            s.date = b.jobs.front().depart;
        return s;
    }
    static Lettering letters(double size, bool bold = false, Ink colour = ink) {
        Lettering l;
        l.size = size;
        l.bold = bold;
        l.ink = colour;
        return l;
    }

    void room_for(double height) {
        if (m_y + height <= a4_height - foot - 12)
            return;
        footer();
        m_canvas.next_page();
        ++m_page;
        m_y = top;
    }
    double paragraph(const std::string& text, const Lettering& l, double indent = 0) {
        Lettering wide = l;
        wide.width = inner - indent;
        const double height = m_canvas.measure(text, wide).height;
        room_for(height);
        m_canvas.text({margin + indent, m_y}, text, wide);
        m_y += height;
        return height;
    }
    void heading(const std::string& text) {
        m_y += 12;
        room_for(40);
        m_canvas.text({margin, m_y}, text, letters(10.5, true));
        m_y += 16;
    }
    void line(double y, double width) {
        m_canvas.line({margin, y}, {margin + inner, y}, Stroke{rule, width});
    }

    void head() {
        paragraph(m_b.title.empty() ? "Budget of jobs" : m_b.title, letters(18, true));
        m_y += 3;
        paragraph(fmt::format("{}; belts {}{}", m_b.machine, m_b.belts,
                              m_b.jobs.empty() ? "" : "; from " + moment_words(m_b, m_b.jobs.front().depart)),
                  letters(9.5, false, soft));
        if (!m_b.ledger.empty())
            paragraph("Ledger " + m_b.ledger, letters(9.5, false, soft));
        m_y += 8;
        const PageBox box{margin, m_y, inner, 46};
        const Fill fill{panel};
        m_canvas.rectangle(box, &fill, nullptr, 4);
        Lettering large = letters(20, true);
        m_canvas.text({margin + 12, m_y + 9}, fmt::format("{:.0f} {}", m_b.price, m_b.currency), large);
        Lettering side = letters(9);
        side.align = Align::right;
        const BudgetSum& s = m_b.sum;
        m_canvas.text({margin + inner - 12, m_y + 8},
                      fmt::format("cost {:.0f} ({:.0f} to {:.0f}) {}", s.cost.value, s.cost.low, s.cost.high,
                                  m_b.margin > 0 ? fmt::format("and {:g} % on top", 100 * m_b.margin) : ""),
                      side);
        m_canvas.text({margin + inner - 12, m_y + 25},
                      fmt::format("{:.0f} h in the field, {} on the road, {:.2f} % of a set of belts",
                                  s.field.hours(), format_duration(s.road), 100 * s.wear_share.value),
                      side);
        m_y += 54;
        if (m_b.not_done() > 0)
            paragraph(not_done_words(m_b) + ".", letters(10, true));
    }

    void cells(const std::array<std::string, 8>& texts, bool bold) {
        double height = 0;
        std::array<Lettering, 8> styles;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            styles[i] = letters(8.5, bold);
            styles[i].align = columns[i].align;
            styles[i].width = columns[i].width;
            height = std::max(height, m_canvas.measure(texts[i].empty() ? " " : texts[i], styles[i]).height);
        }
        room_for(height + 6);
        m_y += 3;
        for (std::size_t i = 0; i < columns.size(); ++i)
            if (!texts[i].empty())
                m_canvas.text({margin + columns[i].at, m_y}, texts[i], styles[i]);
        m_y += height + 3;
    }
    static std::array<std::string, 8> figures(const std::string& name, const std::string& move,
                                              const std::string& heat, const BudgetSum& s, double price) {
        return {name,
                move,
                fmt::format("{:.1f}", s.field.hours()),
                fmt::format("{:.0f}", s.fuel_l),
                heat,
                fmt::format("{:.3f} ({:.2f})", s.wear_mm.value, 100 * s.wear_share.value),
                fmt::format("{:.0f}", s.cost.value),
                fmt::format("{:.0f}", price)};
    }

    void jobs() {
        heading("Jobs");
        std::array<std::string, 8> heads;
        for (std::size_t i = 0; i < columns.size(); ++i)
            heads[i] = columns[i].head;
        cells(heads, true);
        line(m_y, 0.8);
        for (const JobBudget& j : m_b.jobs) {
            std::string name = j.name;
            if (j.hectares)
                name += fmt::format(", {:g} ha{}", *j.hectares, per_hectare_words(m_b, j));
            cells(figures(name, move_words(j), heat_words_of(j), j.sum, j.price), false);
            line(m_y, 0.3);
        }
        const BudgetSum& s = m_b.sum;
        cells(figures("Sum",
                      fmt::format("{:.0f} km driven, {:.0f} hauled", s.driven_m / 1000, s.hauled_m / 1000),
                      "", s, m_b.price),
              true);
        cells({"may be", "", "", fmt::format("to {:.0f}", s.fuel_high_l), "",
               fmt::format("{:.3f} to {:.3f}", s.wear_mm.low, s.wear_mm.high), "", ""},
              false);
        Lettering range = letters(8.5);
        range.align = Align::right;
        m_canvas.text({margin + inner, m_y - range.size - 5},
                      fmt::format("{:.0f} to {:.0f}", s.cost.low, s.cost.high), range);
    }

    void bar(const std::string& name, const std::vector<std::pair<std::string, double>>& parts) {
        double all = 0;
        for (const auto& [part, value] : parts)
            all += value;
        if (!(all > 0))
            return;
        room_for(38);
        const double left = margin + 70, width = inner - 70, height = 13;
        m_canvas.text({margin, m_y + 2}, name, letters(8.5, true));
        double x = left;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const double w = width * parts[i].second / all;
            const auto& [pattern, grey] = bar_fills[i % bar_fills.size()];
            Fill fill{Ink::grey(grey), pattern};
            fill.spacing = 4;
            const Stroke edge{ink, 0.6};
            m_canvas.rectangle({x, m_y, w, height}, &fill, &edge);
            x += w;
        }
        m_y += height + 3;
        x = left;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const auto& [pattern, grey] = bar_fills[i % bar_fills.size()];
            Fill fill{Ink::grey(grey), pattern};
            fill.spacing = 3;
            const Stroke edge{ink, 0.6};
            m_canvas.rectangle({x, m_y + 1.5, 8, 8}, &fill, &edge);
            const std::string words = fmt::format("{} {:.0f} %", parts[i].first, 100 * parts[i].second / all);
            x += 11 + m_canvas.text({x + 11, m_y}, words, letters(8)).width + 12;
        }
        m_y += 18;
    }

    void causes() {
        heading("Where it goes");
        bar("Cost", cost_causes(m_b.sum.causes));
        bar("Belt wear", wear_causes(m_b.sum.wear_causes));
    }

    void what_ifs() {
        if (m_b.what_ifs.empty())
            return;
        heading("What if");
        const auto row = [&](const std::string& name, const std::string& cost, const std::string& more,
                             const std::string& share, const std::string& note, bool bold) {
            room_for(14);
            Lettering l = letters(8.5, bold), r = l;
            r.align = Align::right;
            m_canvas.text({margin, m_y}, name, l);
            m_canvas.text({margin + 300, m_y}, cost, r);
            m_canvas.text({margin + 360, m_y}, more, r);
            m_canvas.text({margin + 430, m_y}, share, r);
            m_canvas.text({margin + inner, m_y}, note, r);
            m_y += 13;
        };
        row("", "Cost", "more", "% of a set", "", true);
        for (const WhatIfResult& w : m_b.what_ifs)
            row(w.name, fmt::format("{:.0f}", w.sum.cost.value), more_words(m_b, w.sum, w.not_done),
                fmt::format("{:.2f}", 100 * w.sum.wear_share.value),
                w.not_done == 0 ? "" : fmt::format("{} cannot be done", w.not_done), false);
    }

    [[nodiscard]] std::string day_words(const JobBudget& j) const {
        if (!j.moves)
            return fmt::format("at {}", j.to);
        if (!j.can_be_done)
            return fmt::format("{} to {} cannot be done", j.from, j.to);
        return fmt::format("{}{} to {}, arrives {}", j.powder_first ? "powder, then " : "", j.from, j.to,
                           moment_words(m_b, j.arrive).substr(11));
    }
    void days() {
        heading("Days");
        for (const JobBudget& j : m_b.jobs) {
            const std::string done = j.works ? fmt::format("; done {}", moment_words(m_b, j.ends)) : "";
            paragraph(fmt::format("{}  {}: {}{}", moment_words(m_b, j.depart), j.name, day_words(j), done),
                      letters(8.5));
            for (const std::string& why : j.why_not)
                paragraph(why, letters(8.5, true), 14);
            m_y += 1.5;
        }
    }

    void basis() {
        heading("Basis");
        paragraph(fmt::format("{}; money in {}.", basis_words(m_b.basis), m_b.currency), letters(8.5));
        m_y += 3;
        paragraph(band_words(m_b), letters(8.5));
        m_y += 3;
        for (const std::string& what : m_b.to_confirm) {
            paragraph(what, letters(8.5, true));
            m_y += 3;
        }
        std::string assumed;
        for (const std::string& a : m_b.assumed)
            assumed += (assumed.empty() ? "" : "; ") + a;
        paragraph("Assumed, because nobody said: " + assumed + ".", letters(8.5));
        m_y += 3;
        for (const std::string& caution : budget_cautions(m_b)) {
            paragraph(caution, letters(8.5, true));
            m_y += 3;
        }
    }

    void footer() {
        draw_page_foot(
            m_canvas, {margin, foot, soft, rule, {}, m_b.region_name, m_b.map_date, m_b.attribution}, m_page);
    }

    const Budget& m_b;
    Canvas m_canvas;
    double m_y = top;
    int m_page = 1;
};

}  // namespace

std::string quote_sheet(const Budget& budget, PictureFormat format) {
    return QuotePages(budget, format).finish();
}

}  // namespace loamway
