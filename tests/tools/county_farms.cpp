// SPDX-License-Identifier: Apache-2.0
// Farmyards, tracks into the sections, field entrances and fields.
#include <array>
#include <stdexcept>

#include "county_stages.h"

namespace loamway {

namespace {

constexpr std::array<const char*, 26> farm_names = {
    "Burdock Farm", "Teasel Farm",   "Yarrow Farm",  "Tansy Farm",    "Campion Farm",  "Mallow Farm",
    "Betony Farm",  "Bryony Farm",   "Comfrey Farm", "Dock Farm",     "Fleabane Farm", "Groundsel Farm",
    "Hawkbit Farm", "Knapweed Farm", "Lovage Farm",  "Melilot Farm",  "Mugwort Farm",  "Nightshade Farm",
    "Oxlip Farm",   "Pignut Farm",   "Ragwort Farm", "Sainfoin Farm", "Spurrey Farm",  "Toadflax Farm",
    "Vetch Farm",   "Woad Farm"};

/// Draws a farmyard on the left (or, with a negative depth, right) of the road. False where there is no room.
bool draw_farmyard(County& county, Random& random, Spot near, double depth, const std::string& name) {
    const auto found = find_roadside(county, near, 70.0);
    if (!found) {
        return false;
    }
    const double sign = depth > 0.0 ? 1.0 : -1.0;
    const Spot middle = found->beside(20.0, depth + 55.0 * sign);
    const auto is_road = [](const DraftLine& l) { return l.kind == LineKind::road; };
    if (!is_free(county, middle, 150.0) || county.draft.nearest(middle, 95.0, is_road) ||
        !is_clear(county, {found->at, found->beside(0.0, depth), middle})) {
        return false;
    }
    const Roadside side = require_open_roadside(county, near, 70.0);
    Draft& draft = county.draft;
    const auto at = [&](double along, double further) { return side.beside(along, depth + further * sign); };
    const VertexId entrance = draft.vertex(at(0, 12));
    TagList drive{{"highway", "service"}};
    if (random.chance(0.55)) {
        set_tag(drive, "service", "driveway");
    }
    if (random.chance(0.3)) {
        set_tag(drive, "surface", random.chance(0.7) ? "gravel" : "compacted");
    }
    if (random.chance(0.12)) {
        set_tag(drive, "access", "private");
    }
    draft.add_line(
        std::vector<VertexId>{side.on_road, draft.vertex(side.beside(random.between(-4.0, 4.0), depth * 0.5)),
                              entrance},
        drive, LineKind::road, "drive");
    // A ring inside the yard: long combinations turn there.
    draft.add_line(std::vector<VertexId>{entrance, draft.vertex(at(-8, 60)), draft.vertex(at(20, 88)),
                                         draft.vertex(at(48, 60)), draft.vertex(at(40, 20)), entrance},
                   {{"highway", "service"}}, LineKind::road, "drive");
    draft.add_area({at(-40, 0), at(75, 3), at(80, 105), at(-35, 110)}, {{"landuse", "farmyard"}});
    constexpr std::array<const char*, 6> kinds = {"barn", "farm_auxiliary", "farm_auxiliary",
                                                  "silo", "shed",           "yes"};
    add_building(county, at(-22, 45), side.at, side.ahead, 14.0, 10.0, "farm");
    add_building(county, at(18, 48), side.at, side.ahead, random.between(18.0, 30.0), 16.0, "barn");
    const char* kind = kinds[random.below(kinds.size())];
    add_building(county, at(66, 45), side.at, side.ahead, 16.0, random.between(20.0, 40.0), kind);
    if (random.chance(0.6)) {
        add_building(county, at(-20, 85), side.at, side.ahead, 22.0, 14.0, kinds[random.below(kinds.size())]);
    }
    county.yards.push_back(middle);
    if (!name.empty()) {
        name_spot(county, at(8, 70), "farm", name);
    }
    return true;
}

struct Track {
    std::vector<Spot> path;
    std::optional<Roadside> far_end;
};

TagList track_tags(Random& random) {
    TagList tags{{"highway", "track"}};
    if (random.chance(0.75)) {
        constexpr std::array<const char*, 16> grades = {
            "grade1", "grade2", "grade2", "grade2", "grade2", "grade3", "grade3", "grade3",
            "grade3", "grade3", "grade4", "grade4", "grade4", "grade4", "grade5", "grade5"};
        set_tag(tags, "tracktype", grades[random.below(grades.size())]);
    }
    if (random.chance(0.28)) {
        constexpr std::array<const char*, 8> surfaces = {"gravel",    "ground", "dirt",   "grass",
                                                         "compacted", "earth",  "gravle", "gravel;ground"};
        set_tag(tags, "surface", surfaces[random.below(surfaces.size())]);
    }
    const double access = random.unit();
    if (access < 0.06) {
        set_tag(tags, "motor_vehicle", "agricultural");
    } else if (access < 0.12) {
        set_tag(tags, "access", "private");
    } else if (access < 0.15) {
        set_tag(tags, "motor_vehicle", "agricultural; forestry");
    }
    return tags;
}

/// Where a track would run from a roadside into the section: `length` metres, some length if not given, or
/// straight across to the opposite road if `through`. Nothing where something is in its way.
std::optional<Track> plan_track(const County& county, Random& random, const Roadside& side, double sign,
                                bool through, std::optional<double> length = std::nullopt) {
    Track track;
    track.path = {side.at, side.beside(random.between(-3.0, 3.0), 25.0 * sign)};
    const double end = through ? 1480.0 : length ? *length : random.between(330.0, 950.0);
    for (double depth = random.between(170.0, 260.0); depth < end - 60.0;
         depth += random.between(210.0, 360.0)) {
        track.path.push_back(side.beside(random.between(-28.0, 28.0), depth * sign));
    }
    track.path.push_back(side.beside(random.between(-20.0, 20.0), end * sign));
    if (through) {
        track.far_end = find_roadside(county, track.path.back(), 220.0);
        if (!track.far_end) {
            return std::nullopt;
        }
        track.path.push_back(track.far_end->at);
    }
    const std::size_t inner_end = track.path.size() - (through ? 1 : 0);
    for (std::size_t k = 1; k < inner_end; ++k) {
        const double near_road = k == 1 ? 15.0 : 60.0;
        const bool last_before_road = through && k + 1 == inner_end;
        const auto is_road = [](const DraftLine& l) { return l.kind == LineKind::road; };
        if (!is_free(county, track.path[k], 40.0) ||
            (!last_before_road && county.draft.nearest(track.path[k], near_road, is_road))) {
            return std::nullopt;
        }
    }
    return is_clear(county, track.path) ? std::optional(track) : std::nullopt;
}

LineId lay_track(County& county, Track track, TagList tags, Spot near) {
    Draft& draft = county.draft;
    std::vector<VertexId> path{require_open_roadside(county, near, 70.0).on_road};
    if (track.far_end) {
        track.path.pop_back();
    }
    for (std::size_t k = 1; k < track.path.size(); ++k) {
        path.push_back(draft.vertex(track.path[k]));
    }
    if (track.far_end) {
        path.push_back(require_open_roadside(county, track.far_end->at, 30.0).on_road);
    }
    return draft.add_line(std::move(path), std::move(tags), LineKind::road, "track");
}

/// A place on a section line: somewhere along the south or west side of section (i, j).
Spot section_side(const County& county, Random& random, int i, int j, bool south) {
    const Spot a = county.corner(i, j);
    const Spot b = south ? county.corner(i + 1, j) : county.corner(i, j + 1);
    return offset(a, b, random.between(0.2, 0.8) * distance(a, b), 0.0);
}

void gate_on(County& county, Random& random, LineId track) {
    const VertexId v = county.draft.insert_at(track, random.between(14.0, 26.0));
    county.draft.tag_vertex(v, "barrier", random.chance(0.85) ? "gate" : "swing_gate");
    const double kind = random.unit();
    if (kind < 0.2) {
        county.draft.tag_vertex(v, "access", "private");
    } else if (kind < 0.4) {
        county.draft.tag_vertex(v, "locked", "yes");
    } else if (kind < 0.5) {
        county.draft.tag_vertex(v, "access", "yes");
    }
}

}  // namespace

void draw_farms(County& county) {
    // The yard of the demo move, on a gravel road a little way off the paved one.
    Random home = county.random("home farm");
    if (!draw_farmyard(county, home, miles(4.0, 2.45), 105.0, "Nettle Farm")) {
        throw std::logic_error("no room for the yard of the demo move");
    }
    county.places.push_back({"Nettle Farm yard", "", county.yards.back()});

    Random random = county.random("farms");
    std::size_t named = 0;
    for (int j = 0; j < county_rows; ++j) {
        for (int i = 0; i < county_columns; ++i) {
            if (!random.chance(0.19)) {
                continue;
            }
            const Spot near = section_side(county, random, i, j, random.chance(0.5));
            const double depth = random.either_side(70.0, 230.0);
            const bool with_name = named < farm_names.size() && random.chance(0.55);
            if (draw_farmyard(county, random, near, depth, with_name ? farm_names[named] : "") && with_name) {
                ++named;
            }
        }
    }
}

void draw_tracks(County& county) {
    Random random = county.random("tracks");
    for (int j = 0; j < county_rows; ++j) {
        for (int i = 0; i < county_columns; ++i) {
            for (const bool south : {true, false}) {
                if (!random.chance(0.36)) {
                    continue;
                }
                const Spot near = section_side(county, random, i, j, south);
                const bool through = random.chance(0.28);
                const double sign = random.chance(0.7) ? (south ? 1.0 : -1.0) : (south ? -1.0 : 1.0);
                const TagList tags = track_tags(random);
                const auto side = find_roadside(county, near, 40.0);
                const auto track = side ? plan_track(county, random, *side, sign, through) : std::nullopt;
                if (track) {
                    const LineId line = lay_track(county, *track, tags, near);
                    if (random.chance(0.2)) {
                        gate_on(county, random, line);
                    }
                }
            }
        }
    }
    // Field entrances: a few lengths of hard standing off a gravel road.
    Random entrances = county.random("field entrances");
    for (int n = 0; n < 170; ++n) {
        const int i = static_cast<int>(entrances.below(county_columns));
        const int j = static_cast<int>(entrances.below(county_rows));
        const Spot near = section_side(county, entrances, i, j, entrances.chance(0.5));
        const double depth = entrances.either_side(32.0, 75.0);
        const auto side = find_roadside(county, near, 40.0);
        if (!side || !is_free(county, side->beside(0.0, depth), 40.0) ||
            !is_clear(county, {side->at, side->beside(0.0, depth)})) {
            continue;
        }
        const VertexId start = require_open_roadside(county, near, 40.0).on_road;
        TagList tags{{"highway", entrances.chance(0.8) ? "track" : "service"}};
        if (entrances.chance(0.4)) {
            set_tag(tags, "surface", entrances.chance(0.6) ? "gravel" : "ground");
        } else if (entrances.chance(0.4)) {
            set_tag(tags, "tracktype", "grade3");
        }
        county.draft.add_line(std::vector<VertexId>{start, county.draft.vertex(side->beside(0.0, depth))},
                              tags, LineKind::road, "entrance");
    }
}

namespace {

struct Field {
    const char* name;
    double x, y;  // miles; its middle
    bool demo;    // offered as a place of its own
};
constexpr std::array<Field, 12> fields = {{{"Long Forty", 15.55, 13.45, true},
                                           {"Crooked Eighty", 12.45, 2.5, true},
                                           {"Kettle Quarter", 6.5, 16.5, true},
                                           {"Far Stonepile", 20.55, 8.5, true},
                                           {"Upper Bench", 1.5, 5.5, false},
                                           {"Widow's Half", 9.5, 13.5, false},
                                           {"Gander Flat", 17.5, 7.5, false},
                                           {"Bottom Sixty", 10.5, 4.5, false},
                                           {"Saltlick", 4.5, 11.5, false},
                                           {"Old Orchard Piece", 13.5, 15.5, false},
                                           {"Windpump Field", 7.5, 1.5, false},
                                           {"Ten Mile Corner", 21.5, 10.5, false}}};

/// The tracks of the named fields leave the road south of them.
void open_field(County& county, Random& random, const Field& field) {
    const Spot middle = miles(field.x, field.y);
    const Spot gate{middle.x, (field.y - 0.5) * mile};
    const auto side = find_roadside(county, gate, 400.0);
    if (!side) {
        return;
    }
    const double north = side->ahead.x > side->at.x ? 1.0 : -1.0;
    const auto track = plan_track(county, random, *side, north, false, middle.y - side->at.y - 60.0);
    if (track) {
        TagList tags{{"highway", "track"}, {"tracktype", "grade4"}};
        lay_track(county, *track, tags, side->at);
    }
}

}  // namespace

void draw_fields(County& county) {
    Random random = county.random("fields");
    for (const Field& field : fields) {
        const Spot middle = miles(field.x, field.y);
        open_field(county, random, field);
        const double wide = random.between(230.0, 330.0);
        const double deep = random.between(380.0, 620.0);
        county.draft.add_area(rectangle(middle, middle, {middle.x + 1.0, middle.y}, wide * 2, deep),
                              {{"landuse", "farmland"}});
        name_spot(county, middle, "locality", field.name);
        if (field.demo) {
            county.places.push_back({field.name, "", middle});
        }
    }
}

}  // namespace loamway
