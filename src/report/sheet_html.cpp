// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/sheet_html.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_assets.h"
#include "loamway/base/names.h"
#include "markup.h"
#include "road_ribbon.h"
#include "route_map.h"
#include "sheet_content.h"
#include "sheet_moves.h"

namespace loamway {

namespace {

constexpr std::size_t most_way_points = 1500;

std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto at = [&](std::size_t k) {
            return i + k < bytes.size() ? static_cast<unsigned>(static_cast<unsigned char>(bytes[i + k]))
                                        : 0u;
        };
        const unsigned word = at(0) << 16 | at(1) << 8 | at(2);
        for (unsigned k = 0; k < 4; ++k)
            out += i + k <= bytes.size() ? letters[word >> (18 - 6 * k) & 63u] : '=';
    }
    return out;
}

/// JSON text that may stand inside a script element.
std::string script_text(std::string_view text) {
    std::string out;
    for (const char c : text)
        if (c == '<' || c == '>' || c == '&')
            out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        else if (c == '"' || c == '\\')
            out += fmt::format("\\{}", c);
        else
            out += c;
    return out;
}

class Page {
public:
    Page(std::span<const SheetContent> moves, const Region* region) : m_moves(moves), m_region(region) {}

    std::string make() {
        head();
        for (std::size_t i = 0; i < m_moves.size(); ++i)
            move(i);
        m_out += "</main>\n";
        data();
        m_out += fmt::format("<script>{}</script>\n</body>\n</html>\n", sheet_script());
        return std::move(m_out);
    }

private:
    void head() {
        const std::string title = m_moves.size() == 1 ? m_moves.front().title : day_title(m_moves);
        // The policy forbids every request: nothing leaves the phone, nothing is needed from outside.
        m_out += fmt::format(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
            "style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            "<meta name=\"referrer\" content=\"no-referrer\">\n<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n"
            "<header class=\"bar\"><output id=\"next\" aria-live=\"polite\">{}</output>"
            "<button id=\"where\" type=\"button\">Next stop</button>"
            "<button id=\"night\" type=\"button\">Day / night</button></header>\n<main>\n",
            markup_text(title), sheet_style(), m_moves.size() == 1 ? "Stop sheet" : "Day sheets");
        if (m_moves.size() > 1)
            contents();
    }
    void contents() {
        m_out += "<nav><h2>Moves</h2><table>\n";
        for (std::size_t i = 0; i < m_moves.size(); ++i) {
            const SheetContent& s = m_moves[i];
            m_out += fmt::format("<tr><td>{}</td><td><a href=\"#move{}\">{} to {}</a>: {}</td></tr>\n",
                                 markup_text(s.leave), i, markup_text(printable(s.plan->move.from_name)),
                                 markup_text(printable(s.plan->move.to_name)), markup_text(s.headline));
        }
        m_out += "</table>\n";
        for (const std::string& conflict : day_conflicts(m_moves))
            paragraph("caution", "! " + conflict);
        m_out += "</nav>\n";
    }
    void paragraph(std::string_view kind, const std::string& text) {
        m_out += fmt::format("<p class=\"{}\">{}</p>\n", kind, markup_text(text));
    }

