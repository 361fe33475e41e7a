// SPDX-License-Identifier: Apache-2.0
#include "conditional.h"

#include <algorithm>
#include <optional>

#include "loamway/base/names.h"
#include "loamway/tags/access.h"
#include "loamway/tags/limits.h"
#include "tag_text.h"
#include "time_condition.h"

namespace loamway {

namespace {

// Whether the bracket at the front closes only at the very end.
bool is_bracketed(std::string_view text) {
    if (text.size() < 2 || text.front() != '(' || text.back() != ')')
        return false;
    int depth = 0;
    for (std::size_t i = 0; i + 1 < text.size(); ++i) {
        depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
        if (depth == 0)
            return false;
    }
    return true;
}

// Two pairs are already one more than anybody writes; a limit keeps the work linear.
std::string_view without_brackets(std::string_view text) {
    text = trim_tag(text);
    for (int i = 0; i < 2 && is_bracketed(text); ++i)
        text = trim_tag(text.substr(1, text.size() - 2));
    return text;
}

// Parts between the word AND, in any case.
std::vector<std::string_view> split_and(std::string_view text) {
    std::vector<std::string_view> parts;
    const std::string lower = ascii_lower(text);
    std::size_t start = 0;
    for (std::size_t at = lower.find("and"); at != std::string::npos; at = lower.find("and", at + 3)) {
        const bool left = at > start && (is_tag_blank(lower[at - 1]) || lower[at - 1] == ')');
        const bool right = at + 3 < lower.size() && (is_tag_blank(lower[at + 3]) || lower[at + 3] == '(');
        if (!left || !right)
            continue;
        parts.push_back(without_brackets(text.substr(start, at - start)));
        start = at + 3;
    }
    parts.push_back(without_brackets(text.substr(start)));
    return parts;
}

struct Comparison {
    std::string quantity;
    std::string_view op;
    std::string_view limit;
};

std::optional<Comparison> read_comparison(std::string_view text) {
    const std::size_t at = text.find_first_of("<>=");
    if (at == std::string_view::npos)
        return std::nullopt;
    const std::size_t length = at + 1 < text.size() && text[at + 1] == '=' ? 2 : 1;
    return Comparison{ascii_lower(trim_tag(text.substr(0, at))), text.substr(at, length),
                      trim_tag(text.substr(at + length))};
}

Tri compare(double own, std::string_view op, double limit) {
    if (op == ">")
        return tri(own > limit);
    if (op == ">=")
        return tri(own >= limit);
    if (op == "<")
        return tri(own < limit);
    if (op == "<=")
        return tri(own <= limit);
    return Tri::unknown;
}

// The permitted mass is at least the actual one: enough to decide some comparisons, not all.
Tri compare_permitted_mass(double actual, std::string_view op, double limit) {
    if (op.front() == '>')
        return compare(actual, op, limit) == Tri::yes ? Tri::yes : Tri::unknown;
    return compare(actual, op, limit) == Tri::no ? Tri::no : Tri::unknown;
}

Tri evaluate_comparison(const Comparison& comparison, const VehicleView& vehicle) {
    const bool mass = tag_is_in(comparison.quantity, {"weight", "weightrating", "axleload"});
    const LimitReading limit = mass ? read_mass(comparison.limit) : read_length(comparison.limit);
    if (limit.kind != LimitReading::Kind::limit)
        return Tri::unknown;
    double own = 0.0;
    if (comparison.quantity == "axleload")
        // A tracked machine has no axle to weigh.
        own = vehicle.kind == VehicleKind::truck ? vehicle.axle.tonnes() : 0.0;
    else if (mass)
        own = vehicle.mass.tonnes();
    else if (comparison.quantity == "height" && vehicle.height > Length())
        own = (vehicle.height + vehicle.height_margin).metres();
    else if (comparison.quantity == "width" && vehicle.width > Length())
        own = (vehicle.width + vehicle.width_margin).metres();
    else if (comparison.quantity == "length")
        own = vehicle.length.metres();
    if (own <= 0.0)
        return Tri::unknown;
    if (comparison.quantity == "weightrating")
        return compare_permitted_mass(own, comparison.op, *limit.value);
    return compare(own, comparison.op, *limit.value);
}

Tri evaluate_part(std::string_view part, const VehicleView& vehicle, const Moment& moment) {
    if (ascii_lower(part) == "wet")
        return tri(moment.wet);
    if (const std::optional<Comparison> comparison = read_comparison(part))
        return evaluate_comparison(*comparison, vehicle);
    return evaluate_time_condition(part, moment);
}

}  // namespace

std::vector<ConditionalClause> split_conditional(std::string_view raw) {
    std::vector<ConditionalClause> clauses;
    std::size_t start = 0;
    int depth = 0;
    for (std::size_t i = 0; i <= raw.size(); ++i) {
        const bool end = i == raw.size();
        if (!end && raw[i] == '(')
            ++depth;
        if (!end && raw[i] == ')' && depth > 0)
            --depth;
        if (!end && (raw[i] != ';' || depth > 0))
            continue;
        const std::string_view clause = trim_tag(raw.substr(start, i - start));
        start = i + 1;
        if (clause.empty())
            continue;
        const std::size_t at = std::min(clause.find('@'), clause.size());
        clauses.push_back({trim_tag(clause.substr(0, at)),
                           without_brackets(clause.substr(std::min(at + 1, clause.size())))});
    }
    return clauses;
}

Tri evaluate_clause(const ConditionalClause& clause, const VehicleView& vehicle, const Moment& moment) {
    if (clause.value.empty())
        return Tri::unknown;
    Tri result = Tri::yes;
    for (const std::string_view part : split_and(clause.condition))
        result = tri_and(result, part.empty() ? Tri::unknown : evaluate_part(part, vehicle, moment));
    return result;
}

bool is_condition_of_purpose(std::string_view condition) {
    const std::vector<std::string_view> parts = split_and(condition);
    return std::any_of(parts.begin(), parts.end(), [](std::string_view part) {
        return tag_is_in(ascii_lower(part), {"destination", "delivery", "customers", "private", "residents",
                                             "permit", "agricultural", "forestry"});
    });
}

std::string verify_flag(const ConditionalClause& clause) {
    std::string flag = "verify:" + printable(clause.value);
    if (!clause.condition.empty())
        flag += " @ " + printable(clause.condition);
    return flag;
}

ConditionalReading read_conditional(std::string_view base, std::string_view conditional,
                                    const VehicleView& vehicle, const Moment& moment) {
    ConditionalReading reading;
    reading.value = base;
    for (const ConditionalClause& clause : split_conditional(conditional)) {
        const Tri matches = evaluate_clause(clause, vehicle, moment);
        if (matches == Tri::yes) {
            reading.value = clause.value;
            reading.flags.clear();  // whatever the clauses before say, this one overrides them
        } else if (matches == Tri::unknown) {
            reading.flags.push_back(verify_flag(clause));
        }
    }
    return reading;
}

}  // namespace loamway
