// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/season_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "page_foot.h"
#include "season_hours.h"

namespace loamway {

namespace {

constexpr double margin = 40, top = 44, foot = 46, names = 84;
constexpr double inner = a4_width - 2 * margin;
constexpr double row_height = 19, bar_height = 13;
constexpr Ink ink{0.07, 0.07, 0.09, 1};
constexpr Ink soft{0.40, 0.40, 0.42, 1};
constexpr Ink rule{0.80, 0.79, 0.76, 1};
constexpr Ink paper{0.972, 0.966, 0.95, 1};

/// Kinds are told apart by pattern first and by colour as well.
struct Look {
    HourKind kind;
    const char* word;
    Fill fill;
    Ink letters;
};
const std::array<Look, 5>& looks() {
    static const std::array<Look, 5> all{
        {{HourKind::work, "work in the field", Fill{Ink{0.82, 0.85, 0.72, 1}}, ink},
         {HourKind::driven, "driven", Fill{Ink{0.11, 0.30, 0.40, 1}}, white_ink},
         {HourKind::hauled, "hauled (low-bed: loaded)",
          Fill{Ink{0.70, 0.36, 0.10, 1}, Pattern::diagonal, 4, 1.1, Ink{0.99, 0.93, 0.85, 1}}, ink},
         {HourKind::mixed, "driven and hauled",
          Fill{Ink{0.42, 0.18, 0.42, 1}, Pattern::crossed, 5, 0.8, Ink{0.95, 0.90, 0.95, 1}}, ink},
         {HourKind::empty_run, "low-bed empty",
          Fill{Ink{0.50, 0.50, 0.52, 1}, Pattern::dots, 3.4, 0.55, white_ink}, ink}}};
    return all;
}
const Look& look_of(HourKind kind) {
    return *std::find_if(looks().begin(), looks().end(), [kind](const Look& l) { return l.kind == kind; });
}

/// One machine or low-bed on one day.
struct Line {
    std::string name;
    bool low_bed = false;
    std::size_t number = 0;
    std::vector<Hours> hours;
};

class SeasonPages {
public:
    SeasonPages(const Season& s, PictureFormat format)
        : m_s(s), m_zone(zone_of_season(s)), m_canvas(setup(s, format)) {}

    std::string finish() {
        collect();
        head();
        legend();
        for (const auto& [day, lines] : m_days)
            draw_day(lines);
        if (m_days.empty())
            m_canvas.text({margin, m_y}, "Nothing is done.", letters(9));
        footer();
        return m_canvas.finish();
    }

private:
    static CanvasSetup setup(const Season& s, PictureFormat format) {
        CanvasSetup c;
        c.format = format;
        c.title = s.list.title.empty() ? "Season" : s.list.title;
        c.subject = "who does which job when, and how each machine gets there";
        c.date = s.begins;
        return c;
    }
    static Lettering letters(double size, bool bold = false, Ink colour = ink) {
        Lettering l;
        l.size = size;
        l.bold = bold;
        l.ink = colour;
        return l;
    }

    void collect() {
        const auto add = [&](const std::string& name, bool low_bed, std::size_t number,
                             std::vector<Hours> hours) {
            for (Hours& h : hours) {
                std::vector<Line>& lines = m_days[format_rfc3339(h.from, m_zone).substr(0, 10)];
                if (lines.empty() || lines.back().low_bed != low_bed || lines.back().number != number)
                    lines.push_back({name, low_bed, number, {}});
                lines.back().hours.push_back(std::move(h));
            }
        };
        for (std::size_t m = 0; m < m_s.list.machines.size(); ++m)
            add(m_s.list.machines[m].name, false, m, hours_of_machine(m_s, m));
        for (std::size_t b = 0; b < m_s.list.low_beds.size(); ++b)
            add(m_s.list.low_beds[b].name, true, b, hours_of_low_bed(m_s, b));
    }

    void head() {
        m_canvas.text({margin, m_y}, m_s.list.title.empty() ? "Season" : m_s.list.title, letters(17, true));
        m_y += 24;
        Lettering l = letters(8.5, false, soft);
        l.width = inner;
        m_y += m_canvas.text({margin, m_y}, season_headline(m_s) + ". " + bound_words(m_s), l).height + 8;
        for (const JobLeftOut& j : m_s.left_out) {
            Lettering bold = letters(8.5, true);
            bold.width = inner;
            m_y += m_canvas
                       .text({margin, m_y},
                             "Cannot be done: " + m_s.list.jobs[j.job].field.name +
                                 (j.reasons.empty() ? "" : " (" + j.reasons.front() + ")"),
                             bold)
                       .height +
                   3;
        }
    }

    [[nodiscard]] bool used(HourKind kind) const {
        for (const auto& [day, lines] : m_days)
            for (const Line& line : lines)
                for (const Hours& h : line.hours)
                    if (h.kind == kind)
                        return true;
        return false;
    }
    void legend() {
        double x = margin;
        for (const Look& look : looks()) {
            if (!used(look.kind))
                continue;
            const PageBox box{x, m_y, 20, 9};
            const Stroke edge{ink, 0.4};
            m_canvas.rectangle(box, &look.fill, &edge, 1.5);
            Lettering l = letters(7.5);
            l.rise = Rise::middle;
            x += 24 + m_canvas.text({x + 24, m_y + 4.5}, look.word, l).width + 14;
        }
        m_y += 20;
    }

