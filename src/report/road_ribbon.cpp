// SPDX-License-Identifier: Apache-2.0
#include "road_ribbon.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "chart_axis.h"
#include "sheet_style.h"

namespace loamway {

namespace {

constexpr double head_height = 26;  // names and scales above the ribbon
constexpr double key_height = 50;   // what the patterns mean, below it
constexpr double heat_key = 11;     // and the upright lines of the heat
constexpr double road_width = 17;
constexpr double limit_width = 1.5, caution_width = 0.6;
std::vector<double> caution_dash() {
    return {1.2, 1.6};
}
constexpr Lettering small_letters{.size = 6.5, .ink = shade::ink};

class Ribbon {
public:
    Ribbon(Canvas& canvas, const PageBox& box, const SheetContent& content)
        : m_c(canvas), m_box(box), m_s(content), m_o(*content.option) {
        m_top = box.y + head_height;
        m_bottom = box.bottom() - key_height - (m_o.heat ? heat_key : 0);
        m_road = {box.x + 40, m_top, road_width, m_bottom - m_top};
        const bool high = m_o.elevation && m_o.elevation->size() > 1;
        const double rest = box.right() - (m_road.right() + 12);
        m_height_box = {box.right() - (high ? rest * 0.33 : 0), m_top, high ? rest * 0.33 : 0, m_road.height};
        m_heat_box = {m_road.right() + 12, m_top, rest - (high ? m_height_box.width + 8 : 0), m_road.height};
    }
    void draw() {
        scale();
        surfaces();
        heat();
        height();
        flags();
        stops();
        key();
    }

private:
    [[nodiscard]] double unit_m() const { return m_s.units.long_unit_m(); }
    [[nodiscard]] double y_of(double at_m) const {
        return m_top + (m_s.total_m > 0 ? std::clamp(at_m / m_s.total_m, 0.0, 1.0) : 0.0) * m_road.height;
    }
    void words(PagePoint at, const std::string& text, Align align, bool bold = false,
               Rise rise = Rise::middle) {
        Lettering l = small_letters;
        l.align = align;
        l.bold = bold;
        l.rise = rise;
        m_c.text(at, text, l);
    }

    void scale() {
        words({m_road.x - 5, m_top - 5}, std::string(m_s.units.long_unit()), Align::right, true,
              Rise::bottom);
        const double total = m_s.total_m / unit_m();
        const double step = round_step(total, m_road.height / 26);
        const int digits = step < 1 ? 1 : 0;
        std::vector<double> said;
        const auto say = [&](double at_m, const std::string& text) {
            const double y = y_of(at_m);
            if (std::any_of(said.begin(), said.end(), [y](double other) { return std::abs(other - y) < 8; }))
                return;
            said.push_back(y);
            words({m_road.x - 6, y}, text, Align::right, true);
        };
        say(m_s.total_m, fmt::format("{:.1f}", total));
        for (const SheetStop& s : m_s.stops)
            say(s.stop->at_m, s.total);
        for (int i = 0; i * step < total; ++i) {
            const double y = y_of(i * step * unit_m());
            m_c.line({m_road.x - 4, y}, {m_road.x, y}, {.ink = shade::ink, .width = 0.6});
            if (std::none_of(said.begin(), said.end(), [y](double other) { return std::abs(other - y) < 8; }))
                words({m_road.x - 6, y}, fmt::format("{:.{}f}", i * step, digits), Align::right);
        }
    }

    void surfaces() {
        const Stroke thin{.ink = shade::ink, .width = 0.7};
        for (const Leg& leg : m_o.legs)
            for (const SurfaceRun& run : leg.surface_runs) {
                const PageBox piece{m_road.x, y_of(run.from_m), m_road.width,
                                    y_of(run.to_m) - y_of(run.from_m)};
                const Fill fill = leg.mode == Mode::haul ? hauled_fill() : surface_fill(run.surface);
                m_c.rectangle(piece, &fill, nullptr);
                if (!run.known && leg.mode != Mode::haul)
                    unknown_edge(piece);
            }
        m_c.rectangle(m_road, nullptr, &thin);
    }
    /// A white strip down the middle says: the map does not know, this is an assumption.
    void unknown_edge(const PageBox& piece) {
        const double x = piece.x + piece.width / 2;
        m_c.line({x, piece.y}, {x, piece.bottom()},
                 {.ink = white_ink, .width = 3.4, .dash = {4, 2.5}, .round = false});
    }

