// SPDX-License-Identifier: Apache-2.0
// The stops: what the trip meter will show, when, which side, what to do, a box to tick, room to write what
// it really was, and the place as a code for a phone.
#include <fmt/format.h>

#include <algorithm>

#include "sheet_pieces.h"
#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double title_height = 14;
constexpr double arrival_height = 24;
constexpr double code_size = 46;
constexpr double tick_width = 25, meter_width = 70, write_width = 74, gap = 6;
constexpr double most_pad = 4;

class StopsPiece : public SheetPiece {
public:
    StopsPiece(const SheetContent& content, double closer)
        : m_s(content), m_closer(closer), m_pad(most_pad - closer / 2) {}

    [[nodiscard]] std::size_t count() const override { return m_s.stops.size() + 1; }
    [[nodiscard]] bool keep_whole() const override { return false; }

    [[nodiscard]] double height(const Canvas& canvas, std::size_t from, std::size_t to,
                                double width) const override {
        double out = title_height + 5 - m_closer;
        for (std::size_t i = from; i < to; ++i)
            out += row_height(canvas, i, width);
        return out;
    }

    void draw(Canvas& canvas, std::size_t from, std::size_t to, PagePoint at, double width) const override {
        title(canvas, from, at, width);
        double y = at.y + title_height;
        for (std::size_t i = from; i < to; ++i) {
            const double h = row_height(canvas, i, width);
            i < m_s.stops.size() ? row(canvas, m_s.stops[i], {at.x, y, width, h})
                                 : arrival(canvas, {at.x, y, width, h});
            y += h;
            canvas.line({at.x, y}, {at.x + width, y}, {.ink = shade::rule, .width = 0.6});
        }
    }

private:
    struct Line {
        std::string text;
        double size;
        bool bold;
        bool warning;
    };
    [[nodiscard]] static double words_width(double width) {
        return width - tick_width - meter_width - write_width - code_size - 3 * gap;
    }
    [[nodiscard]] static std::vector<Line> lines(const SheetStop& s) {
        std::vector<Line> out{{s.title, 8.5, true, false}};
        out.push_back({s.side.empty() ? s.where : fmt::format("{}: {}", s.side, s.where), 7.6, false, false});
        std::string why = s.why;
        if (!s.steps.empty())
            why += fmt::format("{}Do list {}.", why.empty() ? "" : ". ", s.steps);
        if (!why.empty())
            out.push_back({why, 6.8, false, false});
        for (const std::string& caution : s.cautions)
            out.push_back({caution, 7, true, true});
        return out;
    }
    [[nodiscard]] static Lettering letters(const Line& l, double width) {
        return {.size = l.size, .bold = l.bold, .ink = shade::ink, .width = width - (l.warning ? 10 : 0)};
    }
    [[nodiscard]] double row_height(const Canvas& canvas, std::size_t i, double width) const {
        if (i >= m_s.stops.size())
            return arrival_height - m_closer;
        double out = 0;
        for (const Line& l : lines(m_s.stops[i]))
            out += canvas.measure(l.text, letters(l, words_width(width))).height + 1;
        return std::max({out, code_size, meter_height(m_s.stops[i])}) + 2 * m_pad;
    }

