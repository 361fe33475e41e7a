// SPDX-License-Identifier: Apache-2.0
// What the stages share: where there is room, where a side way may leave a road, outlines and names.
#include <algorithm>
#include <stdexcept>

#include "county_stages.h"

namespace loamway {

std::vector<Spot> miles_chain(const std::vector<Spot>& in_miles) {
    std::vector<Spot> result;
    for (const Spot s : in_miles) {
        result.push_back(miles(s.x, s.y));
    }
    return result;
}

std::vector<Spot> rectangle(Spot middle, Spot a, Spot b, double along, double across) {
    const Spot ahead{middle.x + b.x - a.x, middle.y + b.y - a.y};
    return {offset(middle, ahead, -along / 2, -across / 2), offset(middle, ahead, along / 2, -across / 2),
            offset(middle, ahead, along / 2, across / 2), offset(middle, ahead, -along / 2, across / 2)};
}

bool is_free(const County& county, Spot spot, double radius) {
    for (const TakenGround& t : county.taken) {
        if (spot.x > t.low.x - radius && spot.x < t.high.x + radius && spot.y > t.low.y - radius &&
            spot.y < t.high.y + radius) {
            return false;
        }
    }
    const auto keeps_away = [](const DraftLine& l) {
        return l.course == "river" || l.kind == LineKind::rail || l.course == "ramp" ||
               tag_of(l.tags, "highway") == "motorway";
    };
    return !county.draft.nearest(spot, radius + 30.0, keeps_away);
}

bool is_clear(const County& county, const std::vector<Spot>& path) {
    const Draft& draft = county.draft;
    const auto hits = [&](Spot c, Spot d) {
        for (std::size_t k = 0; k + 1 < path.size(); ++k) {
            if (const auto t = segment_crossing(path[k], path[k + 1], c, d)) {
                const Spot meet = offset(path[k], path[k + 1], *t * distance(path[k], path[k + 1]), 0.0);
                if (distance(meet, path.front()) > 1.0 && distance(meet, path.back()) > 1.0) {
                    return true;
                }
            }
        }
        return false;
    };
    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        if (l.kind == LineKind::other && l.course != "river") {
            continue;
        }
        for (std::size_t k = 0; k + 1 < l.path.size(); ++k) {
            if (hits(draft.at(l.path[k]), draft.at(l.path[k + 1]))) {
                return false;
            }
        }
    }
    return true;
}

bool takes_side_ways(const DraftLine& line) {
    if (line.kind != LineKind::road || !line.on_ground || line.course == "ramp" ||
        !tag_of(line.tags, "bridge").empty() || !tag_of(line.tags, "motorroad").empty()) {
        return false;
    }
    // Side ways leave the long roads only, not each other.
    return line.course == "highway" || line.course.starts_with('h') || line.course.starts_with('v');
}

bool is_paved_road(const DraftLine& line) {
    return takes_side_ways(line) && !is_gravel_road(line);
}

bool is_gravel_road(const DraftLine& line) {
    const std::string highway = tag_of(line.tags, "highway");
    return takes_side_ways(line) && (highway == "unclassified" || highway == "track");
}

namespace {

struct RoadPosition {
    LineId line;
    double metres;
};

/// Far enough from the road's ends that it has a direction there.
std::optional<RoadPosition> road_position(const County& county, Spot near, double within,
                                          const Draft::Filter& filter) {
    constexpr double clear_of_ends = 16.0;
    const auto found = county.draft.nearest(near, within, filter);
    if (!found) {
        return std::nullopt;
    }
    const double length = county.draft.length(found->line);
    if (length < 3.0 * clear_of_ends) {
        return std::nullopt;
    }
    return RoadPosition{found->line, std::clamp(found->position, clear_of_ends, length - clear_of_ends)};
}

}  // namespace

std::optional<Roadside> find_roadside(const County& county, Spot near, double within,
                                      const Draft::Filter& filter) {
    const auto p = road_position(county, near, within, filter);
    if (!p) {
        return std::nullopt;
    }
    return Roadside{0, county.draft.spot_at(p->line, p->metres),
                    county.draft.spot_at(p->line, p->metres + 12.0)};
}

std::optional<Roadside> open_roadside(County& county, Spot near, double within, const Draft::Filter& filter) {
    const auto p = road_position(county, near, within, filter);
    if (!p) {
        return std::nullopt;
    }
    Roadside side = *find_roadside(county, near, within, filter);
    side.on_road = county.draft.insert_at(p->line, p->metres);
    const Spot moved = county.draft.at(side.on_road);
    side.ahead = {side.ahead.x + moved.x - side.at.x, side.ahead.y + moved.y - side.at.y};
    side.at = moved;
    return side;
}

namespace {

[[noreturn]] void nothing_near(Spot near) {
    throw std::logic_error("no road near mile " + std::to_string(near.x / mile) + " east, " +
                           std::to_string(near.y / mile) +
                           " north, where the county counts on one (try another seed)");
}

}  // namespace

Roadside require_roadside(const County& county, Spot near, double within, const Draft::Filter& filter) {
    const auto side = find_roadside(county, near, within, filter);
    if (!side) {
        nothing_near(near);
    }
    return *side;
}

Roadside require_open_roadside(County& county, Spot near, double within, const Draft::Filter& filter) {
    const auto side = open_roadside(county, near, within, filter);
    if (!side) {
        nothing_near(near);
    }
    return *side;
}

Draft::Near require_nearest(const County& county, Spot near, double within, const Draft::Filter& filter) {
    const auto found = county.draft.nearest(near, within, filter);
    if (!found) {
        nothing_near(near);
    }
    return *found;
}

LineId line_of(const County& county, std::string_view course, Spot near) {
    const auto found =
        county.draft.nearest(near, 400.0, [&](const DraftLine& l) { return l.course == course; });
    if (!found) {
        throw std::logic_error("no line of course " + std::string(course) + " where the county expects one");
    }
    return found->line;
}

void name_spot(County& county, Spot spot, std::string_view kind, std::string_view name) {
    const VertexId v = county.draft.vertex(spot);
    county.draft.tag_vertex(v, "place", kind);
    county.draft.tag_vertex(v, "name", name);
}

void add_building(County& county, Spot middle, Spot a, Spot b, double along, double across,
                  std::string_view kind) {
    county.draft.add_area(rectangle(middle, a, b, along, across), {{"building", std::string(kind)}});
}

}  // namespace loamway
