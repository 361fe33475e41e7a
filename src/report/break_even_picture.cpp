// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <tuple>
#include <vector>

#include "chart_axis.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/plan/break_even_words.h"
#include "loamway/report/pictures.h"
#include "map_labels.h"
#include "sheet_style.h"
#include "words.h"

namespace loamway {

namespace {

constexpr double picture_width = 480, picture_height = 330;
constexpr PageBox field{54, 52, 400, 214};
constexpr std::size_t most_points = 2000;  // of a curve that is looked at

class BreakEvenPicture {
public:
    BreakEvenPicture(Canvas& canvas, const Plan& plan)
        : m_c(canvas),
          m_plan(plan),
          m_b(*plan.break_even),
          m_units(plan.units),
          m_unit_m(m_units.long_unit_m()),
          m_points(std::min(m_b.curve.size(), most_points)),
          m_x(0, m_b.curve[m_points - 1][0] / m_unit_m, 8),
          m_y(0, highest(), 6),
          m_labels(canvas, field) {}

    void draw() {
        m_c.text({field.x, 12}, "From which length on a move like this is hauled",
                 {.size = 12, .bold = true, .ink = shade::ink});
        m_c.text({field.x, 29}, subtitle(),
                 {.size = 7.5, .ink = shade::soft, .width = field.width, .most_lines = 2});
        axes();
        curve(1, {.ink = shade::ink, .width = 1.8});
        curve(2, {.ink = shade::ink, .width = 1.8, .dash = {5, 3}});
        this_move();
        crossings();
        names();
        m_c.text(
            {field.x, picture_height - 12},
            fmt::format("Costs as estimated, on the {} basis; steps are stops and billing steps. {}", basis(),
                        map_words(m_plan)),
            {.size = 6.5, .ink = shade::soft, .rise = Rise::bottom, .width = field.width, .most_lines = 2});
    }

private:
    [[nodiscard]] double highest() const {
        double most = 0;
        for (std::size_t i = 0; i < m_points; ++i)
            most = std::max({most, m_b.curve[i][1], m_b.curve[i][2]});
        return most;
    }
    [[nodiscard]] std::string subtitle() const {
        return break_even_words(m_b, m_units) +
               ". Surfaces, speeds and wear a length as on this move, the low-bed's empty runs as they are.";
    }
    [[nodiscard]] const Option* driven() const { return m_plan.find_option(m_b.drive); }
    [[nodiscard]] std::string basis() const {
        return driven() != nullptr ? printable(driven()->cost.basis) : std::string("same");
    }
    [[nodiscard]] std::string currency() const {
        return driven() != nullptr ? printable(driven()->cost.currency) : std::string();
    }
    [[nodiscard]] PagePoint at(double metres, double money) const {
        return {field.x + m_x.share(metres / m_unit_m) * field.width,
                field.bottom() - m_y.share(money) * field.height};
    }
    void axes() {
        draw_axes(m_c, field, m_x, m_y,
                  {fmt::format("driven, {}", m_units.long_unit()), fmt::format("cost, {}", currency()), 42});
    }
    void curve(std::size_t which, const Stroke& stroke) {
        std::vector<PagePoint> line;
        for (std::size_t i = 0; i < m_points; ++i) {
            const PagePoint p = at(m_b.curve[i][0], m_b.curve[i][which]);
            line.push_back(p);
            m_labels.avoid(std::array{p});
        }
        m_c.line(line, stroke);
    }
    /// The cost of a curve at a length, between its points.
    [[nodiscard]] std::optional<double> cost_at(double metres, std::size_t which) const {
        for (std::size_t i = 1; i < m_points; ++i) {
            const auto &a = m_b.curve[i - 1], &b = m_b.curve[i];
            if (metres < a[0] || metres > b[0] || !(b[0] > a[0]))
                continue;
            return a[which] + (b[which] - a[which]) * (metres - a[0]) / (b[0] - a[0]);
        }
        return std::nullopt;
    }
    void this_move() {
        const auto drive = cost_at(m_b.length_m, 1), haul = cost_at(m_b.length_m, 2);
        if (!drive || !haul)
            return;
        const PagePoint foot = at(m_b.length_m, 0);
        m_c.line({foot.x, field.bottom()}, {foot.x, field.y},
                 {.ink = shade::soft, .width = 0.9, .dash = {2, 2}});
        const Fill black{.ink = shade::ink}, white{.ink = white_ink};
        const Stroke edge{.ink = shade::ink, .width = 1.2};
        m_c.circle(at(m_b.length_m, *drive), 3.2, &black, nullptr);
        m_c.circle(at(m_b.length_m, *haul), 3.2, &white, &edge);
        static_cast<void>(m_labels.place({foot.x, field.y + 8}, 6,
                                         fmt::format("this move, {}", m_units.exact(m_b.length_m)),
                                         {.size = 8, .ink = shade::ink, .halo = 1.5}));
    }
    /// A ring wherever the cheaper one changes; the first and the last with their length.
    void crossings() {
        for (std::size_t i = 0; i < std::min(m_b.crossings_m.size(), most_points); ++i) {
            const double metres = m_b.crossings_m[i];
            const auto cost = cost_at(metres, 2);
            if (!cost)
                continue;
            const PagePoint p = at(metres, *cost);
            const Stroke ring{.ink = shade::ink, .width = 1.4};
            m_c.circle(p, 6, nullptr, &ring);
            m_labels.keep_free({p.x - 7, p.y - 7, 14, 14});
            if (i == 0 || i + 1 == m_b.crossings_m.size())
                static_cast<void>(
                    m_labels.place(p, 10, m_units.exact(metres),
                                   {.size = 8.5, .bold = true, .ink = shade::ink, .halo = 1.5}));
        }
    }
    /// Where the two are farthest apart, away from the edges and from what is written there.
    void names() {
        std::size_t where = m_points / 2;
        const auto apart = [this](std::size_t i) { return std::abs(m_b.curve[i][1] - m_b.curve[i][2]); };
        for (std::size_t i = m_points / 8; i < m_points * 7 / 8; ++i)
            if (apart(i) > apart(where) &&
                std::abs(m_b.curve[i][0] - m_b.length_m) > m_b.curve[m_points - 1][0] / 9)
                where = i;
        const auto& p = m_b.curve[where];
        for (const auto& [which, other, text] :
             {std::tuple<std::size_t, std::size_t, const char*>{1, 2, "driven"}, {2, 1, "hauled"}}) {
            const bool above = p[which] > p[other];
            const PagePoint here = at(p[0], p[which]);
            m_c.text({here.x, here.y + (above ? -6 : 8)}, text,
                     {.size = 9,
                      .bold = true,
                      .ink = shade::ink,
                      .align = above ? Align::right : Align::left,
                      .rise = above ? Rise::bottom : Rise::top,
                      .halo = 1.5});
        }
    }

    Canvas& m_c;
    const Plan& m_plan;
    const PlanBreakEven& m_b;
    UnitWords m_units;
    double m_unit_m;
    std::size_t m_points;
    ChartAxis m_x, m_y;
    MapLabels m_labels;
};

}  // namespace

std::string draw_break_even(const Plan& plan, PictureFormat format) {
    if (!plan.break_even || plan.break_even->curve.size() < 2)
        throw Error(ErrorKind::not_found, "the plan has no break-even to show",
                    "plan a move that can be driven and hauled, with both modes");
    CanvasSetup setup;
    setup.format = format;
    setup.width = picture_width;
    setup.height = picture_height;
    setup.title =
        fmt::format("Break-even from {} to {}", printable(plan.move.from_name), printable(plan.move.to_name));
    if (const Option* o = plan.find_option(plan.break_even->drive))
        setup.date = o->depart;
    Canvas canvas(setup);
    BreakEvenPicture(canvas, plan).draw();
    return canvas.finish();
}

}  // namespace loamway
