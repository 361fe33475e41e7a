// SPDX-License-Identifier: Apache-2.0
#include "dimensions.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace loamway {
namespace {

constexpr double arrow_length = 5;
constexpr double arrow_half = 1.6;
constexpr double text_size = 7.5;
constexpr double gap = 2;

void arrow(Canvas& c, PagePoint tip, double dx, double dy) {
    // (dx, dy): unit vector the arrow points along.
    const std::array<PagePoint, 3> ring{
        {tip,
         {tip.x - dx * arrow_length - dy * arrow_half, tip.y - dy * arrow_length + dx * arrow_half},
         {tip.x - dx * arrow_length + dy * arrow_half, tip.y - dy * arrow_length - dx * arrow_half}}};
    const Fill black{black_ink};
    c.polygon(ring, &black, nullptr);
}

Lettering letters(bool bold, Align align) {
    Lettering l;
    l.size = text_size;
    l.bold = bold;
    l.align = align;
    l.rise = Rise::middle;
    return l;
}

}  // namespace

void ScaledView::box(double from_m, double to_m, double low_m, double high_m, const Fill* fill,
                     const Stroke* stroke, double radius_m) const {
    const PagePoint a = at(from_m, high_m), b = at(to_m, low_m);
    m_canvas.rectangle({a.x, a.y, b.x - a.x, b.y - a.y}, fill, stroke, radius_m * m_scale);
}

void ScaledView::wheel(double at_m, double radius_m) const {
    const Fill tyre{Ink::grey(0.8)}, hub{white_ink};
    m_canvas.circle(at(at_m, radius_m), radius_m * m_scale, &tyre, &plain_line);
    m_canvas.circle(at(at_m, radius_m), radius_m * m_scale * 0.45, &hub, &thin_line);
}

void ScaledView::centre_of_mass(double along_m, double up_m) const {
    constexpr double radius = 5.5;
    const PagePoint c = at(along_m, up_m);
    const Fill white{white_ink}, black{black_ink};
    m_canvas.circle(c, radius, &white, &plain_line);
    for (const double start : {0.0, 180.0}) {
        std::vector<PagePoint> quarter{c};
        for (int i = 0; i <= 8; ++i) {
            const double a = (start + i * 90.0 / 8) * 3.14159265358979323846 / 180;
            quarter.push_back({c.x + radius * std::cos(a), c.y + radius * std::sin(a)});
        }
        m_canvas.polygon(quarter, &black, nullptr);
    }
}

void ScaledView::across(Length from, Length to, double page_y, Length lead_from, const std::string& text,
                        bool bold) const {
    const double a = x(from), b = x(to);
    const double lead = y(lead_from);
    const double beyond = page_y > lead ? 3 : -3;
    for (const double end : {a, b})
        m_canvas.line({end, lead}, {end, page_y + beyond}, thin_line);
    const Stroke& stroke = bold ? plain_line : thin_line;
    const double width = m_canvas.measure(text, letters(bold, Align::centre)).width;
    if (b - a > 2 * arrow_length + 2) {
        m_canvas.line({a, page_y}, {b, page_y}, stroke);
        arrow(m_canvas, {a, page_y}, -1, 0);
        arrow(m_canvas, {b, page_y}, 1, 0);
    } else {
        m_canvas.line({a - 12, page_y}, {b + 12, page_y}, stroke);
        arrow(m_canvas, {a, page_y}, 1, 0);
        arrow(m_canvas, {b, page_y}, -1, 0);
    }
    if (b - a > width + 2 * arrow_length + 4)
        word({(a + b) / 2, page_y}, text, letters(bold, Align::centre));
    else
        word({b + (b - a > 2 * arrow_length + 2 ? gap + 3 : 15), page_y}, text, letters(bold, Align::left));
}

void ScaledView::upright(Length low, Length high, double page_x, Length lead_from, const std::string& text,
                         bool bold) const {
    const double a = y(low), b = y(high);  // a lies below b on the page: a > b
    const double lead = x(lead_from);
    const double beyond = page_x > lead ? 3 : -3;
    for (const double end : {a, b})
        m_canvas.line({lead, end}, {page_x + beyond, end}, thin_line);
    const Stroke& stroke = bold ? plain_line : thin_line;
    if (a - b > 2 * arrow_length + 2) {
        m_canvas.line({page_x, a}, {page_x, b}, stroke);
        arrow(m_canvas, {page_x, a}, 0, 1);
        arrow(m_canvas, {page_x, b}, 0, -1);
    } else {
        m_canvas.line({page_x, a + 12}, {page_x, b - 12}, stroke);
        arrow(m_canvas, {page_x, a}, 0, -1);
        arrow(m_canvas, {page_x, b}, 0, 1);
    }
    const double width = m_canvas.measure(text, letters(bold, Align::centre)).width;
    if (a - b > width + 2 * arrow_length + 4) {
        m_words.push_back({{page_x, (a + b) / 2}, text, letters(bold, Align::centre), true});
    } else {
        word({page_x + beyond + (beyond > 0 ? 2 : -2), (a + b) / 2}, text,
             letters(bold, beyond > 0 ? Align::left : Align::right));
    }
}

void ScaledView::word(PagePoint at, const std::string& text, const Lettering& letters) const {
    m_words.push_back({at, text, letters, false});
}

void ScaledView::write_words() const {
    const Fill white{white_ink};
    for (const Word& w : m_words) {
        const Canvas::Frame frame(m_canvas);
        m_canvas.move(w.at.x, w.at.y);
        if (w.upright)
            m_canvas.rotate(-90);
        const TextExtent e = m_canvas.measure(w.text, w.letters);
        const double left = w.letters.align == Align::left    ? 0
                            : w.letters.align == Align::right ? -e.width
                                                              : -e.width / 2;
        const double up = w.letters.rise == Rise::top      ? 0
                          : w.letters.rise == Rise::bottom ? -e.height
                                                           : -e.height / 2;
        m_canvas.rectangle({left - 1.5, up, e.width + 3, e.height}, &white, nullptr);
        m_canvas.text({0, 0}, w.text, w.letters);
    }
}

}  // namespace loamway