    void heat() {
        if (!m_o.heat || m_o.heat->profile.size() < 2)
            return;
        const OptionHeat& h = *m_o.heat;
        double low = 100, high = 40;
        // A damaged plan must not ask for a scale of a million lines.
        const auto sane = [](double c) { return std::clamp(c, -60.0, 400.0); };
        for (const HeatPoint& p : h.profile) {
            low = std::min({low, sane(p.bar_c), sane(p.guide_lug_c)});
            high = std::max({high, sane(p.bar_c), sane(p.guide_lug_c)});
        }
        high = std::max(high, sane(h.limit_c.value_or(high)));
        low = std::floor(low / 20) * 20;
        high = std::ceil((high + 2) / 20) * 20;
        const auto x_of = [&](double c) {
            return m_heat_box.x + (c - low) / (high - low) * m_heat_box.width;
        };
        heat_grid(low, high, x_of);
        if (h.caution_c)
            limit_line(x_of(*h.caution_c), caution_width, caution_dash());
        if (h.limit_c)
            limit_line(x_of(*h.limit_c), limit_width, {});
        heat_line(h.profile, x_of, &HeatPoint::guide_lug_c,
                  {.ink = shade::ink, .width = 0.9, .dash = {3, 1.6}});
        heat_line(h.profile, x_of, &HeatPoint::bar_c, {.ink = shade::ink, .width = 1.5});
    }
    template <class X>
    void heat_grid(double low, double high, const X& x_of) {
        const Fill panel{.ink = shade::panel};
        m_c.rectangle(m_heat_box, &panel, nullptr);
        m_c.text({m_heat_box.x, m_box.y}, "heat (est.)",
                 {.size = 6.5, .bold = true, .ink = shade::ink, .width = m_heat_box.width, .most_lines = 1});
        int line = 0;
        for (double c = low; c <= high + 0.1; c += 20, ++line) {
            m_c.line({x_of(c), m_top}, {x_of(c), m_bottom}, {.ink = shade::rule, .width = 0.4});
            if (line % 2 != 0)
                continue;
            const std::string text = m_s.units.temperature(c);
            const bool unit_said = line > 0;
            words({x_of(c), m_top - 2}, unit_said ? text.substr(0, text.find(' ')) : text, Align::centre,
                  false, Rise::bottom);
        }
    }
    void limit_line(double x, double width, std::vector<double> dash) {
        m_c.line({x, m_top}, {x, m_bottom}, {.ink = shade::ink, .width = width, .dash = std::move(dash)});
    }
    template <class X>
    void heat_line(const std::vector<HeatPoint>& profile, const X& x_of, double HeatPoint::*member,
                   const Stroke& stroke) {
        std::vector<PagePoint> line;
        for (const HeatPoint& p : profile)
            line.push_back({x_of(p.*member), y_of(p.at_m)});
        m_c.line(line, stroke);
    }

    void height() {
        if (m_height_box.width <= 0)
            return;
        double low = 1e9, high = -1e9;
        for (const auto& [at_m, metres] : *m_o.elevation) {
            low = std::min(low, metres);
            high = std::max(high, metres);
        }
        // A plain is not made to look like a mountain.
        const double span = std::max(high - low, 50.0);
        std::vector<PagePoint> area{{m_height_box.x, m_top}};
        for (const auto& [at_m, metres] : *m_o.elevation)
            area.push_back(
                {m_height_box.x + 2 + (metres - low) / span * (m_height_box.width - 2), y_of(at_m)});
        area.push_back({m_height_box.x, m_bottom});
        const Fill fill{.ink = shade::soft,
                        .pattern = Pattern::vertical,
                        .spacing = 2.5,
                        .weight = 0.35,
                        .ground = shade::panel};
        const Stroke edge{.ink = shade::ink, .width = 0.7};
        m_c.polygon(area, &fill, &edge);
        m_c.text(
            {m_height_box.x, m_box.y}, "height",
            {.size = 6.5, .bold = true, .ink = shade::ink, .width = m_height_box.width, .most_lines = 1});
        m_height_words =
            fmt::format("Height {} to {}.", m_s.units.short_length(low), m_s.units.short_length(high));
    }

