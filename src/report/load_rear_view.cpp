// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "dimensions.h"
#include "load_views.h"

namespace loamway {
namespace {

constexpr double row = 14;
constexpr double deck_thickness = 0.18;

class RearView {
public:
    RearView(Canvas& canvas, const PageBox& box, const LoadingPlan& plan)
        : m_plan(plan), m_view(canvas, origin(box), scale(box, plan)) {}

    void draw() {
        const double half = m_plan.loaded.width.metres() / 2;
        canvas().line(m_view.at(-half - 0.2, 0), m_view.at(half + 0.2, 0), heavy_line);
        deck();
        machine();
        dimensions();
        m_view.write_words();
    }

private:
    static constexpr double below = 4 * row + 4;
    static constexpr double above = 20;
    static constexpr double beside = 34;

    static double scale(const PageBox& box, const LoadingPlan& plan) {
        return std::min((box.height - below - above) / plan.loaded.height.metres(),
                        (box.width - 2 * beside) / plan.loaded.width.metres());
    }
    static PagePoint origin(const PageBox& box) { return {box.x + box.width / 2, box.bottom() - below}; }
    static Length m(double v) { return Length::from_metres(v); }
    Canvas& canvas() const { return m_view.canvas(); }

    void deck() const {
        const LowBed& bed = m_plan.low_bed;
        const double top = bed.deck_height.metres(), half = bed.deck.width.metres() / 2;
        const Fill steel{Ink::grey(0.7)}, tyre{Ink::grey(0.8)};
        const double wheels = std::min(half, bed.width.metres() / 2);
        for (const double side : {-1.0, 1.0}) {
            const double outer = side * wheels, inner = side * (wheels - 0.6);
            m_view.box(std::min(outer, inner), std::max(outer, inner), 0,
                       std::max(0.3, top - deck_thickness - 0.05), &tyre, &plain_line, 0.08);
        }
        m_view.box(-half, half, top - deck_thickness, top, &steel, &plain_line);
        if (!m_plan.across.outriggers)
            return;
        const double reach = m_plan.across.extension.metres();
        const double under = top - bed.outriggers.below_deck.metres();
        const Fill wood{Ink::grey(0.35), Pattern::horizontal, 2.2, 0.5, white_ink};
        for (const double side : {-1.0, 1.0}) {
            const double a = std::min(side * half, side * (half + reach)),
                         b = std::max(side * half, side * (half + reach));
            m_view.box(a, b, under - 0.07, under, &steel, &plain_line);
            m_view.box(a, b, under, under + bed.boards.thickness.metres(), &wood, &plain_line);
        }
    }

    void machine() const {
        const BeltGeometry& b = m_plan.machine.belts;
        const WorkingState& s = m_plan.state;
        const double base = (m_plan.loaded.height - s.height).metres() >= m_plan.low_bed.deck_height.metres()
                                ? (m_plan.loaded.height - s.height).metres()
                                : m_plan.low_bed.deck_height.metres();
        const double height = s.height.metres(), high = belt_height(m_plan).metres();
        const double inner = (b.gauge - b.width).metres() / 2, outer = (b.gauge + b.width).metres() / 2;
        const Fill body{Ink::grey(0.88), Pattern::diagonal, 5, 0.35, white_ink}, glass{white_ink},
            rubber{Ink::grey(0.55)};
        const double low = m_plan.machine.ground_clearance.metres();
        m_view.box(-inner - 0.02, inner + 0.02, base + low, base + 0.52 * height, &body, &plain_line);
        const double cab = std::min(0.85, inner);
        m_view.box(-cab, cab, base + 0.52 * height, base + height, &glass, &plain_line, 0.12);
        const double wide = s.width.metres() / 2;
        if (wide > outer + 0.02)  // something is wider than the belts: mudguards, an implement
            m_view.box(-wide, wide, base + high, base + high + 0.18, &body, &plain_line);
        m_view.box(-outer, -inner, base, base + high, &rubber, &plain_line, 0.05);
        m_view.box(inner, outer, base, base + high, &rubber, &plain_line, 0.05);
        for (const double side : {-1.0, 1.0}) {
            const double middle = side * b.gauge.metres() / 2;
            canvas().line(m_view.at(middle, base + high + 0.25), m_view.at(middle, base - 0.45), dashed_line);
        }
        m_view.centre_of_mass(0, base + s.centre_height.metres());
    }

    void dimensions() const {
        const LowBed& bed = m_plan.low_bed;
        const BeltGeometry& b = m_plan.machine.belts;
        const Length half = bed.deck.width * 0.5, wide = m_plan.loaded.width * 0.5;
        double y = m_view.y(Length()) + row;
        m_view.across(b.gauge * -0.5, b.gauge * 0.5, y, bed.deck_height,
                      fmt::format("gauge {}", m_plan.words().size(b.gauge)));
        y += row;
        m_view.across(half * -1, half, y, bed.deck_height,
                      fmt::format("deck {}", m_plan.words().size(bed.deck.width)));
        if (m_plan.across.outriggers)
            m_view.across(half, half + m_plan.across.extension, y, bed.deck_height,
                          m_plan.words().small(m_plan.across.extension));
        y += row;
        m_view.across(m_plan.across.outer_width * -0.5, m_plan.across.outer_width * 0.5, y, bed.deck_height,
                      fmt::format("belts {}", m_plan.words().size(m_plan.across.outer_width)));
        y += row;
        m_view.across(wide * -1, wide, y, m(0.6),
                      fmt::format("{} wide", m_plan.words().size(m_plan.loaded.width)), true);
        const double left = m_view.x(wide * -1) - 12;
        m_view.upright(Length(), m_plan.loaded.height, left, Length(),
                       fmt::format("{} high", m_plan.words().size(m_plan.loaded.height)), true);
        const double right = m_view.x(wide) + 12;
        m_view.upright(Length(), bed.deck_height, right, half, m_plan.words().size(bed.deck_height));
    }

    const LoadingPlan& m_plan;
    ScaledView m_view;
};

}  // namespace

void draw_load_rear(Canvas& canvas, const PageBox& box, const LoadingPlan& plan) {
    RearView(canvas, box, plan).draw();
}

}  // namespace loamway
