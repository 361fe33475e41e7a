// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "chart_axis.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/report/pictures.h"
#include "map_labels.h"
#include "sheet_style.h"
#include "words.h"

namespace loamway {

namespace {

constexpr double picture_width = 480, picture_height = 360;
constexpr PageBox field{54, 46, 400, 258};

class ChoicesPicture {
public:
    ChoicesPicture(Canvas& canvas, const Plan& plan, std::vector<const Option*> options)
        : m_c(canvas),
          m_plan(plan),
          m_units(plan.units),
          m_options(std::move(options)),
          m_unit_m(m_units.long_unit_m()),
          m_x(scale(true)),
          m_y(scale(false)),
          m_labels(canvas, field) {}

    void draw() {
        m_c.text({field.x, 12}, "Choices: how much farther for how much less paved road",
                 {.size = 12, .bold = true, .ink = shade::ink});
        m_c.text({field.x, 29},
                 "Bars: paved at the least and at the most, as the map is not sure of every surface",
                 {.size = 7.5, .ink = shade::soft});
        axes();
        front();
        for (const Option* o : m_options)
            option(*o);
        for (const bool verdict : {true, false})
            for (const Option* o : m_options)
                if (is_verdict(*o) == verdict)
                    label(*o);
        foot();
    }

private:
    [[nodiscard]] ChartAxis scale(bool along_x) const {
        double low = 1e12, high = 0;
        const auto add = [&](double m) {
            low = std::min(low, m / m_unit_m);
            high = std::max(high, m / m_unit_m);
        };
        for (const Option* o : m_options) {
            add(along_x ? *o->length_m : o->hard_low_m.value_or(*o->hard_m));
            add(along_x ? *o->length_m : o->hard_high_m.value_or(*o->hard_m));
        }
        if (m_plan.front)
            for (const FrontPoint& p : *m_plan.front)
                add(along_x ? p.length_m : p.hard_m);
        const double air = along_x ? (high - low) * 0.08 : 0;
        return {along_x ? low - air : 0, high + air, 6};
    }
    [[nodiscard]] PagePoint at(double length_m, double hard_m) const {
        return {field.x + m_x.share(length_m / m_unit_m) * field.width,
                field.bottom() - m_y.share(hard_m / m_unit_m) * field.height};
    }
    void axes() {
        draw_axes(m_c, field, m_x, m_y,
                  {fmt::format("driven, {}", m_units.long_unit()),
                   fmt::format("paved, {}", m_units.long_unit()), 38});
    }
    void front() {
        if (!m_plan.front)
            return;
        std::vector<FrontPoint> points = *m_plan.front;
        std::sort(points.begin(), points.end(),
                  [](const FrontPoint& a, const FrontPoint& b) { return a.length_m < b.length_m; });
        std::vector<PagePoint> steps;
        for (const FrontPoint& p : points) {
            const PagePoint here = at(p.length_m, p.hard_m);
            if (!steps.empty())
                steps.push_back({here.x, steps.back().y});
            steps.push_back(here);
        }
        m_c.line(steps, {.ink = shade::soft, .width = 1});
        for (std::size_t i = 1; i < steps.size(); ++i)
            avoid(steps[i - 1], steps[i]);
        for (const FrontPoint& p : points) {
            const bool can = p.stops_ok.value_or(true);
            const Fill fill{.ink = can ? shade::ink : white_ink};
            const Stroke edge{.ink = shade::ink, .width = 0.8};
            m_c.circle(at(p.length_m, p.hard_m), 2.6, &fill, &edge);
        }
    }
    [[nodiscard]] bool is_verdict(const Option& o) const { return o.id == m_plan.verdict.option; }
    /// Names are rather not written over this line.
    void avoid(PagePoint from, PagePoint to) {
        constexpr double step = 3;
        const double length = std::hypot(to.x - from.x, to.y - from.y);
        for (double d = 0; d <= length; d += step) {
            const double share = length > 0 ? d / length : 0;
            m_labels.avoid(
                std::array{PagePoint{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)}});
        }
    }
    void option(const Option& o) {
        const PagePoint here = at(*o.length_m, *o.hard_m);
        const Stroke bar{.ink = shade::ink, .width = 1.1};
        if (o.hard_low_m && o.hard_high_m) {
            const double low = at(*o.length_m, *o.hard_low_m).y, high = at(*o.length_m, *o.hard_high_m).y;
            m_c.line({here.x, low}, {here.x, high}, bar);
            m_labels.keep_free({here.x - 4, high - 1, 8, low - high + 2});
            for (const double y : {low, high})
                m_c.line({here.x - 3, y}, {here.x + 3, y}, bar);
        }
        const bool chosen = is_verdict(o);
        const Fill fill{.ink = o.feasible ? (chosen ? shade::ink : Ink::grey(0.8)) : white_ink};
        const Stroke edge{.ink = shade::ink, .width = 1.4};
        const double r = chosen ? 6.5 : 5;
        const std::array<PagePoint, 4> diamond{
            {{here.x, here.y - r}, {here.x + r, here.y}, {here.x, here.y + r}, {here.x - r, here.y}}};
        m_c.polygon(diamond, &fill, &edge);
        m_labels.keep_free({here.x - r, here.y - r, 2 * r, 2 * r});
    }
    void label(const Option& o) {
        std::string text = option_name(o.id);
        if (o.cost.total)
            text += fmt::format(", {:.0f} {}", *o.cost.total, printable(o.cost.currency));
        if (!o.feasible)
            text += "\ncannot be done";
        const bool chosen = is_verdict(o);
        if (chosen)
            text += "\nthe verdict's";
        const PagePoint here = at(*o.length_m, *o.hard_m);
        // Where there is no room beside the point a line leads to the name; above the front there is always
        // room.
        for (const double gap : {9.0, 26.0, 50.0}) {
            const auto box =
                m_labels.place(here, gap, text, {.size = 8, .bold = chosen, .ink = shade::ink, .halo = 1.5});
            if (!box)
                continue;
            if (gap > 9)
                m_c.line(
                    here,
                    {std::clamp(here.x, box->x, box->right()), std::clamp(here.y, box->y, box->bottom())},
                    {.ink = shade::ink, .width = 0.5});
            return;
        }
    }
    void foot() {
        const std::string front =
            m_plan.front ? "Dots: every choice worth a look; hollow: no places to stop. " : "";
        m_c.text(
            {field.x, picture_height - 12}, front + map_words(m_plan),
            {.size = 6.5, .ink = shade::soft, .rise = Rise::bottom, .width = field.width, .most_lines = 2});
    }

    Canvas& m_c;
    const Plan& m_plan;
    UnitWords m_units;
    std::vector<const Option*> m_options;
    double m_unit_m;
    ChartAxis m_x, m_y;
    MapLabels m_labels;
};

}  // namespace

std::string draw_choices(const Plan& plan, PictureFormat format) {
    std::vector<const Option*> driven;
    for (const Option& o : plan.options)
        if (o.mode != Mode::haul && o.length_m.value_or(0) > 0 && o.hard_m)
            driven.push_back(&o);
    if (driven.empty())
        throw Error(ErrorKind::not_found, "the plan has no driven way to compare", "plan with --modes drive");
    CanvasSetup setup;
    setup.format = format;
    setup.width = picture_width;
    setup.height = picture_height;
    setup.title =
        fmt::format("Choices from {} to {}", printable(plan.move.from_name), printable(plan.move.to_name));
    setup.date = driven.front()->depart;
    Canvas canvas(setup);
    ChoicesPicture(canvas, plan, std::move(driven)).draw();
    return canvas.finish();
}

}  // namespace loamway
