// SPDX-License-Identifier: Apache-2.0
// Towns and hamlets.
#include <algorithm>
#include <array>

#include "county_stages.h"

namespace loamway {

namespace {

struct Town {
    const char* name;
    const char* kind;
    int i, j;                // the section corner it grew around
    int columns, rows;       // blocks on either side
    double wide, deep;       // of a block, metres
    std::size_t first_name;  // into the street names
};

constexpr std::array<Town, 3> towns = {{{"Tillerby", "town", 15, 12, 4, 3, 125.0, 105.0, 0},
                                        {"Marrow Ford", "town", 12, 9, 2, 2, 120.0, 100.0, 7},
                                        {"Dunnockstead", "town", 20, 3, 3, 2, 120.0, 110.0, 12}}};

constexpr std::array<const char*, 19> street_names = {
    "Mill Street",    "Granary Street", "Chapel Street", "Orchard Street", "Weir Lane",
    "Foundry Street", "Cooper Street",  "Smithy Lane",   "Well Street",    "Saddler Street",
    "Barley Street",  "Rye Street",     "Thatch Street", "Ropewalk",       "Tanner Street",
    "Flax Street",    "Market Street",  "Drover Street", "Harness Lane"};

class TownDrawer {
public:
    TownDrawer(County& county, const Town& town)
        : m_county(county),
          m_town(town),
          m_random(county.random(town.name)),
          m_middle(county.corner(town.i, town.j)) {}

    void draw() {
        std::size_t street = m_town.first_name;
        for (int row = -m_town.rows; row <= m_town.rows; ++row) {
            draw_street(true, row, street);
        }
        for (int column = -m_town.columns; column <= m_town.columns; ++column) {
            draw_street(false, column, street);
        }
        m_county.draft.join_crossings();
        draw_school();
        for (int column = -m_town.columns; column < m_town.columns; ++column) {
            for (int row = -m_town.rows; row < m_town.rows; ++row) {
                draw_houses(column, row);
            }
        }
        draw_outline();
        slow_through_roads();
        name_spot(m_county, place(0.12, 0.12), m_town.kind, m_town.name);
    }

private:
    [[nodiscard]] Spot place(double column, double row) const {
        return {m_middle.x + column * m_town.wide, m_middle.y + row * m_town.deep};
    }

    /// A block of street is built unless the river or the railway is in the way; a few at the edge never
    /// were.
    [[nodiscard]] bool is_built(Spot a, Spot b, bool at_edge) {
        for (const double t : {0.0, 0.5, 1.0}) {
            if (!is_free(m_county, offset(a, b, t * distance(a, b), 0.0), 45.0)) {
                return false;
            }
        }
        return !at_edge || !m_random.chance(0.12);
    }

    void draw_street(bool east_west, int index, std::size_t& street) {
        if (index == 0) {
            return;  // the section road itself
        }
        const int end = east_west ? m_town.columns : m_town.rows;
        const TagList tags = street_tags(east_west, index, street_names[street++ % street_names.size()]);
        const std::string course =
            std::string(m_town.name) + (east_west ? " r" : " c") + std::to_string(index);
        std::vector<Spot> spots;
        const auto finish = [&] {
            if (spots.size() > 1) {
                m_county.draft.add_line(spots, tags, LineKind::road, course);
            }
            spots.clear();
        };
        for (int k = -end; k < end; ++k) {
            if (k == 0) {
                continue;  // no corner of its own at the section road: the crossing is found later
            }
            const int next = k == -1 ? 1 : k + 1;
            const Spot a = east_west ? place(k, index) : place(index, k);
            const Spot b = east_west ? place(next, index) : place(index, next);
            if (!is_built(a, b, k == -end || next == end)) {
                finish();
                continue;
            }
            if (spots.empty()) {
                spots.push_back(a);
            }
            spots.push_back(b);
        }
        finish();
    }

    TagList street_tags(bool east_west, int index, const char* name) {
        TagList tags{{"highway", "residential"}, {"name", name}};
        const double draw = m_random.unit();
        if (draw < 0.55) {
            set_tag(tags, "surface", draw < 0.45 ? "asphalt" : "concrete");
        }
        if (m_random.chance(0.15)) {
            set_tag(tags, "maxspeed", "30");
        }
        if (m_town.columns == 4 && east_west && (index == 1 || index == -1)) {
            set_tag(tags, "oneway", index == 1 ? "yes" : "-1");
        }
        if (m_town.columns == 2 && !east_west && index == 2) {
            set_tag(tags, "highway", "living_street");
        }
        return tags;
    }

    [[nodiscard]] bool is_school_block(int column, int row) const {
        return m_town.columns == 4 && column == 1 && row == 1;
    }

    void draw_school() {
        if (m_town.columns != 4) {
            return;
        }
        const Spot middle = place(1.5, 1.5);
        const Spot east = place(2.5, 1.5);
        m_county.draft.add_area(rectangle(middle, middle, east, m_town.wide - 40.0, m_town.deep - 40.0),
                                {{"amenity", "school"}, {"name", "Tillerby School"}});
        add_building(m_county, middle, middle, east, 44.0, 16.0, "school");
    }

    void draw_houses(int column, int row) {
        if (is_school_block(column, row)) {
            return;
        }
        for (const double up : {0.0, 1.0}) {
            for (const double along : {0.25, 0.5, 0.75}) {
                Spot spot = place(column + along, row + up);
                spot.y += up > 0.5 ? -20.0 : 20.0;
                const double width = m_random.between(9.0, 15.0);
                const double depth = m_random.between(8.0, 11.0);
                const bool wanted = m_random.chance(0.55);
                const bool on_road =
                    m_county.draft
                        .nearest(spot, 13.0, [](const DraftLine& l) { return l.kind != LineKind::other; })
                        .has_value();
                if (wanted && !on_road && is_free(m_county, spot, 20.0)) {
                    add_building(m_county, spot, {0, 0}, {1, 0}, width, depth,
                                 m_random.chance(0.6) ? "house" : "yes");
                }
            }
        }
    }