    [[nodiscard]] double x_of(Instant t) const {
        const LocalTime local = m_zone.local(t);
        double minute = local.hour * 60 + local.minute;
        if (minute < m_s.list.day_from_min)  // midnight at the end of the day
            minute += 24 * 60;
        const double share = (minute - m_s.list.day_from_min) / (m_s.list.day_to_min - m_s.list.day_from_min);
        return margin + names + share * (inner - names);
    }

    void draw_day(const std::vector<Line>& lines) {
        const double height = 25 + row_height * static_cast<double>(lines.size());
        if (m_y + height > a4_height - foot - 8) {
            footer();
            m_canvas.next_page();
            ++m_page;
            m_y = top;
        }
        const Instant day = lines.front().hours.front().from;
        m_canvas.text({margin, m_y - 3}, day_words(m_s, day), letters(8.5, true));
        m_y += 14;
        hours_scale(row_height * static_cast<double>(lines.size()));
        std::map<std::size_t, double> low_bed_y;
        for (std::size_t i = 0; i < lines.size(); ++i)
            if (lines[i].low_bed)
                low_bed_y[lines[i].number] = m_y + row_height * static_cast<double>(i) + row_height / 2;
        for (const Line& line : lines) {
            for (const Hours& h : line.hours)
                if (!line.low_bed && h.low_bed && low_bed_y.contains(*h.low_bed))
                    link(h, low_bed_y[*h.low_bed]);
            m_y += row_height;
        }
        m_y -= row_height * static_cast<double>(lines.size());
        for (const Line& line : lines) {
            draw_line(line);
            m_y += row_height;
        }
        m_y += 11;
    }

    void hours_scale(double height) {
        const Fill ground{paper};
        m_canvas.rectangle({margin + names, m_y, inner - names, height}, &ground, nullptr, 2);
        for (int minute = m_s.list.day_from_min; minute <= m_s.list.day_to_min; ++minute) {
            if (minute % 60 != 0)
                continue;
            const double x = margin + names +
                             (inner - names) * (minute - m_s.list.day_from_min) /
                                 (m_s.list.day_to_min - m_s.list.day_from_min);
            m_canvas.line({x, m_y}, {x, m_y + height}, Stroke{rule, minute % 180 == 0 ? 0.7 : 0.35});
            Lettering l = letters(6, false, soft);
            l.align = Align::centre;
            l.rise = Rise::bottom;
            if (minute % 120 == 0)
                m_canvas.text({x, m_y - 1}, fmt::format("{}", minute / 60), l);
        }
    }

    /// Machine and low-bed are together from loading to unloading.
    void link(const Hours& h, double bed_y) {
        const Stroke stroke{Ink{0.70, 0.36, 0.10, 0.8}, 0.8, {1.5, 1.5}};
        const double from = x_of(h.from), to = x_of(h.to), y = m_y + row_height / 2;
        m_canvas.line({from, y}, {from, bed_y}, stroke);
        m_canvas.line({to, y}, {to, bed_y}, stroke);
    }

    void draw_line(const Line& line) {
        Lettering l = letters(8, !line.low_bed);
        l.rise = Rise::middle;
        l.width = names - 8;
        l.most_lines = 1;
        l.italic = line.low_bed;
        m_canvas.text({margin, m_y + row_height / 2}, line.name, l);
        for (const Hours& h : line.hours)
            draw_bar(h);
    }

    void draw_bar(const Hours& h) {
        const Look& look = look_of(h.kind);
        const double from = x_of(h.from), to = std::max(x_of(h.to), from + 1.5);
        // Work fills its line; what is on the road is a narrower bar upon it.
        const double height = h.kind == HourKind::work ? bar_height + 2 : bar_height - 3;
        const PageBox box{from, m_y + (row_height - height) / 2, to - from, height};
        const Stroke edge{h.kind == HourKind::work ? Ink{0.55, 0.58, 0.45, 1} : ink, 0.4};
        m_canvas.rectangle(box, &look.fill, &edge, h.kind == HourKind::work ? 0.5 : 2.5);
        Lettering l = letters(h.kind == HourKind::work ? 7.5 : 6.5, false, look.letters);
        l.rise = Rise::middle;
        const bool patterned = look.fill.pattern != Pattern::solid;
        l.halo = patterned ? 1.6 : 0;
        const double room = box.width - 5;
        if (h.kind == HourKind::work && room > 14) {
            l.width = room;
            l.most_lines = 1;
            m_canvas.text({from + 3, m_y + row_height / 2}, h.brief, l);
        } else if (h.kind != HourKind::work && m_canvas.measure(h.brief, l).width < room) {
            l.align = Align::centre;
            m_canvas.text({box.centre().x, m_y + row_height / 2}, h.brief, l);
        }
    }

    void footer() {
        draw_page_foot(
            m_canvas,
            {margin, foot, soft, rule,
             "Estimates, no evidence of a belt's condition. Plan each move again on its day; the sheets carry stops "
             "and cautions. Local codes, the road authority, the makers' manuals and licensed people decide.",
             m_s.region_name, m_s.map_date, m_s.attribution},
            m_page);
    }

    const Season& m_s;
    TimeZone m_zone;
    Canvas m_canvas;
    std::map<std::string, std::vector<Line>> m_days;
    double m_y = top;
    int m_page = 1;
};

}  // namespace

std::string season_picture(const Season& season, PictureFormat format) {
    return SeasonPages(season, format).finish();
}

}  // namespace loamway
