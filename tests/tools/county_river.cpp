// SPDX-License-Identifier: Apache-2.0
// The river and how roads cross it.
#include <algorithm>
#include <set>

#include "county_stages.h"

namespace loamway {

namespace {

/// Outline of the water along a stretch of the river's line, `wide` metres across at its middle.
std::vector<Spot> banks(const std::vector<Spot>& line, std::size_t first, std::size_t last, double wide) {
    std::vector<Spot> left;
    std::vector<Spot> right;
    for (std::size_t k = first; k <= last; ++k) {
        const Spot before = line[k == 0 ? 0 : k - 1];
        const Spot after = line[std::min(k + 1, line.size() - 1)];
        const Spot turn = offset(before, after, 0.0, wide / 2);
        const Spot aside{turn.x - before.x, turn.y - before.y};
        left.push_back({line[k].x + aside.x, line[k].y + aside.y});
        right.push_back({line[k].x - aside.x, line[k].y - aside.y});
    }
    left.insert(left.end(), right.rbegin(), right.rend());
    return left;
}

enum class Crossing { bridge, ford, none };

Crossing crossing_of(const DraftLine& line) {
    static const std::set<std::string> gravel_bridges = {"h6", "h11", "v7", "v16"};
    if (!is_gravel_road(line) || gravel_bridges.contains(line.course)) {
        return Crossing::bridge;
    }
    return line.course == "h14" ? Crossing::ford : Crossing::none;
}

void build_bridge(County& county, LineId id, double at) {
    Draft& draft = county.draft;
    DraftLine& bridge = draft.line(draft.isolate(id, at - 32.0, at + 32.0));
    set_tag(bridge.tags, "bridge", "yes");
    set_tag(bridge.tags, "layer", "1");
    if (bridge.course == "h11") {
        set_tag(bridge.tags, "maxweight", "12 t");
        set_tag(bridge.tags, "surface", "wood");
    } else if (bridge.course == "v7") {
        set_tag(bridge.tags, "maxweight", "7.5");
        set_tag(bridge.tags, "maxwidth", "3.5");
    }
}

void end_at_bank(County& county, Random& random, LineId id, double at) {
    Draft& draft = county.draft;
    const double end = draft.length(id);
    const double gap = random.between(110.0, 260.0);
    double from = at - gap;
    double to = at + gap;
    // A stub shorter than this is nobody's road; often the whole way to the last crossroads was never built.
    const double stub = random.chance(0.5) ? 900.0 : 250.0;
    const auto is_crossroads = [&](VertexId v) { return draft.lines_through(v).size() > 1; };
    double last = 0.0;
    double next = end;
    for (const VertexId v : std::vector<VertexId>(draft.line(id).path)) {
        const double p = draft.position_of(id, v);
        if (p < at && is_crossroads(v)) {
            last = std::max(last, p);
        } else if (p > at && is_crossroads(v)) {
            next = std::min(next, p);
        }
    }
    from = from - last < stub ? last : from;
    to = next - to < stub ? next : to;
    draft.remove(draft.isolate(id, from, to));
}

}  // namespace

void draw_river(County& county) {
    Random random = county.random("river");
    std::vector<Spot> chain =
        miles_chain({{2.4, 18.6}, {3.1, 17.3}, {4.7, 16.5}, {5.1, 15.2}, {6.6, 14.6}, {7.4, 13.4},
                     {7.2, 12.3}, {8.7, 11.5}, {9.5, 10.8}, {9.8, 9.7},  {10.9, 9.0}, {11.3, 7.9},
                     {12.6, 7.3}, {13.4, 6.3}, {13.8, 5.3}, {14.8, 4.8}, {15.3, 3.8}, {16.6, 3.2},
                     {17.0, 2.1}, {18.2, 1.4}, {18.6, 0.5}, {19.3, -0.4}});
    for (Spot& s : chain) {
        s.x += random.between(-230.0, 230.0);
        s.y += random.between(-230.0, 230.0);
    }
    const std::vector<Spot> line = smooth(chain, 3);
    county.river = county.draft.add_line(line, {{"waterway", "river"}, {"name", "River Marrow"}},
                                         LineKind::other, "river");
    double wide = 17.0;
    constexpr std::size_t step = 28;
    for (std::size_t first = 0; first + 1 < line.size(); first += step) {
        const std::size_t last = std::min(first + step, line.size() - 1);
        county.draft.add_area(banks(line, first, last, wide), {{"natural", "water"}, {"water", "river"}});
        wide += 3.0;
    }
}

void cross_river(County& county) {
    Draft& draft = county.draft;
    Random random = county.random("banks");
    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        if (l.kind == LineKind::other || !l.on_ground || l.path.empty() ||
            !tag_of(l.tags, "bridge").empty()) {
            continue;
        }
        // One crossing at a time: what lies beyond it becomes a new line, and its turn comes later.
        const std::vector<double> across = draft.crossings(id, county.river);
        if (across.empty()) {
            continue;
        }
        switch (crossing_of(l)) {
            case Crossing::bridge:
                build_bridge(county, id, across.front());
                break;
            case Crossing::ford:
                draft.tag_vertex(draft.insert_at(id, across.front()), "ford", "yes");
                break;
            case Crossing::none:
                end_at_bank(county, random, id, across.front());
                break;
        }
    }
}

}  // namespace loamway