    void move(std::size_t i) {
        const SheetContent& s = m_moves[i];
        m_out += fmt::format("<section class=\"move\" id=\"move{}\">\n<h1{}>{}</h1>\n", i,
                             s.can_be_done ? "" : " class=\"no\"", markup_text(s.headline));
        for (const std::string& why : s.hindrances)
            paragraph("hindrance", why);
        paragraph("", s.sentence);
        caps(s);
        facts(s);
        pictures(s);
        if (!s.stops.empty())
            m_out += "<h2>Stops</h2>\n";
        for (const SheetStop& stop : s.stops)
            card(i, s, stop);
        way(s);
        ticks(i, "Before leaving", s.checks);
        list("Look out for", s.notes);
        list("Cautions", s.cautions);
        list("For the planner", s.planner);
        paragraph("small", s.map_words +
                               " Estimates; local codes, the road authority and the makers' manuals decide.");
        m_out += "</section>\n";
    }
    void caps(const SheetContent& s) {
        if (s.caps.empty())
            return;
        m_out += "<ul class=\"caps\">";
        for (const auto& [name, figure] : s.caps)
            m_out += fmt::format("<li>{}, at most<br><b>{}</b> {}</li>", markup_text(name),
                                 markup_text(figure), s.units.speed_unit());
        m_out += "</ul>\n";
    }
    void facts(const SheetContent& s) {
        m_out += "<dl>";
        for (const auto& [name, text] : s.facts)
            if (!text.starts_with("__"))  // a line to write on is for paper
                m_out += fmt::format("<dt>{}</dt><dd>{}</dd>", markup_text(name), markup_text(text));
        if (!s.powder_every.empty())
            m_out += fmt::format("<dt>Powder</dt><dd>dry, inside of the belt, at the latest every {}</dd>",
                                 markup_text(s.powder_every));
        if (!s.heat.empty()) {
            std::string text;
            for (const auto& [name, figure] : s.heat)
                text += fmt::format("{}{} {}", text.empty() ? "" : ", ", name, figure);
            m_out += fmt::format("<dt>Heat</dt><dd>{} (estimate)</dd>", markup_text(text));
        }
        m_out += "</dl>\n";
    }

    template <class Draw>
    void picture(std::string_view kind, double width, double height, const std::string& words,
                 const Draw& draw) {
        CanvasSetup setup;
        setup.format = PictureFormat::svg;
        setup.width = width;
        setup.height = height;
        setup.title = words;
        Canvas canvas(setup);
        draw(canvas);
        m_out += fmt::format(
            "<img class=\"{}\" width=\"{:.0f}\" height=\"{:.0f}\" alt=\"{}\" src=\"data:image/svg+xml;base64,{}\">\n",
            kind, width * 4 / 3, height * 4 / 3, markup_text(words), base64(canvas.finish()));
    }
    void pictures(const SheetContent& s) {
        m_out += "<div class=\"pictures\">\n";
        if (s.total_m > 0)
            picture("ribbon", 174, 460,
                    "The road from the start at the top to the end: surface, stops, estimated heat",
                    [&](Canvas& c) {
                        draw_road_ribbon(c, {6, 6, 160, 450}, s);
                    });
        picture("map", 330, 340, "Map of the way", [&](Canvas& c) {
            draw_route_map(c, {2, 2, 326, 336}, s, m_region);
        });
        m_out += "</div>\n";
    }

    void card(std::size_t i, const SheetContent& s, const SheetStop& stop) {
        const std::string id = fmt::format("m{}s{}", i, stop.number);
        m_out += fmt::format(
            "<article class=\"stop\" id=\"{}\"><h3>[{}] {}</h3><div class=\"figures\"><span><b>{}</b> {}</span>"
            "<span><b>{}</b></span><span>{}</span></div>\n",
            id, stop.number, markup_text(stop.title), markup_text(stop.total), s.units.long_unit(),
            markup_text(stop.arrive),
            stop.wait.empty() ? std::string() : fmt::format("{}, on at {}", stop.wait, stop.leave));
        paragraph("", stop.side.empty() ? stop.where : fmt::format("{}: {}", stop.side, stop.where));
        std::string small = stop.why;
        if (stop.stop->at_m >= 50)
            small += fmt::format("{}{} {} since the last stop, {} since powder", small.empty() ? "" : "; ",
                                 stop.since_stop, s.units.long_unit(), stop.since_powder);
        paragraph("small", small);
        for (const std::string& caution : stop.cautions)
            paragraph("caution", "! " + caution);
        for (const SheetSteps& steps : s.steps)
            if (steps.letter == stop.steps)
                todo(steps);
        m_out += fmt::format(
            "<p><a href=\"{0}\">Open the place on a map</a> <span class=\"small\">{0}</span></p>"
            "<label class=\"tick\"><input type=\"checkbox\" id=\"{1}t\"> done</label></article>\n",
            markup_text(stop.geo), id);
    }
    void todo(const SheetSteps& steps) {
        m_out += "<details><summary>What to do</summary><ol>";
        for (const std::string& step : steps.steps)
            m_out += fmt::format("<li>{}</li>", markup_text(step));
        m_out += "</ol></details>\n";
    }
    void way(const SheetContent& s) {
        if (s.events.empty())
            return;
        m_out += fmt::format("<h2>The way ({} from the start)</h2>\n<table>\n", s.units.long_unit());
        for (const SheetEvent& e : s.events) {
            std::string text = markup_text(e.text);
            if (e.kind == SheetEvent::Kind::stop)
                text = fmt::format("<b>[{}] {}</b>", e.stop_number, text);
            else if (e.kind == SheetEvent::Kind::check || e.kind == SheetEvent::Kind::stop_flag)
                text = fmt::format("<b>{}</b> {}",
                                   e.kind == SheetEvent::Kind::check ? "! CHECK" : "! STOP FLAG", text);
            else if (e.kind == SheetEvent::Kind::arrive)
                text = fmt::format("<b>{}</b>", text);
            m_out += fmt::format("<tr><td>{}</td><td>{}</td></tr>\n", e.at, text);
        }
        m_out += "</table>\n";
    }
    void ticks(std::size_t i, std::string_view title, const std::vector<std::string>& texts) {
        m_out += fmt::format("<h2>{}</h2>\n", title);
        for (std::size_t k = 0; k < texts.size(); ++k)
            m_out += fmt::format("<label class=\"tick\"><input type=\"checkbox\" id=\"m{}c{}\"> {}</label>\n",
                                 i, k, markup_text(texts[k]));
    }
    void list(std::string_view title, const std::vector<std::string>& texts) {
        if (texts.empty())
            return;
        m_out += fmt::format("<h2>{}</h2>\n<ul>", title);
        for (const std::string& text : texts)
            m_out += fmt::format("<li>{}</li>\n", markup_text(text));
        m_out += "</ul>\n";
    }

