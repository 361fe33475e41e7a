// SPDX-License-Identifier: Apache-2.0
#include "sheet_layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <memory>
#include <vector>

#include "road_ribbon.h"
#include "route_map.h"
#include "sheet_head.h"
#include "sheet_pieces.h"
#include "sheet_style.h"
#include "stop_insets.h"

namespace loamway {

namespace {

constexpr double ribbon_width = 142;
constexpr double bare_ribbon_width = 78;  // without temperatures and heights beside the road
constexpr double between = 12;
/// How small the letters and the blank rows may get for the sake of one page, and how low the map at each
/// size.
struct Tightness {
    double scale, least_map, closer;
};
constexpr std::array<Tightness, 4> tightnesses{
    {{1.0, 150, 0}, {0.95, 140, 1}, {0.9, 125, 2}, {0.87, 105, 3}}};
constexpr double map_share = 0.44;  // of the body of a first page that others follow
constexpr double running_head = 18;

using Pieces = std::vector<std::unique_ptr<SheetPiece>>;

/// A part of a piece at its place.
struct Placed {
    const SheetPiece* piece;
    std::size_t from, to;
    int page;
    PagePoint at;
    double width;
};

std::vector<ListEntry> with_mark(const std::vector<std::string>& texts, ListEntry::Mark mark) {
    std::vector<ListEntry> out;
    for (const std::string& text : texts)
        out.push_back({mark, {}, text, false});
    return out;
}

std::vector<ListEntry> way_entries(const SheetContent& s) {
    std::vector<ListEntry> out;
    for (const SheetEvent& e : s.events) {
        const bool warns = e.kind == SheetEvent::Kind::check || e.kind == SheetEvent::Kind::stop_flag;
        if (warns && !s.narrow_points.empty())
            continue;  // they have a list of their own
        const bool strong = e.kind == SheetEvent::Kind::stop || e.kind == SheetEvent::Kind::arrive ||
                            e.kind == SheetEvent::Kind::stop_flag;
        std::string text =
            e.kind == SheetEvent::Kind::stop ? fmt::format("[{}] {}", e.stop_number, e.text) : e.text;
        if (e.kind == SheetEvent::Kind::stop_flag)
            text = "STOP FLAG: " + text;
        out.push_back(
            {warns ? ListEntry::Mark::warning : ListEntry::Mark::text, e.at, std::move(text), strong});
    }
    return out;
}

/// Stops and way stand beside the ribbon, the rest below it at full width.
constexpr std::size_t beside_ribbon = 2;

/// The lists in the order of their use on the day; then the cautions, last what is not the driver's.
Pieces make_pieces(const SheetContent& s, double scale, double closer) {
    Pieces out;
    const ListLook look{.size = 7.4 * scale, .least_column = 170, .gap = 1.6 * scale, .closer = closer};
    const auto list = [&](std::string title, std::vector<ListEntry> entries, ListLook l) {
        if (!entries.empty())
            out.push_back(list_piece(std::move(title), std::move(entries), l));
    };
    if (s.total_m > 0)
        out.push_back(stops_piece(s, closer));
    ListLook way = look;
    way.label_width = s.total_m >= 100e3 ? 25 : 20;
    list(fmt::format("The way ({} from the start)", s.units.long_unit()), way_entries(s), way);
    std::vector<ListEntry> narrow;
    for (const auto& [at, text] : s.narrow_points)
        narrow.push_back({ListEntry::Mark::warning, at, text, false});
    list(fmt::format("Narrow points, limits and crossings ({} from the start)", s.units.long_unit()),
         std::move(narrow), way);
    for (const SheetSteps& steps : s.steps) {
        std::vector<ListEntry> entries;
        for (std::size_t i = 0; i < steps.steps.size(); ++i)
            entries.push_back({ListEntry::Mark::text, fmt::format("{}", i + 1), steps.steps[i], false});
        list(fmt::format("{}: what to do, {}", steps.letter, steps.title), std::move(entries), look);
    }
    list("Before leaving", with_mark(s.checks, ListEntry::Mark::tick), look);
    list("Look out for", with_mark(s.notes, ListEntry::Mark::bullet), look);
    std::vector<std::string> last = s.cautions;
    // A heading of its own would take the line that often decides between one page and two.
    for (const std::string& text : s.planner)
        last.push_back("For the planner: " + text);
    list("Cautions", with_mark(last, ListEntry::Mark::bullet),
         {.size = std::max(6.4 * scale, 6.0), .least_column = 165, .gap = 0.8, .closer = closer});
    return out;
}

class MoveSheet {
public:
    MoveSheet(Canvas& canvas, const SheetContent& content, const Region* region)
        : m_c(canvas),
          m_s(content),
          m_region(region),
          m_page{page_margin, 20, canvas.width() - 2 * page_margin, canvas.height() - 20 - 18} {
        m_body_top = m_page.y + put_sheet_head(m_c, m_page, m_s, false) + 5;
        m_body_bottom = m_page.bottom() - foot_height;
        const bool bare = !m_s.option->heat && !m_s.option->elevation;
        m_ribbon_width = bare ? bare_ribbon_width : ribbon_width + (m_s.option->elevation ? 8 : 0);
        m_column = {m_page.x + m_ribbon_width + between, m_body_top, m_page.width - m_ribbon_width - between,
                    m_body_bottom - m_body_top};
    }

    void draw() {
        for (const Tightness& t : tightnesses)
            if (one_page(t))
                return draw_all();
        several_pages();
        draw_all();
    }

private:
    static double all_height(const Canvas& canvas, const SheetPiece& p, double width) {
        return p.height(canvas, 0, p.count(), width);
    }