    void draw_outline() {
        const double c = m_town.columns + 0.45;
        const double r = m_town.rows + 0.45;
        std::vector<Spot> corners = {place(-c, -r),       place(-0.4, -r - 0.2), place(c, -r),
                                     place(c + 0.2, 0.3), place(c, r),           place(0.5, r + 0.2),
                                     place(-c, r),        place(-c - 0.2, -0.3)};
        for (Spot& s : corners) {
            s.x += m_random.between(-9.0, 9.0);
            s.y += m_random.between(-9.0, 9.0);
        }
        m_county.draft.add_area(corners, {{"landuse", "residential"}});
        m_county.taken.push_back({place(-c, -r), place(c, r)});
    }

    void slow_through_roads() {
        Draft& draft = m_county.draft;
        const TakenGround town = m_county.taken.back();
        const LineId count = draft.line_count();
        for (LineId id = 0; id < count; ++id) {
            if (!takes_side_ways(draft.line(id)) || draft.line(id).path.empty() ||
                is_gravel_road(draft.line(id))) {
                continue;
            }
            double from = -1.0;
            double to = -1.0;
            for (double at = 0.0; at <= draft.length(id); at += 20.0) {
                const Spot s = draft.spot_at(id, at);
                if (s.x > town.low.x && s.x < town.high.x && s.y > town.low.y && s.y < town.high.y) {
                    from = from < 0.0 ? at : from;
                    to = at;
                }
            }
            if (to - from > 60.0) {
                set_tag(draft.line(draft.isolate(id, from, to)).tags, "maxspeed", "50");
            }
        }
    }

    County& m_county;
    const Town& m_town;
    Random m_random;
    Spot m_middle;
};

void draw_hamlet(County& county, int i, int j, const char* name) {
    Random random = county.random(name);
    const Spot middle = county.corner(i, j);
    int houses = 0;
    for (int tries = 0; tries < 60 && houses < 9; ++tries) {
        const Spot near{middle.x + random.between(-190.0, 190.0), middle.y + random.between(-150.0, 150.0)};
        const auto side = find_roadside(county, near, 120.0);
        const double left = random.either_side(22.0, 34.0);
        if (!side) {
            continue;
        }
        const Spot spot = side->beside(0.0, left);
        const bool room =
            !county.draft.nearest(spot, 16.0, [](const DraftLine& l) { return l.course != "outline"; });
        if (room && is_free(county, spot, 20.0)) {
            add_building(county, spot, side->at, side->ahead, random.between(9.0, 14.0), 9.0, "house");
            ++houses;
        }
    }
    const LineId outline = county.draft.add_area(
        rectangle(middle, middle, {middle.x + 1.0, middle.y}, 460.0, 380.0), {{"landuse", "residential"}});
    county.draft.line(outline).course = "outline";
    county.taken.push_back({{middle.x - 230.0, middle.y - 190.0}, {middle.x + 230.0, middle.y + 190.0}});
    name_spot(county, {middle.x + 18.0, middle.y + 14.0}, "hamlet", name);
}

/// An industrial yard with its own road, a gate and a parking place behind it.
void draw_industry(County& county, const char* name, Spot near, double left) {
    const Roadside side = require_open_roadside(county, near, 900.0);
    Draft& draft = county.draft;
    const double sign = left > 0.0 ? 1.0 : -1.0;
    draft.add_area({side.beside(-130, 25 * sign), side.beside(150, 25 * sign), side.beside(150, left),
                    side.beside(-130, left)},
                   {{"landuse", "industrial"}, {"name", name}});
    const VertexId gate = draft.vertex(side.beside(0, 40 * sign));
    draft.add_line(std::vector<VertexId>{side.on_road, gate, draft.vertex(side.beside(0, left * 0.5)),
                                         draft.vertex(side.beside(60, left * 0.6)),
                                         draft.vertex(side.beside(60, left * 0.85))},
                   {{"highway", "service"}, {"surface", "concrete"}}, LineKind::road, "industrial");
    draft.tag_vertex(gate, "barrier", "lift_gate");
    draft.tag_vertex(gate, "access", "private");
    draft.add_area({side.beside(70, left * 0.3), side.beside(130, left * 0.3), side.beside(130, left * 0.5),
                    side.beside(70, left * 0.5)},
                   {{"amenity", "parking"}, {"access", "private"}});
    add_building(county, side.beside(-70, left * 0.5), side.at, side.ahead, 70.0, 45.0, "industrial");
    add_building(county, side.beside(-70, left * 0.8), side.at, side.ahead, 20.0, 20.0, "silo");
    const Spot a = side.beside(-130, 0);
    const Spot b = side.beside(150, left);
    county.taken.push_back(
        {{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}});
}

}  // namespace

void draw_towns(County& county) {
    for (const Town& town : towns) {
        TownDrawer(county, town).draw();
    }
    draw_hamlet(county, 8, 15, "Tansy Cross");
    draw_hamlet(county, 2, 9, "Lower Sedge");
    draw_hamlet(county, 5, 6, "Pennyfold");
    const Spot tillerby = county.corner(15, 12);
    draw_industry(county, "Tillerby Grain Yard", {tillerby.x, tillerby.y - 640.0}, -230.0);
    draw_industry(county, "Sedge Elevator", miles(20.0, 4.15), 210.0);
}

}  // namespace loamway
