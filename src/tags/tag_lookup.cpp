// SPDX-License-Identifier: Apache-2.0
#include "tag_lookup.h"

#include <optional>

#include "conditional.h"
#include "tag_text.h"

namespace loamway {

namespace {

void take_plain(TagLookup& lookup, const TagView& tags, const std::string& key) {
    if (const std::optional<std::string_view> value = tags.get(key)) {
        lookup.found = true;
        lookup.key = key;
        lookup.value = trim_tag(*value);
    }
}

void apply_conditional(TagLookup& lookup, const TagView& tags, const std::string& key,
                       const VehicleView& vehicle, const Moment& moment) {
    const std::optional<std::string_view> raw = tags.get(key);
    if (!raw)
        return;
    for (const ConditionalClause& clause : split_conditional(*raw)) {
        switch (evaluate_clause(clause, vehicle, moment)) {
            case Tri::yes:
                lookup.found = true;
                lookup.key = key;
                lookup.value = clause.value;
                lookup.flags.clear();
                lookup.undecided.clear();
                break;
            case Tri::unknown:
                lookup.flags.push_back(verify_flag(clause));
                lookup.undecided.push_back(
                    {std::string(clause.value), is_condition_of_purpose(clause.condition)});
                break;
            case Tri::no:
                break;
        }
    }
}

}  // namespace

TagLookup look_up(const TagView& tags, std::string_view key, Direction direction, const VehicleView& vehicle,
                  const Moment& moment) {
    const std::string plain(key);
    const std::string directed = plain + (direction == Direction::forward ? ":forward" : ":backward");
    TagLookup lookup;
    take_plain(lookup, tags, plain);
    take_plain(lookup, tags, directed);
    apply_conditional(lookup, tags, plain + ":conditional", vehicle, moment);
    apply_conditional(lookup, tags, directed + ":conditional", vehicle, moment);
    return lookup;
}

TagLookup look_up(const TagView& tags, std::string_view key, const VehicleView& vehicle,
                  const Moment& moment) {
    const std::string plain(key);
    TagLookup lookup;
    take_plain(lookup, tags, plain);
    apply_conditional(lookup, tags, plain + ":conditional", vehicle, moment);
    return lookup;
}

std::string_view own_class_key(const VehicleView& vehicle) {
    if (vehicle.kind == VehicleKind::truck)
        return "hgv";
    return vehicle.agricultural ? "agricultural" : "";
}

TagLookup look_up_for_class(const TagView& tags, std::string_view key, Direction direction,
                            const VehicleView& vehicle, const Moment& moment) {
    const std::string_view own = own_class_key(vehicle);
    TagLookup general = look_up(tags, key, direction, vehicle, moment);
    if (own.empty())
        return general;
    TagLookup specific = look_up(tags, std::string(key) + ":" + std::string(own), direction, vehicle, moment);
    if (specific.found)
        return specific;
    // Nothing decided for the class: its undecided clauses still count beside the general value.
    general.flags.insert(general.flags.end(), specific.flags.begin(), specific.flags.end());
    general.undecided.insert(general.undecided.end(), specific.undecided.begin(), specific.undecided.end());
    return general;
}

}  // namespace loamway
