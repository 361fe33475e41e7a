// SPDX-License-Identifier: Apache-2.0
// The long roads of the county: section lines, the old highway across them, railway and motorway.
#include <algorithm>
#include <array>

#include "county_stages.h"

namespace loamway {

namespace {

constexpr std::array<const char*, county_rows + 1> east_west_names = {
    "Plover",  "Lapwing",   "Curlew",   "Harrier", "Bittern", "Dunlin",   "Wheatear",
    "Linnet",  "Siskin",    "Godwit",   "Pintail", "Snipe",   "Whinchat", "Pipit",
    "Redpoll", "Fieldfare", "Nightjar", "Avocet",  "Merlin"};
constexpr std::array<const char*, county_columns + 1> north_south_names = {
    "Alder", "Rowan",  "Hazel",     "Hornbeam", "Sallow", "Medlar",  "Juniper", "Tamarack",
    "Aspen", "Larch",  "Osier",     "Elder",    "Sorrel", "Spindle", "Maple",   "Bullace",
    "Sloe",  "Laurel", "Buckthorn", "Cypress",  "Thorn",  "Yew",     "Quince"};

/// "primary" ... for a paved stretch between two section corners, "" for gravel, "-" for no road at all.
std::string road_class(bool east_west, int line, int k) {
    if (east_west) {
        switch (line) {
            case 3:
                return k < 4 ? "primary" : "tertiary";
            case 12:
                return k >= 14 ? "primary" : "";
            case 13:
            case 14:
                return k == 19 || k == 20 ? "-" : "";  // nothing joins the trunk road between its ends
            case 15:
                return k < 16 ? "tertiary" : "";
            default:
                return "";
        }
    }
    switch (line) {
        case 2:
        case 8:
            return "tertiary";
        case 15:
            return k < 17 ? "secondary" : "";
        case 20:
            return k >= 12 && k < 15 ? "trunk" : "secondary";
        default:
            return "";
    }
}

struct Stretch {
    bool east_west;
    int line;
    int from;
    int to;
};
// Gravel stretches that later stages count on: bridges, the ford, the low bridge, the demo move's ends.
constexpr std::array<Stretch, 9> always_there = {{{true, 6, 8, 15},
                                                  {true, 11, 7, 11},
                                                  {true, 14, 5, 8},
                                                  {false, 7, 11, 15},
                                                  {false, 16, 2, 6},
                                                  {false, 12, 4, 7},
                                                  {false, 4, 1, 3},
                                                  {true, 13, 14, 18},
                                                  {true, 2, 2, 5}}};

bool must_be_there(bool east_west, int line, int k) {
    return std::any_of(always_there.begin(), always_there.end(), [&](const Stretch& s) {
        return s.east_west == east_west && s.line == line && s.from <= k && k < s.to;
    });
}

TagList paved_tags(Random& random, const std::string& highway, bool east_west, int line) {
    TagList tags{{"highway", highway}};
    const double known = highway == "tertiary" ? 0.55 : 0.9;
    if (random.chance(known)) {
        set_tag(tags, "surface", random.chance(0.12) ? "chipseal" : "asphalt");
    }
    if (highway == "primary") {
        set_tag(tags, "ref", "12");
        set_tag(tags, "name", "Plain Highway");
        set_tag(tags, "maxspeed", "90");
    } else if (highway == "trunk") {
        set_tag(tags, "ref", "40");
        set_tag(tags, "motorroad", "yes");
        set_tag(tags, "maxspeed", "100");
    } else {
        set_tag(tags, "ref", (east_west ? "3" : "2") + std::to_string(10 + line));
        set_tag(tags, "maxspeed", "80");
    }
    if (random.chance(0.3)) {
        set_tag(tags, "lanes", "2");
    }
    return tags;
}

/// Gravel roads are tagged as people tag them: some with a surface, some with a track type, most with
/// neither.
TagList gravel_tags(Random& random, const std::string& name) {
    const bool track = random.chance(0.15);
    TagList tags{{"highway", track ? "track" : "unclassified"}};
    if (!track && random.chance(0.75)) {
        set_tag(tags, "name", name);
    }
    const double draw = random.unit();
    if (draw < 0.40) {
        constexpr std::array<const char*, 20> surfaces = {
            "gravel",      "gravel", "gravel", "gravel",    "gravel",      "gravel",  "gravel",
            "gravel",      "gravel", "gravel", "compacted", "compacted",   "unpaved", "unpaved",
            "fine_gravel", "dirt",   "ground", "gravle",    "gravel;dirt", "asphalt"};
        set_tag(tags, "surface", surfaces[random.below(surfaces.size())]);
    } else if (draw < 0.58) {
        constexpr std::array<const char*, 6> grades = {"grade2", "grade2", "grade2",
                                                       "grade3", "grade3", "grade1"};
        set_tag(tags, "tracktype", grades[random.below(grades.size())]);
    }
    if (random.chance(0.06)) {
        set_tag(tags, "smoothness", random.chance(0.5) ? "bad" : "very_bad");
    }
    if (random.chance(0.08)) {
        set_tag(tags, "width", random.chance(0.5) ? "6" : "5.5");
    }
    if (random.chance(0.07)) {
        set_tag(tags, "maxspeed", "60");
    }
    return tags;
}

/// The points between two section corners: old surveys and graders never leave a road quite straight.
void append_stretch(std::vector<Spot>& spots, Random& random, Spot a, Spot b) {
    if (spots.empty()) {
        spots.push_back(a);
    }
    const auto inner = 1 + random.below(3);
    for (std::size_t k = 1; k <= inner; ++k) {
        const double along =
            (static_cast<double>(k) + random.between(-0.25, 0.25)) / static_cast<double>(inner + 1);
        spots.push_back(offset(a, b, along * distance(a, b), random.between(-5.0, 5.0)));
    }
    spots.push_back(b);
}

void draw_section_line(County& county, Random& random, bool east_west, int line) {
    const std::string course = (east_west ? "h" : "v") + std::to_string(line);
    const std::string name = std::string(east_west ? east_west_names[static_cast<std::size_t>(line)]
                                                   : north_south_names[static_cast<std::size_t>(line)]) +
                             (east_west ? " Road" : " Line");
    const int count = east_west ? county_columns : county_rows;
    std::vector<Spot> spots;
    std::string current;
    std::size_t left_in_run = 0;
    const auto finish = [&] {
        if (!spots.empty()) {
            county.draft.add_line(
                spots,
                current.empty() ? gravel_tags(random, name) : paved_tags(random, current, east_west, line),
                LineKind::road, course);
        }
        spots.clear();
    };
    for (int k = 0; k < count; ++k) {
        std::string highway = road_class(east_west, line, k);
        if (highway.empty() && random.chance(0.10) && !must_be_there(east_west, line, k)) {
            highway = "-";
        }
        if (highway != current || left_in_run == 0) {
            finish();
            current = highway;
            left_in_run = current.empty() ? 1 + random.below(4) : 4 + random.below(4);
        }
        --left_in_run;
        if (highway != "-") {
            append_stretch(spots, random, east_west ? county.corner(k, line) : county.corner(line, k),
                           east_west ? county.corner(k + 1, line) : county.corner(line, k + 1));
        }
    }
    finish();
}

}  // namespace

void draw_section_roads(County& county) {
    for (int j = 0; j <= county_rows; ++j) {
        Random random = county.random("east-west " + std::to_string(j));
        draw_section_line(county, random, true, j);
    }
    for (int i = 0; i <= county_columns; ++i) {
        Random random = county.random("north-south " + std::to_string(i));
        draw_section_line(county, random, false, i);
    }
}

void draw_highway(County& county) {
    // The old trail from south-west to north-east, paved long after the survey: shorter than any way along
    // the section lines.
    const TagList tags{{"highway", "primary"}, {"ref", "12"},      {"name", "Plain Highway"},
                       {"surface", "asphalt"}, {"maxspeed", "90"}, {"lanes", "2"}};
    std::vector<Spot> south =
        miles_chain({{4.4, 3.25}, {5.7, 4.05}, {7.2, 5.15}, {8.4, 5.95}, {9.7, 7.2}, {11.1, 8.35}});
    south.insert(south.begin(), county.corner(4, 3));
    south.push_back(county.corner(12, 9));
    county.draft.add_line(smooth(south, 2), tags, LineKind::road, "highway");
    std::vector<Spot> north = miles_chain({{12.7, 9.6}, {13.05, 10.4}, {13.4, 11.3}});
    north.insert(north.begin(), county.corner(12, 9));
    north.push_back(county.corner(14, 12));
    county.draft.add_line(smooth(north, 2), tags, LineKind::road, "highway");
}

void draw_railway(County& county) {
    const std::vector<Spot> chain = miles_chain({{-0.2, 9.62},
                                                 {3.1, 9.35},
                                                 {6.2, 8.25},
                                                 {8.4, 7.45},
                                                 {10.6, 6.5},
                                                 {12.2, 5.78},
                                                 {13.9, 5.4},
                                                 {16.2, 5.42},
                                                 {19.0, 4.7},
                                                 {22.2, 4.42}});
    Draft& draft = county.draft;
    const LineId rail = draft.add_line(
        smooth(chain, 3),
        {{"railway", "rail"}, {"gauge", "1435"}, {"usage", "branch"}, {"name", "County Branch"}},
        LineKind::rail, "rail");
    // The one place where the railway goes over a road is too low for most of what farms have today.
    const LineId road = line_of(county, "v12", miles(12.0, 5.85));
    const double over = draft.crossings(rail, road).at(0);
    const double under = draft.crossings(road, rail).at(0);
    const LineId bridge = draft.isolate(rail, over - 25.0, over + 25.0);
    draft.line(bridge).on_ground = false;
    set_tag(draft.line(bridge).tags, "bridge", "yes");
    set_tag(draft.line(bridge).tags, "layer", "1");
    set_tag(draft.line(draft.isolate(road, under - 20.0, under + 20.0)).tags, "maxheight", "3.6");
}

namespace {

std::vector<Spot> beside(const Draft& draft, LineId line, double left) {
    std::vector<Spot> result;
    const auto& path = draft.line(line).path;
    for (std::size_t k = 0; k < path.size(); ++k) {
        const Spot before = draft.at(path[k == 0 ? 0 : k - 1]);
        const Spot after = draft.at(path[k + 1 == path.size() ? k : k + 1]);
        const Spot turn = offset(before, after, 0.0, left);
        result.push_back({draft.at(path[k]).x + turn.x - before.x, draft.at(path[k]).y + turn.y - before.y});
    }
    return result;
}

LineId draw_carriageway(County& county, LineId middle, double left) {
    std::vector<Spot> spots = beside(county.draft, middle, left);
    if (left > 0.0) {
        std::reverse(spots.begin(), spots.end());
    }
    const LineId line = county.draft.add_line(spots,
                                              {{"highway", "motorway"},
                                               {"ref", "M4"},
                                               {"oneway", "yes"},
                                               {"surface", "asphalt"},
                                               {"lanes", "2"},
                                               {"maxspeed", "120"}},
                                              LineKind::road, left > 0.0 ? "motorway west" : "motorway east");
    county.draft.line(line).on_ground = false;  // other roads pass over it or end before it
    return line;
}

/// One way off and one way on for a carriageway, both at the road's side `foot`.
void draw_ramps(County& county, LineId carriageway, LineId road, VertexId foot) {
    Draft& draft = county.draft;
    const double at = draft.crossings(carriageway, road).at(0);
    const VertexId leave = draft.insert_at(carriageway, at - 480.0);
    const VertexId enter = draft.insert_at(carriageway, at + 480.0);
    const Spot f = draft.at(foot);
    const auto bend = [&](VertexId v, double towards) {
        const Spot on_motorway = draft.spot_at(carriageway, at + towards);
        return Spot{(on_motorway.x + f.x) / 2.0 + (draft.at(v).x - on_motorway.x) * 0.1,
                    (on_motorway.y + f.y) / 2.0 + (draft.at(v).y - on_motorway.y) * 0.1};
    };
    const TagList tags{{"highway", "motorway_link"}, {"oneway", "yes"}, {"surface", "asphalt"}};
    draft.add_line(std::vector<VertexId>{leave, draft.vertex(bend(leave, -200.0)), foot}, tags,
                   LineKind::road, "ramp");
    draft.add_line(std::vector<VertexId>{foot, draft.vertex(bend(enter, 200.0)), enter}, tags, LineKind::road,
                   "ramp");
}

void bridge_over(County& county, LineId road, double from, double to) {
    DraftLine& bridge = county.draft.line(county.draft.isolate(road, from, to));
    set_tag(bridge.tags, "bridge", "yes");
    set_tag(bridge.tags, "layer", "1");
    bridge.on_ground = false;
}

}  // namespace

void draw_motorway(County& county) {
    Draft& draft = county.draft;
    const LineId middle = draft.add_line(
        smooth(miles_chain({{15.6, 18.4}, {17.2, 17.35}, {19.0, 16.25}, {20.7, 15.5}, {22.3, 14.4}}), 3), {},
        LineKind::other, "middle of the motorway");
    const LineId east = draw_carriageway(county, middle, -11.0);
    const LineId west = draw_carriageway(county, middle, 11.0);

    // The interchange: a diamond on the north-south road, which passes over.
    const LineId road = line_of(
        county, "v20",
        draft.spot_at(middle, draft.crossings(middle, line_of(county, "v20", miles(20.0, 15.7))).at(0)));
    const double over = draft.crossings(road, middle).at(0);
    const VertexId south = draft.insert_at(road, over - 140.0);
    const VertexId north = draft.insert_at(road, over + 140.0);
    draw_ramps(county, east, road, south);
    draw_ramps(county, west, road, north);
    bridge_over(county, road, over - 45.0, over + 45.0);

    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        if (l.kind != LineKind::road || !l.on_ground || l.course == "ramp" || l.path.empty()) {
            continue;
        }
        const std::vector<double> across = draft.crossings(id, middle);
        if (across.empty()) {
            continue;
        }
        if (l.course == "v18") {
            bridge_over(county, id, across[0] - 40.0, across[0] + 40.0);
        } else {
            draft.remove(draft.isolate(id, std::max(0.0, across[0] - 90.0), across[0] + 90.0));
        }
    }
    draft.remove(middle);
}

}  // namespace loamway