    void flags() {
        double free_from = -1e9;
        for (const SheetEvent& e : m_s.events) {
            if (e.kind != SheetEvent::Kind::check && e.kind != SheetEvent::Kind::stop_flag)
                continue;
            const double y = y_of(e.at_m);
            if (y < free_from)
                continue;
            free_from = y + 8;
            draw_warning(m_c, {m_road.right() + 6, y}, 6.5);
        }
    }

    void stops() {
        // Knots that would cover each other move apart; a thin line leads to the true place.
        double free_from = -1e9;
        for (const SheetStop& s : m_s.stops) {
            const double y = y_of(s.stop->at_m);
            const double at = std::clamp(std::max(y, free_from), m_top, m_bottom + 4);
            free_from = at + 16;
            const double x = m_road.x + m_road.width / 2;
            m_c.line({m_road.x - 2, y}, {m_road.right() + 2, y}, {.ink = white_ink, .width = 2});
            m_c.line({m_road.x - 2, y}, {m_road.right() + 2, y}, {.ink = shade::ink, .width = 1});
            m_c.line({x, y}, {x, at}, {.ink = shade::ink, .width = 0.7});
            draw_knot(m_c, {x, at}, 7.5, *s.stop, s.number);
        }
    }

    void key() {
        const Stroke thin{.ink = shade::ink, .width = 0.5};
        double x = m_box.x, y = m_bottom + 9;
        std::array<bool, surface_class_count> there{};
        bool assumed = false, hauled = false;
        for (const Leg& leg : m_o.legs)
            for (const SurfaceRun& run : leg.surface_runs) {
                hauled = hauled || leg.mode == Mode::haul;
                there[static_cast<std::size_t>(run.surface)] |= leg.mode != Mode::haul;
                assumed = assumed || (!run.known && leg.mode != Mode::haul);
            }
        const auto entry = [&](const Fill& fill, std::string_view name) {
            const Lettering l{.size = 6.5, .ink = shade::ink, .rise = Rise::middle};
            if (x > m_box.x && x + 14 + m_c.measure(name, l).width > m_box.right()) {
                x = m_box.x;
                y += 10;
            }
            m_c.rectangle({x, y, 12, 8}, &fill, &thin);
            x += 14;
            x += m_c.text({x, y + 4}, name, l).width + 6;
        };
        for (std::size_t c = 0; c < surface_class_count; ++c)
            if (there[c])
                entry(surface_fill(static_cast<SurfaceClass>(c)),
                      surface_words(static_cast<SurfaceClass>(c)));
        if (hauled)
            entry(hauled_fill(), "on the low-bed");
        double below = y + 12;
        if (m_o.heat) {
            m_c.line({m_box.x, below + 4}, {m_box.x + 12, below + 4}, {.ink = shade::ink, .width = 1.5});
            words({m_box.x + 14, below + 4}, "bar", Align::left);
            m_c.line({m_box.x + 34, below + 4}, {m_box.x + 47, below + 4},
                     {.ink = shade::ink, .width = 0.9, .dash = {3, 1.6}});
            words({m_box.x + 49, below + 4}, "guide lug", Align::left);
            below += 11;
            double at = m_box.x;
            const auto upright = [&](std::string_view name, const std::optional<double>& c, double width,
                                     std::vector<double> dash) {
                if (!c)
                    return;
                m_c.line({at + 2, below}, {at + 2, below + 8},
                         {.ink = shade::ink, .width = width, .dash = std::move(dash)});
                const std::string text = fmt::format("{} {}", name, m_s.units.temperature(*c));
                words({at + 6, below + 4}, text, Align::left);
                at += 14 + m_c.measure(text, small_letters).width;
            };
            upright("limit", m_o.heat->limit_c, limit_width, {});
            upright("bars: caution", m_o.heat->caution_c, caution_width, caution_dash());
            below += 11;
        }
        std::string more = assumed ? "Light stripe: surface assumed. " : "";
        more += m_height_words;
        m_c.text({m_box.x, below}, more,
                 {.size = 6.3, .ink = shade::soft, .width = m_box.width, .most_lines = 2});
    }

    Canvas& m_c;
    PageBox m_box;
    const SheetContent& m_s;
    const Option& m_o;
    std::string m_height_words;
    double m_top = 0, m_bottom = 0;
    PageBox m_road, m_heat_box, m_height_box;
};

}  // namespace

void draw_road_ribbon(Canvas& canvas, const PageBox& box, const SheetContent& content) {
    Ribbon(canvas, box, content).draw();
}

}  // namespace loamway
