// SPDX-License-Identifier: Apache-2.0
#include "directions.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "landmarks.h"

namespace loamway {

namespace {

std::string surface_word(SurfaceClass c) {
    return c == SurfaceClass::hard ? "paved" : c == SurfaceClass::gravel ? "gravel" : "earth";
}

// What to call a road that has no name: its surface and what kind of way it is.
std::string road_text(const Setting& setting, ArcId a) {
    const std::string name = setting.road_name(a);
    if (!name.empty())
        return name;
    const TagView tags = setting.graph().tags(setting.graph().edge_of(a));
    const std::string_view highway = tags.get("highway").value_or("road");
    const std::string_view kind = highway == "track"     ? "track"
                                  : highway == "service" ? "service road"
                                                         : "road";
    return fmt::format("the {} {}", surface_word(setting.surface(a)), kind);
}

std::string turn_words(double turn) {
    const double size = std::abs(turn);
    const std::string_view side = turn > 0 ? "right" : "left";
    if (size > 150)
        return "Turn round";
    if (size > 115)
        return fmt::format("Sharp {}", side);
    if (size > 50)
        return fmt::format("Turn {}", side);
    return fmt::format("Bear {}", side);
}

std::string compass(double bearing) {
    constexpr std::array<std::string_view, 8> names{"north", "north-east", "east", "south-east",
                                                    "south", "south-west", "west", "north-west"};
    return std::string(names[static_cast<std::size_t>(std::lround(bearing / 45.0)) % 8]);
}

std::string distance_text(double gone_m, const UnitWords& words) {
    if (gone_m < 10)
        return "just after";
    return (gone_m < 1000 ? words.short_length(std::round(gone_m / 10) * 10) : words.exact(gone_m)) +
           " after";
}

// Ways on that are open to the eye, whatever their rules: a turn is announced where there is a choice.
std::size_t ways_on(const RoadGraph& graph, ArcId in) {
    const NodeId n = graph.head(in);
    return graph.arc_end(n) - graph.arc_begin(n) - 1;
}

double metres(const PathPiece& p) {
    return static_cast<double>(p.at_dm) / 10.0;
}

// Where another road begins; ways into places to stop are left out.
std::vector<const PathPiece*> steps_of(const Path& path) {
    std::vector<const PathPiece*> steps;
    for (const PathPiece& p : path.pieces)
        if (!p.spur && (steps.empty() || steps.back()->piece.arc != p.piece.arc))
            steps.push_back(&p);
    return steps;
}

bool is_roundabout(const RoadGraph& graph, ArcId a) {
    const TagView tags = graph.tags(graph.edge_of(a));
    return tags.is("junction", "roundabout") || tags.is("junction", "circular");
}

// What looks like a way out of the roundabout: not its own next piece, nor a lane that only leads in.
bool is_exit(const RoadGraph& graph, ArcId a) {
    const TagView tags = graph.tags(graph.edge_of(a));
    const bool against = graph.arc(a).reversed != 0;
    return !is_roundabout(graph, a) && !tags.is("oneway", against ? "yes" : "-1");
}

/// Of the steps from `i` on, the first that is not on a roundabout.
std::size_t after_roundabout(const RoadGraph& graph, const std::vector<const PathPiece*>& steps,
                             std::size_t i) {
    while (i < steps.size() && is_roundabout(graph, steps[i]->piece.arc))
        ++i;
    return i;
}

std::string roundabout_text(const Setting& setting, const std::vector<const PathPiece*>& steps,
                            std::size_t entry, std::size_t exit) {
    if (exit == steps.size())
        return "Into the roundabout";
    const RoadGraph& graph = setting.graph();
    int count = 1;
    for (std::size_t i = entry; i + 1 < exit; ++i) {
        const NodeId n = graph.head(steps[i]->piece.arc);
        for (std::uint32_t a = graph.arc_begin(n); a < graph.arc_end(n); ++a)
            count += is_exit(graph, ArcId{a}) ? 1 : 0;
    }
    const std::string was = road_text(setting, steps[entry - 1]->piece.arc);
    const std::string now = road_text(setting, steps[exit]->piece.arc);
    return fmt::format("Roundabout: exit {} {} {}", count, was == now ? "to stay on" : "into", now);
}

// Empty where there is nothing to do.
std::string turn_text(const Setting& setting, ArcId in, ArcId out) {
    const RoadGraph& graph = setting.graph();
    const double turn = turn_between(graph, in, out);
    const std::string was = road_text(setting, in), now = road_text(setting, out);
    if (out == graph.twin(in))
        return fmt::format("Turn round and go back along {}", now);
    if (ways_on(graph, in) <= 1)
        return {};
    if (std::abs(turn) > 30)
        return fmt::format("{} {} {}", turn_words(turn), was == now ? "to stay on" : "into", now);
    return was == now ? std::string() : fmt::format("Straight on into {}", now);
}

}  // namespace

std::vector<Instruction> directions(const Setting& setting, const Path& path) {
    const RoadGraph& graph = setting.graph();
    const std::vector<const PathPiece*> steps = steps_of(path);
    std::vector<Instruction> out;
    if (!steps.empty()) {
        const ArcId first = steps.front()->piece.arc;
        const auto points = graph.arc_points(first);
        out.push_back({metres(*steps.front()),
                       fmt::format("Start {} on {}", compass(bearing_deg(points.front(), points.back())),
                                   road_text(setting, first)),
                       setting.road_name(first), 0});
    }
    for (std::size_t i = 1; i < steps.size(); ++i) {
        const ArcId in = steps[i - 1]->piece.arc;
        const std::size_t exit = is_roundabout(graph, in) ? i : after_roundabout(graph, steps, i);
        const std::string text =
            exit > i ? roundabout_text(setting, steps, i, exit) : turn_text(setting, in, steps[i]->piece.arc);
        const std::size_t on = std::min(exit, steps.size() - 1);
        const ArcId to = steps[on]->piece.arc;
        if (!text.empty())
            out.push_back({metres(*steps[i]), text, setting.road_name(to), turn_between(graph, in, to)});
        i = on;
    }
    out.push_back({static_cast<double>(path.length_dm) / 10.0, "Arrive", "", 0});
    return out;
}

std::string how_to_find(const Setting& setting, const Path& path, const PathStop& at, const ChosenStop& stop,
                        const std::vector<Instruction>& instructions) {
    if (stop.kind == "start")
        return "where the machine stands";
    const double spur_m = stop.spur ? stop.spur->length_dm() / 10.0 : 0.0;
    const double at_m = static_cast<double>(at.at_dm) / 10.0 - spur_m;
    std::string text = stop.name;
    if (!stop.side.empty())
        text += stop.side == "ahead" ? ", straight ahead" : ", " + stop.side;
    // What is nearest before it: something to see, or the last turn.
    const std::optional<Landmark> seen = landmark_before(setting, path, at_m);
    const Instruction* last = nullptr;
    for (const Instruction& i : instructions)
        if (i.at_m <= at_m && &i != &instructions.back())
            last = &i;
    if (seen && (last == nullptr || seen->at_m > last->at_m))
        text += fmt::format(", {} {}", distance_text(at_m - seen->at_m, setting.words()), seen->text);
    else if (last != nullptr)
        text += fmt::format(", {} \"{}\"", distance_text(at_m - last->at_m, setting.words()), last->text);
    if (stop.spur)
        text += fmt::format("; drive in {}, clear of the road", setting.words().short_length(spur_m));
    return text;
}

}  // namespace loamway
