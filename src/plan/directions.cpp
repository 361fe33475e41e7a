// SPDX-License-Identifier: Apache-2.0
#include "directions.h"

#include <fmt/format.h>

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

}  // namespace

std::vector<Instruction> directions(const Setting& setting, const Path& path) {
    const RoadGraph& graph = setting.graph();
    std::vector<Instruction> out;
    const PathPiece* before = nullptr;
    for (const PathPiece& p : path.pieces) {
        if (p.spur)
            continue;
        const double at_m = static_cast<double>(p.at_dm) / 10.0;
        if (before == nullptr) {
            const auto points = graph.arc_points(p.piece.arc);
            out.push_back({at_m,
                           fmt::format("Start {} on {}", compass(bearing_deg(points.front(), points.back())),
                                       road_text(setting, p.piece.arc)),
                           setting.road_name(p.piece.arc), 0});
        } else if (before->piece.arc != p.piece.arc) {
            const double turn = turn_between(graph, before->piece.arc, p.piece.arc);
            const std::string was = road_text(setting, before->piece.arc);
            const std::string now = road_text(setting, p.piece.arc);
            const bool choice = ways_on(graph, before->piece.arc) > 1;
            if (p.piece.arc == graph.twin(before->piece.arc))
                out.push_back({at_m, fmt::format("Turn round and go back along {}", now),
                               setting.road_name(p.piece.arc), turn});
            else if (choice && std::abs(turn) > 30)
                out.push_back(
                    {at_m, fmt::format("{} {} {}", turn_words(turn), was == now ? "to stay on" : "into", now),
                     setting.road_name(p.piece.arc), turn});
            else if (choice && was != now)
                out.push_back(
                    {at_m, fmt::format("Straight on into {}", now), setting.road_name(p.piece.arc), turn});
        }
        before = &p;
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
