// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "chart_axis.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/report/pictures.h"
#include "sheet_style.h"
#include "words.h"

namespace loamway {

namespace {

constexpr double picture_width = 520;
constexpr double name_width = 96, figure_width = 62, row_height = 40, bar_height = 18, top = 46;

struct Part {
    std::string_view name;
    std::optional<double> OptionCost::*figure;
    Fill fill;
};

/// Told apart by pattern first: neighbours in a bar never share one.
const std::array<Part, 9>& parts() {
    static const std::array<Part, 9> all{
        {{"labour", &OptionCost::labour, {.ink = Ink::grey(0.25)}},
         {"fuel",
          &OptionCost::fuel,
          {.ink = shade::ink, .pattern = Pattern::diagonal, .spacing = 3, .ground = white_ink}},
         {"belts",
          &OptionCost::belts,
          {.ink = shade::ink, .pattern = Pattern::dots, .spacing = 3, .ground = shade::gravel}},
         {"machine", &OptionCost::machine, {.ink = Ink::grey(0.6)}},
         {"powder",
          &OptionCost::lubricant,
          {.ink = shade::ink, .pattern = Pattern::crossed, .spacing = 3, .ground = white_ink}},
         {"escort",
          &OptionCost::escort,
          {.ink = shade::ink, .pattern = Pattern::vertical, .spacing = 2.4, .ground = white_ink}},
         {"low-bed",
          &OptionCost::truck,
          {.ink = shade::ink, .pattern = Pattern::horizontal, .spacing = 2.6, .ground = white_ink}},
         {"permit", &OptionCost::permit, {.ink = Ink::grey(0.82)}},
         {"other",
          &OptionCost::other,
          {.ink = shade::ink, .pattern = Pattern::back_diagonal, .spacing = 4.5, .ground = white_ink}}}};
    return all;
}

class CostsPicture {
public:
    CostsPicture(Canvas& canvas, const Plan& plan, const std::vector<const Option*>& options)
        : m_c(canvas), m_plan(plan), m_options(options), m_axis(0, highest(options), 6) {
        m_left = 24 + name_width;
        m_width = picture_width - m_left - figure_width - 16;
        m_bottom = top + static_cast<double>(options.size()) * row_height;
    }

    void draw() {
        const OptionCost& first = m_options.front()->cost;
        m_c.text({24, 12}, "What each way costs", {.size = 12, .bold = true, .ink = shade::ink});
        const bool ranges = std::any_of(m_options.begin(), m_options.end(),
                                        [](const Option* o) { return o->cost.low && o->cost.high; });
        m_c.text({24, 29},
                 fmt::format("{}, {} basis.{}", printable(first.currency), printable(first.basis),
                             !ranges ? ""
                             : first.low_high_basis.starts_with("10 and 90")
                                 ? " The line under a bar holds the middle 80 of 100 trials."
                                 : " The line under a bar runs from the low to the high estimate."),
                 {.size = 7.5, .ink = shade::soft});
        scale();
        for (std::size_t i = 0; i < m_options.size(); ++i)
            row(*m_options[i], top + static_cast<double>(i) * row_height);
        key();
        m_c.text({24, m_c.height() - 10}, map_words(m_plan),
                 {.size = 6.5,
                  .ink = shade::soft,
                  .rise = Rise::bottom,
                  .width = picture_width - 48,
                  .most_lines = 1});
    }

private:
    static double highest(const std::vector<const Option*>& options) {
        double out = 1;
        for (const Option* o : options)
            out = std::max({out, o->cost.total.value_or(0), o->cost.high.value_or(0)});
        return out;
    }
    [[nodiscard]] double x_of(double money) const { return m_left + m_axis.share(money) * m_width; }

    void scale() {
        for (const auto& mark : m_axis.marks()) {
            const double x = x_of(mark.value);
            m_c.line({x, top}, {x, m_bottom}, {.ink = shade::rule, .width = 0.5});
            m_c.text({x, m_bottom + 3}, mark.text, {.size = 8, .ink = shade::ink, .align = Align::centre});
        }
    }
    void row(const Option& o, double y) {
        const bool chosen = o.id == m_plan.verdict.option;
        m_c.text({24, y + 6}, option_name(o.id),
                 {.size = 9, .bold = chosen, .ink = shade::ink, .width = name_width - 6, .most_lines = 1});
        if (chosen || !o.feasible)
            m_c.text({24, y + 18}, chosen ? "the verdict's" : "cannot be done",
                     {.size = 7, .ink = shade::soft});
        bar(o.cost, y + 5);
        m_c.text({picture_width - 18, y + 5 + bar_height / 2}, fmt::format("{:.0f}", *o.cost.total),
                 {.size = 11, .bold = true, .ink = shade::ink, .align = Align::right, .rise = Rise::middle});
        if (!o.cost.low || !o.cost.high)
            return;
        const double line = y + 5 + bar_height + 5;
        const Stroke stroke{.ink = shade::ink, .width = 1.2};
        m_c.line({x_of(*o.cost.low), line}, {x_of(*o.cost.high), line}, stroke);
        for (const double end : {*o.cost.low, *o.cost.high})
            m_c.line({x_of(end), line - 3}, {x_of(end), line + 3}, stroke);
    }
    void bar(const OptionCost& cost, double y) {
        const Stroke edge{.ink = shade::ink, .width = 0.6};
        double sum = 0;
        for (const Part& part : parts()) {
            const double money = (cost.*part.figure).value_or(0);
            if (money <= 0)
                continue;
            const PageBox box{x_of(sum), y, x_of(sum + money) - x_of(sum), bar_height};
            m_c.rectangle(box, &part.fill, &edge);
            sum += money;
        }
    }
    void key() {
        const Stroke edge{.ink = shade::ink, .width = 0.6};
        double x = 24, y = m_bottom + 22;
        for (const Part& part : parts()) {
            const bool used = std::any_of(m_options.begin(), m_options.end(), [&part](const Option* o) {
                return (o->cost.*part.figure).value_or(0) > 0;
            });
            if (!used)
                continue;
            if (x > picture_width - 70) {
                x = 24;
                y += 14;
            }
            m_c.rectangle({x, y, 14, 9}, &part.fill, &edge);
            x += 17;
            x += m_c.text({x, y + 4.5}, part.name, {.size = 8, .ink = shade::ink, .rise = Rise::middle})
                     .width +
                 10;
        }
    }

    Canvas& m_c;
    const Plan& m_plan;
    const std::vector<const Option*>& m_options;
    ChartAxis m_axis;
    double m_left = 0, m_width = 0, m_bottom = 0;
};

}  // namespace

std::string draw_costs(const Plan& plan, PictureFormat format) {
    constexpr std::size_t most_rows = 40;  // of a picture that is looked at
    std::vector<const Option*> priced;
    for (const Option& o : plan.options)
        if (o.cost.total && priced.size() < most_rows)
            priced.push_back(&o);
    if (priced.empty())
        throw Error(ErrorKind::not_found, "the plan has no costs to show",
                    "choose a plan with an option that can be done");
    CanvasSetup setup;
    setup.format = format;
    setup.width = picture_width;
    setup.height = top + static_cast<double>(priced.size()) * row_height + 72;
    setup.title =
        fmt::format("Costs from {} to {}", printable(plan.move.from_name), printable(plan.move.to_name));
    setup.date = priced.front()->depart;
    Canvas canvas(setup);
    CostsPicture(canvas, plan, priced).draw();
    return canvas.finish();
}

}  // namespace loamway
