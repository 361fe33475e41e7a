// SPDX-License-Identifier: Apache-2.0
// The page: title and answer, three views, and beside them what to look at.
#include <fmt/format.h>

#include <algorithm>

#include "load_views.h"
#include "loamway/base/names.h"
#include "loamway/report/load_report.h"

namespace loamway {
namespace {

constexpr double page_width = a4_height, page_height = a4_width;  // across
constexpr double margin = 28;
constexpr double head_height = 46;
constexpr double foot_height = 24;
constexpr double lower_height = 212;

class LoadPage {
public:
    LoadPage(Canvas& canvas, const LoadingPlan& plan)
        : m_canvas(canvas), m_plan(plan), m_words(plan.words()) {}

    void draw() {
        head();
        const double lower = page_height - margin - foot_height - lower_height;
        draw_load_side(
            m_canvas,
            {margin, margin + head_height, page_width - 2 * margin, lower - margin - head_height - 8},
            m_plan);
        const Stroke rule{Ink::grey(0.6), 0.5, {}, true};
        m_canvas.line({margin, lower - 3}, {page_width - margin, lower - 3}, rule);
        title({margin, lower}, "From behind", 196);
        draw_load_rear(m_canvas, {margin, lower + 4, 196, lower_height - 6}, m_plan);
        title({margin + 216, lower},
              fmt::format("At the top of the ramp{}: {} a side on its edge",
                          m_plan.ramp.see_saw ? ", just before it tips" : "",
                          m_words.force(m_plan.ramp.edge_force)),
              312);
        draw_load_ramp(m_canvas, {margin + 212, lower + 14, 316, lower_height - 18}, m_plan);
        words({margin + 536, lower, page_width - 2 * margin - 536, lower_height});
        foot();
    }

private:
    void title(PagePoint at, const std::string& text, double width) const {
        Lettering l;
        l.size = 8.5;
        l.bold = true;
        l.size = std::min(l.size, l.size * width / m_canvas.measure(text, l).width);
        m_canvas.text(at, text, l);
    }

    void head() const {
        Lettering l;
        l.size = 15;
        l.bold = true;
        m_canvas.text({margin, margin}, m_plan.can_be_done() ? "Loading plan" : "Loading plan: not like this",
                      l);
        l.size = 9;
        l.bold = false;
        l.width = page_width - 2 * margin;
        l.most_lines = 2;
        m_canvas.text(
            {margin, margin + 20},
            printable(fmt::format(
                "{}, {}, {}, on {}. Loaded: {} high, {} wide, {} long, {}. Add {} to the height for bounce under a bridge.",
                m_plan.machine.name, m_plan.state.name, m_words.mass(m_plan.state.mass), m_plan.low_bed.name,
                m_words.size(m_plan.loaded.height), m_words.size(m_plan.loaded.width),
                m_words.size(m_plan.loaded.length), m_words.mass(m_plan.loaded.mass),
                m_words.size(bounce_room))),
            l);
    }

    void words(const PageBox& box) const {
        std::vector<std::pair<bool, std::string>> lines;
        for (const Concern concern : {Concern::stop, Concern::check})
            for (const Finding& f : m_plan.findings)
                if (f.concern == concern)
                    lines.emplace_back(concern == Concern::stop,
                                       (concern == Concern::stop ? "Stop: " : "Look: ") + f.text);
        for (const std::string& edge : m_plan.edges)
            lines.emplace_back(false, "Cover: " + edge);
        lines.emplace_back(false,
                           fmt::format("Chains: two forward, two rearward at least; {} each forward clean "
                                       "and dry, {} wet or powdered (from memory of EN 12195-1)",
                                       m_words.force(m_plan.tie_downs.forward_dry),
                                       m_words.force_number(m_plan.tie_downs.forward_slippery)));
        double y = box.y;
        std::size_t shown = 0;
        for (const auto& [bold, text] : lines) {
            Lettering l;
            l.size = 7.2;
            l.bold = bold;
            l.width = box.width;
            const TextExtent extent = m_canvas.measure(printable(text), l);
            const bool last = shown + 1 == lines.size();
            if (y + extent.height > box.bottom() - (last ? 0 : 10))
                break;
            m_canvas.text({box.x, y}, printable(text), l);
            y += extent.height + 3;
            ++shown;
        }
        if (shown < lines.size()) {
            Lettering l;
            l.size = 7.2;
            l.italic = true;
            m_canvas.text({box.x, y}, fmt::format("and {} more in the text", lines.size() - shown), l);
        }
    }

    void foot() const {
        Lettering l;
        l.size = 7.5;
        l.width = page_width - 2 * margin;
        l.most_lines = 2;
        m_canvas.text(
            {margin, page_height - margin - foot_height + 6},
            "Nobody beside the ramp, a spotter, firm level ground, no steering on ramp or deck, boards dry, no "
            "powder before the ramp, chains never across a belt. An estimate: scales, tape, the makers' "
            "manuals, the local code and the person who loads decide. Outlines are not the machine's own.",
            l);
    }

    Canvas& m_canvas;
    const LoadingPlan& m_plan;
    LoadWords m_words;
};

}  // namespace

void draw_load_page(Canvas& canvas, const LoadingPlan& plan) {
    LoadPage(canvas, plan).draw();
}

std::string load_picture(const LoadingPlan& plan, PictureFormat format) {
    CanvasSetup setup;
    setup.format = format;
    setup.width = page_width;
    setup.height = page_height;
    setup.title = "Loading plan: " + printable(plan.machine.name);
    setup.subject = printable(plan.low_bed.name);
    Canvas canvas(setup);
    draw_load_page(canvas, plan);
    return canvas.finish();
}

}  // namespace loamway
