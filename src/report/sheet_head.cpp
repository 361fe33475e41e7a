// SPDX-License-Identifier: Apache-2.0
#include "sheet_head.h"

#include <fmt/format.h>

#include <algorithm>

#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double band_height = 50;
constexpr double cap_width = 74;

class Head {
public:
    Head(Canvas& canvas, const PageBox& box, const SheetContent& content, bool draw)
        : m_c(canvas), m_box(box), m_s(content), m_draw(draw) {}

    double put() {
        m_y = m_box.y;
        band();
        for (const std::string& why : m_s.hindrances)
            paragraph("– " + why, 9.5, true);
        paragraph(m_s.sentence, 9.5, false);
        m_y += 3;
        facts();
        return m_y - m_box.y;
    }

private:
    void paragraph(const std::string& text, double size, bool bold) {
        const Lettering l{.size = size, .bold = bold, .ink = shade::ink, .width = m_box.width};
        m_y += (m_draw ? m_c.text({m_box.x, m_y}, text, l) : m_c.measure(text, l)).height + 1.5;
    }

    void band() {
        if (m_draw) {
            caps();
            headline();
        }
        m_y += band_height + 5;
    }
    void headline() {
        const double left = static_cast<double>(m_s.caps.size()) * (cap_width + 6);
        const PageBox box{m_box.x, m_y, m_box.width - left, band_height};
        const Fill black{.ink = shade::ink};
        const Stroke frame{.ink = shade::ink, .width = 2.4};
        m_c.rectangle(box, m_s.can_be_done ? nullptr : &black, &frame, 5);
        const Ink ink = m_s.can_be_done ? shade::ink : white_ink;
        Lettering l{.size = 34, .bold = true, .ink = ink, .rise = Rise::middle};
        const double room = box.width - 24;
        l.size = std::min(l.size, l.size * room / m_c.measure(m_s.headline, l).width);
        m_c.text({box.x + 12, box.centre().y}, m_s.headline, l);
        const double used = m_c.measure(m_s.headline, l).width + 24;
        if (box.width - used > 90 && m_s.can_be_done && !m_s.powder_every.empty())
            m_c.text({box.right() - 10, box.centre().y},
                     fmt::format("dry powder\nat the latest\nevery {}", m_s.powder_every),
                     {.size = 9.5, .bold = true, .ink = ink, .align = Align::right, .rise = Rise::middle});
    }
    void caps() {
        const Stroke frame{.ink = shade::ink, .width = 1.2};
        double x = m_box.right() - static_cast<double>(m_s.caps.size()) * (cap_width + 6) + 6;
        for (std::size_t i = 0; i < m_s.caps.size(); ++i) {
            const auto& [name, figure] = m_s.caps[i];
            const PageBox box{x, m_y, cap_width, band_height};
            m_c.rectangle(box, nullptr, &frame, 5);
            swatch(name, {box.x + 6, box.y + 5, 12, 8});
            m_c.text({box.x + 21, box.y + 9}, name,
                     {.size = 8, .bold = true, .ink = shade::ink, .rise = Rise::middle});
            m_c.text(
                {box.x + 46, box.bottom() - 4}, figure,
                {.size = 29, .bold = true, .ink = shade::ink, .align = Align::right, .rise = Rise::bottom});
            m_c.text({box.x + 48, box.bottom() - 9}, fmt::format("at most\n{}", m_s.units.speed_unit()),
                     {.size = 6, .ink = shade::ink, .rise = Rise::bottom});
            x += cap_width + 6;
        }
    }
    void swatch(const std::string& name, const PageBox& box) {
        const Stroke thin{.ink = shade::ink, .width = 0.5};
        for (std::size_t c = 0; c < surface_class_count; ++c)
            if (name == surface_words(static_cast<SurfaceClass>(c))) {
                const Fill fill = surface_fill(static_cast<SurfaceClass>(c));
                m_c.rectangle(box, &fill, &thin);
            }
    }

    /// Label and figure in as many columns as are readable.
    void facts() {
        std::vector<std::pair<std::string, std::string>> all = m_s.facts;
        if (!m_s.heat.empty()) {
            std::string text;
            for (const auto& [name, figure] : m_s.heat)
                text += fmt::format("{}{} {}", text.empty() ? "" : ", ", name, figure);
            all.emplace_back("Heat", text + " (estimate)");
        }
        constexpr std::size_t columns = 2;
        constexpr double label = 42;
        const double width = m_box.width / columns;
        const std::size_t rows = (all.size() + columns - 1) / columns;
        for (std::size_t row = 0; row < rows; ++row) {
            double tallest = 0;
            for (std::size_t column = 0; column < columns && row + column * rows < all.size(); ++column) {
                const auto& [name, text] = all[row + column * rows];
                const PagePoint at{m_box.x + static_cast<double>(column) * width, m_y};
                const Lettering l{.size = 8, .ink = shade::ink, .width = width - label - 8};
                tallest = std::max(tallest, m_c.measure(text, l).height);
                if (!m_draw)
                    continue;
                m_c.text(at, name, {.size = 8, .bold = true, .ink = shade::ink});
                m_c.text({at.x + label, at.y}, text, l);
            }
            m_y += tallest + 0.8;
        }
        m_y += 4;
    }

    Canvas& m_c;
    PageBox m_box;
    const SheetContent& m_s;
    bool m_draw;
    double m_y = 0;
};

}  // namespace

double put_sheet_head(Canvas& canvas, const PageBox& box, const SheetContent& content, bool draw) {
    return Head(canvas, box, content, draw).put();
}

}  // namespace loamway