    static void title(Canvas& canvas, std::size_t from, PagePoint at, double width) {
        canvas.line({at.x, at.y + 0.5}, {at.x + width, at.y + 0.5}, {.ink = shade::ink, .width = 0.8});
        canvas.text({at.x, at.y + 2}, from == 0 ? "Stops" : "Stops, continued",
                    {.size = 8, .bold = true, .ink = shade::ink});
        canvas.text({at.x + width, at.y + 3}, "write what it really was; the code opens the place on a phone",
                    {.size = 6.3, .ink = shade::soft, .align = Align::right});
    }
    void row(Canvas& canvas, const SheetStop& s, const PageBox& box) const {
        const double top = box.y + m_pad;
        const Stroke thin{.ink = shade::ink, .width = 0.8};
        double x = box.x;
        draw_knot(canvas, {x + 9, top + 9}, 8, *s.stop, s.number);
        canvas.rectangle({x + 2, top + 24, 14, 14}, nullptr, &thin);
        x += tick_width;
        meter(canvas, s, {x, top});
        x += meter_width + gap;
        double y = top;
        for (const Line& l : lines(s)) {
            if (l.warning)
                draw_warning(canvas, {x + 4, y + 4.4}, 6.5);
            y += canvas.text({x + (l.warning ? 10 : 0), y}, l.text, letters(l, words_width(box.width)))
                     .height +
                 1;
        }
        x = box.right() - code_size - gap - write_width;
        write_here(canvas, {x, top});
        canvas.qr_code({box.right() - code_size, top, code_size, code_size}, s.geo);
        canvas.link({box.right() - code_size, top, code_size, code_size}, s.geo);
    }
    void meter(Canvas& canvas, const SheetStop& s, PagePoint at) const {
        const double wide = canvas.text(at, s.total, {.size = 17, .bold = true, .ink = shade::ink}).width;
        canvas.text({at.x + wide + 2, at.y + 8}, m_s.units.long_unit(), {.size = 7, .ink = shade::ink});
        canvas.text({at.x, at.y + 19}, s.arrive, {.size = 11, .bold = true, .ink = shade::ink});
        const std::string wait =
            s.wait.empty() ? std::string() : fmt::format("{}, on at {}\n", s.wait, s.leave);
        canvas.text({at.x, at.y + 33}, wait + since_words(s),
                    {.size = 6.2, .ink = shade::ink, .width = meter_width + gap});
    }
    /// Before leaving there is nothing to count from; one line where stop and powder were the same.
    [[nodiscard]] std::string since_words(const SheetStop& s) const {
        if (s.stop->at_m < 50)
            return {};
        if (s.since_powder.empty())
            return fmt::format("{} since last stop", s.since_stop);
        if (s.since_stop == s.since_powder)
            return fmt::format("{} {} since powder", s.since_stop, m_s.units.long_unit());
        return fmt::format("{} since last stop\n{} since powder", s.since_stop, s.since_powder);
    }
    /// The figures beside the words: meter, clock, and up to three small lines.
    [[nodiscard]] double meter_height(const SheetStop& s) const {
        constexpr double large = 33, small_line = 7.6;
        const std::string since = since_words(s);
        const auto lines =
            (s.wait.empty() ? 0 : 1) + (since.empty() ? 0 : 1) + std::count(since.begin(), since.end(), '\n');
        return large + small_line * static_cast<double>(lines);
    }
    static void blank(Canvas& canvas, PagePoint at, std::string_view name, double width) {
        canvas.text({at.x, at.y}, name, {.size = 6, .ink = shade::soft, .rise = Rise::bottom});
        canvas.line({at.x + 24, at.y - 1}, {at.x + width, at.y - 1}, {.ink = shade::ink, .width = 0.5});
    }
    void write_here(Canvas& canvas, PagePoint at) const {
        blank(canvas, {at.x, at.y + 13}, "clock", write_width);
        blank(canvas, {at.x, at.y + 29}, "meter", write_width);
        // The flank, half way up a bar, is what a reading is worth most from.
        if (m_s.at_the_belts)
            blank(canvas, {at.x, at.y + 45}, "flank °", write_width);
    }
    void arrival(Canvas& canvas, const PageBox& box) const {
        const double top = box.y + m_pad;
        const Fill black{.ink = shade::ink};
        canvas.rectangle({box.x + 4, top + 3, 9, 9}, &black, nullptr);
        double x = box.x + tick_width;
        const double wide = canvas
                                .text({x, top - 1}, m_s.units.exact_number(m_s.total_m),
                                      {.size = 13, .bold = true, .ink = shade::ink})
                                .width;
        canvas.text({x + wide + 2, top + 4.5}, m_s.units.long_unit(), {.size = 7, .ink = shade::ink});
        x += meter_width + gap;
        x += canvas.text({x, top}, m_s.arrive, {.size = 12, .bold = true, .ink = shade::ink}).width + 2 * gap;
        const double left = box.right() - code_size - gap - write_width;
        canvas.text({x, top + 8}, m_s.events.empty() ? std::string("Arrive") : m_s.events.back().text,
                    {.size = 7.5,
                     .bold = true,
                     .ink = shade::ink,
                     .rise = Rise::middle,
                     .width = left - x - gap,
                     .most_lines = 2});
        blank(canvas, {left, top + 14}, "clock", 58);
        blank(canvas, {left + 64, top + 14}, "meter", write_width + code_size + gap - 64);
    }

    const SheetContent& m_s;
    double m_closer, m_pad;
};

}  // namespace

std::unique_ptr<SheetPiece> stops_piece(const SheetContent& content, double closer) {
    return std::make_unique<StopsPiece>(content, closer);
}

}  // namespace loamway