    /// What the script needs: the ways with metres, the stops on them.
    void data() {
        m_out += fmt::format(
            "<script type=\"application/json\" id=\"data\">{{\"id\":\"{}\",\"unit\":\"{}\",\"unit_m\":{},\"moves\":[",
            script_text(sheet_id()), m_moves.front().units.long_unit(), m_moves.front().units.long_unit_m());
        for (std::size_t i = 0; i < m_moves.size(); ++i) {
            const SheetContent& s = m_moves[i];
            m_out += fmt::format("{}{{\"end\":{:.0f},\"stops\":[", i == 0 ? "" : ",", s.total_m);
            for (std::size_t k = 0; k < s.stops.size(); ++k)
                m_out +=
                    fmt::format("{}{{\"at\":{:.0f},\"name\":\"{}\",\"card\":\"m{}s{}\"}}", k == 0 ? "" : ",",
                                s.stops[k].stop->at_m, script_text(s.stops[k].title), i, s.stops[k].number);
            m_out += "],\"way\":[";
            way_points(*s.option);
            m_out += "]}";
        }
        m_out += "]}</script>\n";
    }
    void way_points(const Option& o) {
        const std::size_t count = std::min(o.geometry.size(), o.geometry_at_m.size());
        const std::size_t step = std::max<std::size_t>(1, (count + most_way_points - 1) / most_way_points);
        bool first = true;
        for (std::size_t k = 0; k < count; ++k) {
            if (k % step != 0 && k + 1 != count)
                continue;
            m_out += fmt::format("{}[{:.5f},{:.5f},{:.0f}]", first ? "" : ",", o.geometry[k].lat(),
                                 o.geometry[k].lon(), o.geometry_at_m[k]);
            first = false;
        }
    }
    /// Ticks of one sheet are not those of another.
    [[nodiscard]] std::string sheet_id() const {
        std::uint32_t hash = 2166136261u;
        for (const SheetContent& s : m_moves)
            for (const char c : s.title + s.option->id + s.leave)
                hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
        return fmt::format("{:08x}", hash);
    }

    std::span<const SheetContent> m_moves;
    const Region* m_region;
    std::string m_out;
};

}  // namespace

std::string sheet_html(std::span<const Plan> plans, const SheetSetup& setup) {
    const std::vector<SheetContent> moves = day_moves(plans, setup);
    return Page(moves, setup.region).make();
}

}  // namespace loamway
