// SPDX-License-Identifier: Apache-2.0
// Places to stop, barriers, conditions, and what lies beside the roads.
#include <algorithm>
#include <array>

#include "county_stages.h"

namespace loamway {

namespace {

/// A lay-by is drawn as the strip beside the road that it is.
void draw_lay_by(County& county, Spot near, double left) {
    const Roadside side = require_roadside(county, near, 900.0, is_paved_road);
    const double sign = left > 0.0 ? 1.0 : -1.0;
    county.draft.add_area({side.beside(-35, 5 * sign), side.beside(35, 5 * sign), side.beside(25, left),
                           side.beside(-25, left)},
                          {{"amenity", "parking"}, {"parking", "layby"}, {"surface", "asphalt"}});
}

void draw_rest_area(County& county, Spot near, double left) {
    const Roadside side = require_open_roadside(county, near, 900.0, is_paved_road);
    const double sign = left > 0.0 ? 1.0 : -1.0;
    Draft& draft = county.draft;
    draft.add_area({side.beside(-20, 9 * sign), side.beside(150, 9 * sign), side.beside(150, left),
                    side.beside(-20, left)},
                   {{"highway", "rest_area"}, {"name", "Far View"}});
    const Roadside out = require_open_roadside(county, side.beside(130, 0), 60.0, is_paved_road);
    draft.add_line(std::vector<VertexId>{side.on_road, draft.vertex(side.beside(14, left * 0.5)),
                                         draft.vertex(side.beside(112, left * 0.5)), out.on_road},
                   {{"highway", "service"}, {"oneway", "yes"}, {"surface", "asphalt"}}, LineKind::road,
                   "rest area");
}

/// Tags a new vertex on the gravel road nearest to a place.
VertexId tag_road(County& county, Spot near, std::string_view key, std::string_view value) {
    const auto found = require_nearest(county, near, 2.0 * mile, [&](const DraftLine& l) {
        return is_gravel_road(l) && county.draft.at(l.path.front()).x != county.draft.at(l.path.back()).x;
    });
    const VertexId v = county.draft.insert_at(found.line, found.position);
    county.draft.tag_vertex(v, key, value);
    return v;
}

}  // namespace

void draw_stopping_places(County& county) {
    draw_rest_area(county, miles(6.6, 4.7), -60.0);
    draw_lay_by(county, miles(5.2, 3.7), -11.0);
    draw_lay_by(county, miles(9.0, 6.45), 11.0);
    draw_lay_by(county, miles(13.2, 10.75), -11.0);
    draw_lay_by(county, miles(18.4, 12.0), -11.0);
    draw_lay_by(county, miles(15.0, 8.3), -11.0);
    draw_lay_by(county, miles(8.0, 13.5), -11.0);
    const Roadside corner = require_roadside(county, miles(20.0, 6.6), 300.0, is_paved_road);
    county.draft.tag_vertex(county.draft.vertex(corner.beside(0.0, -12.0)), "amenity", "parking");
    for (const Spot s : {Spot{6.0, 3.5}, Spot{10.0, 2.4}, Spot{13.0, 8.4}, Spot{6.4, 12.0}, Spot{17.0, 9.6},
                         Spot{11.4, 6.0}}) {
        tag_road(county, miles(s.x, s.y), "highway", "passing_place");
    }
    // A place only locals know: the apron beside a disused elevator, given by name instead of by the map.
    const Roadside apron = require_roadside(county, miles(9.4, 6.0), 300.0, is_gravel_road);
    county.places.push_back({"Old elevator apron", "stop", apron.beside(0.0, -14.0)});
}

void draw_barriers(County& county) {
    for (const Spot s : {Spot{1.0, 7.4}, Spot{17.0, 2.5}, Spot{5.0, 10.3}}) {
        tag_road(county, miles(s.x, s.y), "barrier", "cattle_grid");
    }
    // Two through tracks are closed in the middle; one road end is shut with a block.
    Draft& draft = county.draft;
    int closed = 0;
    for (LineId id = 0; id < draft.line_count() && closed < 3; ++id) {
        if (draft.line(id).course == "track" && draft.length(id) > 1350.0 && id % 5 == 1) {
            const VertexId v = draft.insert_at(id, draft.length(id) * 0.5);
            constexpr std::array<const char*, 3> kinds = {"bollard", "bollard", "block"};
            draft.tag_vertex(v, "barrier", kinds[static_cast<std::size_t>(closed++)]);
            if (closed == 2) {
                draft.tag_vertex(v, "bollard", "removable");
            }
        }
    }
}

void draw_conditions(County& county) {
    Draft& draft = county.draft;
    const auto set = [&](Spot near, const Draft::Filter& which, std::string_view key,
                         std::string_view value) {
        const auto found = require_nearest(county, miles(near.x, near.y), 8.0 * mile, which);
        set_tag(draft.line(found.line).tags, key, value);
    };
    const auto of_class = [](std::string_view highway) {
        return [highway](const DraftLine& l) {
            return takes_side_ways(l) && tag_of(l.tags, "highway") == highway;
        };
    };
    set({15.0, 9.5}, of_class("secondary"), "hgv:conditional", "no @ (22:00-06:00)");
    set({10.0, 13.5}, is_gravel_road, "motor_vehicle:conditional", "no @ (Nov-Mar)");
    set({5.0, 8.4}, is_gravel_road, "maxweight:conditional", "10 @ (Mar-May)");
    set({18.0, 5.0}, is_gravel_road, "hgv:conditional", "no @ (weight>20)");
    set({1.0, 12.5}, of_class("track"), "access:conditional", "no @ (wet)");
    set({2.0, 6.0}, of_class("tertiary"), "hgv", "no");
    set({20.0, 10.5}, of_class("secondary"), "surface", "asphalt;gravel");
    set({19.0, 15.0}, is_gravel_road, "maxweight", "unsigned");
}

namespace {

void draw_power_line(County& county, const char* kind, const char* support, const std::vector<Spot>& course,
                     double step) {
    Draft& draft = county.draft;
    std::vector<VertexId> path;
    for (std::size_t k = 0; k + 1 < course.size(); ++k) {
        const double length = distance(course[k], course[k + 1]);
        for (double along = 0.0; along < length; along += step) {
            path.push_back(draft.vertex(offset(course[k], course[k + 1], along, 0.0)));
        }
    }
    path.push_back(draft.vertex(course.back()));
    for (const VertexId v : path) {
        draft.tag_vertex(v, "power", support);
    }
    draft.add_line(std::move(path), {{"power", kind}}, LineKind::other, "power");
}

/// A ragged outline around a place: eight directions, each with its own distance.
std::vector<Spot> ragged(Random& random, Spot middle, double least, double most) {
    constexpr double d = 0.7071067811865476;
    constexpr std::array<Spot, 8> directions = {
        {{1, 0}, {d, d}, {0, 1}, {-d, d}, {-1, 0}, {-d, -d}, {0, -1}, {d, -d}}};
    std::vector<Spot> ring;
    for (const Spot way : directions) {
        const double reach = random.between(least, most);
        ring.push_back({middle.x + way.x * reach, middle.y + way.y * reach});
    }
    ring.push_back(ring.front());
    ring = smooth(ring, 1);
    ring.pop_back();
    return ring;
}

}  // namespace

void draw_landscape(County& county) {
    Random random = county.random("landscape");
    Draft& draft = county.draft;
    draft.add_area(ragged(random, miles(18.5, 9.5), 380.0, 600.0),
                   {{"natural", "water"}, {"water", "lake"}, {"name", "Lapwing Water"}});
    draft.add_area(ragged(random, miles(3.45, 13.55), 90.0, 150.0),
                   {{"natural", "water"}, {"water", "pond"}});
    draft.add_area(ragged(random, miles(14.35, 5.75), 150.0, 260.0), {{"natural", "wetland"}});
    draft.add_area(ragged(random, miles(1.5, 15.5), 250.0, 420.0), {{"natural", "wood"}});
    const LineId outer = draft.add_area(ragged(random, miles(10.5, 16.5), 420.0, 640.0), {});
    const LineId clearing = draft.add_area(ragged(random, miles(10.48, 16.52), 90.0, 160.0), {});
    county.relations.push_back({{{'w', outer, "outer"}, {'w', clearing, "inner"}},
                                {{"type", "multipolygon"}, {"landuse", "forest"}, {"name", "Harrier Wood"}}});

    const auto beside = [&](int i, int j, double east, double north) {
        const Spot c = county.corner(i, j);
        return Spot{c.x + east, c.y + north};
    };
    draw_power_line(county, "minor_line", "pole", {beside(5, 2, 14, 0), beside(5, 5, 14, 0)}, 160.0);
    draw_power_line(county, "minor_line", "pole", {beside(9, 8, 0, 15), beside(11, 8, 0, 15)}, 170.0);
    draw_power_line(county, "minor_line", "pole", {beside(16, 7, -14, 0), beside(16, 10, -14, 0)}, 165.0);
    draw_power_line(county, "line", "tower",
                    miles_chain({{0.1, 16.4}, {7.3, 11.2}, {14.6, 14.3}, {21.9, 11.3}}), 340.0);
}

}  // namespace loamway
