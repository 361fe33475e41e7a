// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "dimensions.h"
#include "load_views.h"

namespace loamway {
namespace {

constexpr double row = 14;
constexpr double deck_shown = 1.9;  // metres of deck ahead of the edge

class RampView {
public:
    RampView(Canvas& canvas, const PageBox& box, const LoadingPlan& plan)
        : m_plan(plan), m_view(canvas, origin(box, plan), scale(box, plan)) {}

    void draw() {
        const double run = m_plan.ramp.run.metres();
        canvas().line(m_view.at(-ahead(), 0), m_view.at(run + 0.6, 0), heavy_line);
        ramp();
        if (m_plan.ramp.see_saw)
            tipping(*m_plan.ramp.see_saw);
        else
            bridging();
        dimensions();
        m_view.write_words();
    }

private:
    static constexpr double below = 2 * row + 6;

    [[nodiscard]] double ahead() const { return ahead_of(m_plan); }
    static double ahead_of(const LoadingPlan& plan) {
        const double beyond = plan.ramp.see_saw ? plan.ramp.see_saw->belt_beyond.metres() : 0.0;
        return std::max(deck_shown, beyond + 0.7);
    }
    static double scale(const PageBox& box, const LoadingPlan& plan) {
        const double length = ahead_of(plan) + plan.ramp.run.metres() + 0.8;
        const double height = plan.low_bed.ramp.height.metres() + 1.2 +
                              std::max(plan.state.centre_height.metres(), belt_height(plan).metres());
        return std::min((box.width - 60) / length, (box.height - below) / height);
    }
    static PagePoint origin(const PageBox& box, const LoadingPlan& plan) {
        return {box.x + 48 + ahead_of(plan) * scale(box, plan), box.bottom() - below};
    }
    static Length m(double v) { return Length::from_metres(v); }
    Canvas& canvas() const { return m_view.canvas(); }
    // Points along the ramp's line, from its upper edge: forward (uphill) and square to it.
    [[nodiscard]] PagePoint on_slope(double forward_m, double off_m) const {
        const double a = m_plan.ramp.slope.radians();
        return m_view.at(-forward_m * std::cos(a) + off_m * std::sin(a),
                         top() + forward_m * std::sin(a) + off_m * std::cos(a));
    }
    [[nodiscard]] double top() const {
        return (m_plan.low_bed.ramp.height + m_plan.low_bed.ramp.above_deck).metres();
    }

    void ramp() const {
        const double high = m_plan.low_bed.ramp.height.metres();
        const Fill steel{Ink::grey(0.7)}, wood{Ink::grey(0.35), Pattern::horizontal, 2.2, 0.5, white_ink};
        m_view.box(-ahead(), 0, high - 0.18, high, &steel, &plain_line);
        const double length = m_plan.ramp.length.metres();
        const std::array<PagePoint, 4> plank{
            {on_slope(0, 0), on_slope(-length, 0), on_slope(-length + 0.35, -0.1), on_slope(0, -0.1)}};
        canvas().polygon(plank, &wood, &plain_line);
    }

    void belt(double from_m, double to_m) const {
        // A belt lying on the slope's line between two places: a flat run with round ends.
        const double high = belt_height(m_plan).metres();
        std::vector<PagePoint> ring;
        for (int i = 0; i <= 12; ++i) {
            const double a = -1.5707963 + i * 3.14159265 / 12;
            ring.push_back(on_slope(to_m + std::cos(a) * high / 2, high / 2 + std::sin(a) * high / 2));
        }
        for (int i = 0; i <= 12; ++i) {
            const double a = 1.5707963 + i * 3.14159265 / 12;
            ring.push_back(on_slope(from_m + std::cos(a) * high / 2, high / 2 + std::sin(a) * high / 2));
        }
        const Fill rubber{Ink::grey(0.75), Pattern::solid};
        canvas().polygon(ring, &rubber, &plain_line);
    }

    void tipping(const SeeSaw& s) const {
        const double beyond = s.belt_beyond.metres();
        const double standing = m_plan.machine.standing_length(m_plan.state).metres();
        belt(beyond - standing, beyond);
        const double hc = m_plan.state.centre_height.metres();
        const double along = s.past_edge.metres();
        const double a = m_plan.ramp.slope.radians();
        const double x = -along * std::cos(a) + hc * std::sin(a),
                     z = top() + along * std::sin(a) + hc * std::cos(a);
        canvas().line(m_view.at(x, z), m_view.at(0, top() - 0.5), dashed_line);
        m_view.centre_of_mass(x, z);
        // The front drops from here to the deck.
        const double front = beyond * std::cos(a), lift = beyond * std::sin(a);
        m_view.upright(m(top()), m(top() + lift), m_view.x(m(-front)) - 16, m(-front),
                       fmt::format("drops {}", m_plan.words().size(s.front_drop)), true);
    }

    void bridging() const {
        const double half = m_plan.machine.wheelbase.metres() / 2;
        const double a = m_plan.ramp.slope.radians();
        const double reach = std::min({half, ahead() - 0.3, m_plan.ramp.length.metres() - 0.3});
        const Fill wheel{Ink::grey(0.75)};
        const double radius = 0.45;
        const PagePoint on_deck = m_view.at(-reach, m_plan.low_bed.ramp.height.metres() + radius);
        const PagePoint on_ramp = on_slope(-reach, radius);
        canvas().circle(on_deck, m_view.size(m(radius)), &wheel, &plain_line);
        canvas().circle(on_ramp, m_view.size(m(radius)), &wheel, &plain_line);
        canvas().line(on_deck, on_ramp, heavy_line);
        Lettering l;
        l.size = 7.5;
        l.align = Align::centre;
        l.rise = Rise::bottom;
        const PagePoint above = m_view.at(0, top() + radius + reach * std::tan(a / 2) + 0.3);
        m_view.word(above,
                    fmt::format("{} clearance needed between the axles, {} there",
                                m_plan.words().size(*m_plan.ramp.clearance_needed),
                                m_plan.words().size(m_plan.machine.ground_clearance)),
                    l);
    }

    void dimensions() const {
        const RampCheck& r = m_plan.ramp;
        const double y = m_view.y(Length()) + row;
        m_view.across(Length(), r.run, y, Length(), m_plan.words().size(r.run));
        m_view.upright(Length(), m_plan.low_bed.ramp.height, m_view.x(m(-ahead())) - 10, m(-ahead()),
                       m_plan.words().size(m_plan.low_bed.ramp.height));
        Lettering l;
        l.size = 8;
        l.bold = true;
        l.align = Align::right;
        l.rise = Rise::bottom;
        const PagePoint foot = m_view.at(r.run.metres() - 1.45, 0.03);
        m_view.word(foot, fmt::format("{:.1f}°", r.slope.degrees()), l);
        const PagePoint corner = m_view.at(r.run, Length());
        canvas().arc(corner, m_view.size(m(1.4)), 180, 180 + r.slope.degrees(), thin_line);
        l.bold = false;
        l.align = Align::left;
        m_view.word(on_slope(-r.length.metres() * 0.62, 0.22),
                    fmt::format("ramp {}", m_plan.words().size(r.length)), l);
    }

    const LoadingPlan& m_plan;
    ScaledView m_view;
};

}  // namespace

void draw_load_ramp(Canvas& canvas, const PageBox& box, const LoadingPlan& plan) {
    RampView(canvas, box, plan).draw();
}

}  // namespace loamway
