// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/conditions.h"

#include <algorithm>

#include "conditional.h"

namespace loamway {

namespace {

bool is_conditional(const Tag& tag) {
    return tag.key.ends_with(":conditional");
}

}  // namespace

bool has_conditions(const TagView& tags) {
    return std::any_of(tags.all().begin(), tags.all().end(), is_conditional);
}

void add_conditions(std::string& letters, const TagView& tags, const VehicleView& vehicle,
                    const Moment& moment) {
    for (const Tag& tag : tags.all())
        if (is_conditional(tag))
            for (const ConditionalClause& clause : split_conditional(tag.value)) {
                const Tri holds = evaluate_clause(clause, vehicle, moment);
                letters += holds == Tri::yes ? 'y' : holds == Tri::no ? 'n' : '?';
            }
}

}  // namespace loamway