    /// Picture, stops and way side by side with the ribbon, the rest below. False: it does not fit.
    bool one_page(const Tightness& t) {
        m_pieces = make_pieces(m_s, t.scale, t.closer);
        m_placed.clear();
        const auto is_beside = [this](std::size_t i) { return i < beside_ribbon && m_s.total_m > 0; };
        const auto width = [&](std::size_t i) { return is_beside(i) ? m_column.width : m_page.width; };
        double beside = 0, below = 0;
        for (std::size_t i = 0; i < m_pieces.size(); ++i)
            (is_beside(i) ? beside : below) += all_height(m_c, *m_pieces[i], width(i));
        const double map = m_body_bottom - m_body_top - beside - below - 8;
        if (map < t.least_map)
            return false;
        m_map = {m_column.x, m_body_top, m_column.width, map};
        m_ribbon = {m_page.x, m_body_top, m_ribbon_width, map + beside};
        double y = m_map.bottom() + 7;
        for (std::size_t i = 0; i < m_pieces.size(); ++i) {
            place(*m_pieces[i], 0, m_pieces[i]->count(), {is_beside(i) ? m_column.x : m_page.x, y}, width(i));
            y += all_height(m_c, *m_pieces[i], width(i));
        }
        return true;
    }

    /// The first page holds picture and the first lists, the others the rest at full width.
    void several_pages() {
        m_pieces = make_pieces(m_s, 1.0, 0);
        m_placed.clear();
        m_map = {m_column.x, m_body_top, m_column.width, m_column.height * map_share};
        m_ribbon = {m_page.x, m_body_top, m_ribbon_width, m_column.height};
        m_pages = 1;
        PageBox room{m_column.x, m_map.bottom() + 7, m_column.width, m_body_bottom - m_map.bottom() - 7};
        for (const auto& piece : m_pieces)
            flow(*piece, room);
    }
    void flow(const SheetPiece& piece, PageBox& room) {
        std::size_t from = 0;
        while (from < piece.count()) {
            std::size_t to = fitting(piece, from, room);
            const bool whole = from == 0 && to == piece.count();
            if (!whole && piece.keep_whole() && from == 0 &&
                all_height(m_c, piece, m_page.width) < next_room().height)
                to = from;  // rather whole on the next page
            if (to == from && room.height >= next_room().height - 1)
                to = from + 1;  // taller than a page: nothing else helps
            if (to > from) {
                place(piece, from, to, {room.x, room.y}, room.width);
                const double used = piece.height(m_c, from, to, room.width);
                room = {room.x, room.y + used, room.width, room.height - used};
                from = to;
            }
            if (from < piece.count()) {
                ++m_pages;
                room = next_room();
            }
        }
    }
    [[nodiscard]] std::size_t fitting(const SheetPiece& piece, std::size_t from, const PageBox& room) const {
        std::size_t low = from, high = piece.count();
        while (low < high) {
            const std::size_t middle = (low + high + 1) / 2;
            if (piece.height(m_c, from, middle, room.width) <= room.height)
                low = middle;
            else
                high = middle - 1;
        }
        return low;
    }
    [[nodiscard]] PageBox next_room() const {
        return {m_page.x, m_page.y + running_head, m_page.width, m_body_bottom - m_page.y - running_head};
    }
    void place(const SheetPiece& piece, std::size_t from, std::size_t to, PagePoint at, double width) {
        m_placed.push_back({&piece, from, to, m_pages, at, width});
    }

    void draw_all() {
        put_sheet_head(m_c, m_page, m_s, true);
        if (m_s.total_m > 0)
            draw_road_ribbon(m_c, m_ribbon, m_s);
        draw_map();
        for (int page = 1; page <= m_pages; ++page) {
            if (page > 1) {
                m_c.next_page();
                m_c.text(
                    {m_page.x, m_page.y}, m_s.title,
                    {.size = 8.5, .bold = true, .ink = shade::ink, .width = m_page.width, .most_lines = 1});
            }
            for (const Placed& p : m_placed)
                if (p.page == page)
                    p.piece->draw(m_c, p.from, p.to, p.at, p.width);
            draw_page_foot(m_c, m_s.map_words, page, m_pages);
        }
    }

    /// A high map gives its foot to the surroundings of the stops.
    void draw_map() {
        PageBox map = m_map;
        if (has_insets(m_s, m_region) && map.height >= map_worth_insets) {
            map.height -= inset_strip_height + 5;
            draw_stop_insets(m_c, {map.x, map.bottom() + 5, map.width, inset_strip_height}, m_s, *m_region);
        }
        draw_route_map(m_c, map, m_s, m_region);
    }

    Canvas& m_c;
    const SheetContent& m_s;
    const Region* m_region;
    PageBox m_page, m_column, m_map, m_ribbon;
    double m_body_top = 0, m_body_bottom = 0, m_ribbon_width = ribbon_width;
    Pieces m_pieces;
    std::vector<Placed> m_placed;
    int m_pages = 1;
};

}  // namespace

void draw_page_foot(Canvas& canvas, const std::string& words, int page, int pages) {
    const double y = canvas.height() - 16;
    canvas.text({page_margin, y},
                words + " Estimates; local codes, the road authority and the makers' manuals decide.",
                {.size = 6,
                 .ink = shade::soft,
                 .rise = Rise::bottom,
                 .width = canvas.width() - 2 * page_margin - 60,
                 .most_lines = 2});
    if (pages > 1)
        canvas.text(
            {canvas.width() - page_margin, y}, fmt::format("page {} of {}", page, pages),
            {.size = 7.5, .bold = true, .ink = shade::ink, .align = Align::right, .rise = Rise::bottom});
}

void draw_move_sheet(Canvas& canvas, const SheetContent& content, const Region* region) {
    MoveSheet(canvas, content, region).draw();
}

}  // namespace loamway
