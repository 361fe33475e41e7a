// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/explain.h"

#include <algorithm>

#include "loamway/base/names.h"
#include "tag_text.h"

namespace loamway {

namespace {

// Above this the road over a culvert or a bridge without a posted limit is a weak point (assumption).
constexpr double heavy_t = 12.0;

bool is_restriction_key(std::string_view key) {
    return tag_is_in(key, {"type", "except", "day_on", "day_off", "hour_on", "hour_off"}) ||
           key.starts_with("restriction");
}

bool has_restriction(const TagView& tags) {
    return std::any_of(tags.all().begin(), tags.all().end(),
                       [](const Tag& tag) { return tag.key.starts_with("restriction"); });
}

DirectionExplanation explain_direction(const TagView& tags, const VehicleView& vehicle, Direction direction,
                                       const Moment& moment) {
    DirectionExplanation result;
    result.access = read_access(tags, vehicle, direction, moment);
    result.limits = read_limits(tags, vehicle, direction, moment);
    result.speed = posted_speed(tags, direction, vehicle, moment);
    result.passage = result.access.passage;
    for (const LimitFinding& found : result.limits)
        result.passage = worse(result.passage, found.passage);
    return result;
}

VehicleExplanation explain_vehicle(const TagView& tags, const VehicleView& vehicle, const Moment& moment) {
    VehicleExplanation result;
    result.forward = explain_direction(tags, vehicle, Direction::forward, moment);
    result.backward = explain_direction(tags, vehicle, Direction::backward, moment);
    result.oneway = read_oneway(tags, vehicle);
    if (tags.has("barrier"))
        result.barrier = read_barrier(tags, vehicle);
    if (has_restriction(tags))
        result.restriction = read_restriction(tags, vehicle, moment);
    return result;
}

std::vector<NumberExplanation> explain_numbers(const TagView& tags) {
    std::vector<NumberExplanation> numbers;
    for (const Tag& tag : tags.all()) {
        const bool known = matters_on_way(tag.key) || matters_on_node(tag.key);
        if (!known || tag.key.ends_with(":conditional"))
            continue;
        NumberExplanation number{printable(tag.key), printable(tag.value), {}, {}};
        const std::string_view stem = tag.key.substr(0, tag.key.find(':'));
        if (tag_is_in(stem, {"maxweight", "maxweightrating", "maxaxleload", "maxbogieweight"})) {
            number.unit = "t";
            number.reading = read_mass(tag.value);
        } else if (tag_is_in(stem, {"maxheight", "maxwidth", "maxlength", "width"})) {
            number.unit = "m";
            number.reading = read_length(tag.value);
        } else if (tag_is_in(stem, {"maxspeed", "minspeed"})) {
            number.unit = "km/h";
            number.reading = read_speed(tag.value);
        } else {
            continue;
        }
        numbers.push_back(std::move(number));
    }
    return numbers;
}

std::vector<std::string> explain_structure(const TagView& tags, const TagExplanation& read,
                                           const VehicleView& machine, const VehicleView& truck) {
    std::vector<std::string> notes;
    if (tags.is("route", "ferry"))
        notes.emplace_back("A ferry is not driven; it is offered only as an option of its own.");
    if (read.bridge && !tags.has("maxweight") && !tags.has("maxweightrating"))
        notes.emplace_back("A bridge without a posted weight limit: what it carries is not known here.");
    if (tags.is("tunnel", "culvert") && std::max(machine.mass, truck.mass) > Mass::from_tonnes(heavy_t))
        notes.emplace_back("A culvert under the road is a weak point for more than 12 t.");
    if (read.tunnel && !tags.has("maxheight") && !tags.has("maxheight:physical"))
        notes.emplace_back("A tunnel or roof without a posted height: look before you drive in.");
    if (read.ford)
        notes.emplace_back(
            "A ford washes the powder off the belts: the next fit place is a stop, and water carries "
            "weeds and disease from field to field.");
    if (read.level_crossing)
        notes.emplace_back(
            "A level crossing: cross square to the rails, do not turn on them, do not stop within 50 m; a "
            "low-bed may ground on the hump.");
    return notes;
}

}  // namespace

TagExplanation explain_tags(const TagView& tags, const VehicleView& machine, const VehicleView& truck,
                            const Moment& moment, double odds_factor) {
    TagExplanation result;
    result.drivable = is_drivable(tags);
    result.surface = read_surface(tags, false, odds_factor);
    result.surface_built_up = read_surface(tags, true, odds_factor);
    result.machine = explain_vehicle(tags, machine, moment);
    result.truck = explain_vehicle(tags, truck, moment);
    result.numbers = explain_numbers(tags);
    result.bridge = is_bridge(tags);
    result.tunnel = is_tunnel(tags);
    result.ford = is_ford(tags);
    result.level_crossing = is_level_crossing(tags);
    result.notes = explain_structure(tags, result, machine, truck);
    for (const Tag& tag : tags.all())
        if (!matters_on_way(tag.key) && !matters_on_node(tag.key) && !is_restriction_key(tag.key))
            result.unread.push_back(printable(tag.key));
    return result;
}

}  // namespace loamway
