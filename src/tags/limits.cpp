// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/limits.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "loamway/base/names.h"
#include "tag_lookup.h"
#include "tag_text.h"

namespace loamway {

namespace {

using Kind = LimitReading::Kind;

// What "default" means for the general traffic of a country that posts nothing: European figures (Directive
// 96/53/EC, from memory), which other countries seldom undercut. The recipe's own limits are checked
// elsewhere.
constexpr double general_height_m = 4.0;
constexpr double general_width_m = 2.55;
constexpr double general_length_m = 18.75;
constexpr double general_mass_t = 40.0;
constexpr double general_axle_t = 11.5;

// Comparisons must not hang on the last bit of 3.6 + 0.2.
constexpr double tolerance = 1e-6;

struct LimitRule {
    std::string_view key;
    bool mass;   // tonnes, else metres
    double own;  // the vehicle's figure; zero: unknown
    double margin;
    double general;  // what passes where the default applies
    std::string_view unit;
};

// Two decimals at most and no trailing zeros: 3.8, 2.44, 40.
std::string short_number(double value) {
    std::string text = fmt::format("{:.2f}", value);
    while (text.back() == '0')
        text.pop_back();
    if (text.back() == '.')
        text.pop_back();
    return text;
}

std::string own_text(const LimitRule& rule) {
    if (rule.own <= 0.0)
        return fmt::format("the vehicle's {} is not known", rule.mass ? "mass" : "measure");
    std::string text = fmt::format("vehicle {:.2f} {}", rule.own, rule.unit);
    if (rule.margin > 0.0)
        text += fmt::format(" + {:.2f} {} margin", rule.margin, rule.unit);
    return text;
}

// The limit as posted, with its reading when that is not plain from the text.
std::string limit_text(const TagLookup& lookup, const LimitRule& rule, const LimitReading& limit) {
    const std::string number = short_number(*limit.value) + " " + std::string(rule.unit);
    const std::string raw = printable(lookup.value);
    if (raw == number || raw == short_number(*limit.value))
        return fmt::format("{} {}", lookup.key, number);
    return fmt::format("{} \"{}\" read as {}", lookup.key, raw, number);
}

LimitFinding finding(Passage passage, std::string_view key, std::string text) {
    return {passage, std::string(key), std::move(text)};
}

LimitFinding compare_with_limit(const TagLookup& lookup, const LimitRule& rule, const LimitReading& limit) {
    const std::string text = limit_text(lookup, rule, limit) + ", " + own_text(rule);
    const bool doubtful = std::any_of(limit.warnings.begin(), limit.warnings.end(),
                                      [](const std::string& w) { return w.starts_with("implausible"); });
    if (doubtful)
        return finding(Passage::check, rule.key, text + "; the figure is hard to believe: look on site");
    if (rule.own <= 0.0)
        return finding(Passage::check, rule.key, text);
    const bool exceeds = rule.own + rule.margin > *limit.value + tolerance;
    return finding(exceeds ? Passage::deny : Passage::allow, rule.key, text);
}

LimitFinding compare_with_default(const TagLookup& lookup, const LimitRule& rule) {
    const bool fits = rule.own > 0.0 && rule.own <= rule.general + tolerance;
    return finding(fits ? Passage::allow : Passage::check, rule.key,
                   fmt::format("{} \"{}\": the general limit applies, {}", lookup.key,
                               printable(lookup.value), own_text(rule)));
}

LimitFinding compare_below_default(const TagLookup& lookup, const LimitRule& rule) {
    const bool height = rule.key.starts_with("maxheight");
    const bool exceeds = height && rule.own >= general_height_m - tolerance;
    return finding(exceeds ? Passage::deny : Passage::check, rule.key,
                   fmt::format("{} \"{}\": lower than the general limit, {}", lookup.key,
                               printable(lookup.value), own_text(rule)));
}

LimitFinding compare_unread(const TagLookup& lookup, const LimitRule& rule, const LimitReading& limit) {
    std::string text = fmt::format("{} \"{}\" cannot be read", lookup.key, printable(lookup.value));
    if (limit.kind != Kind::unparsed)
        text = fmt::format("{} \"{}\" gives no figure", lookup.key, printable(lookup.value));
    if (limit.hint)
        text += fmt::format(" (perhaps {} {})", short_number(*limit.hint), rule.unit);
    return finding(Passage::check, rule.key, text + ", " + own_text(rule));
}

LimitFinding compare(const TagLookup& lookup, const LimitRule& rule) {
    const LimitReading limit = rule.mass ? read_mass(lookup.value) : read_length(lookup.value);
    switch (limit.kind) {
        case Kind::limit:
            return compare_with_limit(lookup, rule, limit);
        case Kind::unlimited:
            return finding(Passage::allow, rule.key, {});
        case Kind::standard:
            return compare_with_default(lookup, rule);
        case Kind::below_standard:
            return compare_below_default(lookup, rule);
        case Kind::unlimited_doubtful:
        case Kind::unknown:
        case Kind::unparsed:
            break;
    }
    return compare_unread(lookup, rule, limit);
}

// A tracked machine has no axle to weigh: whatever is posted, somebody must judge it.
LimitFinding track_load(const TagLookup& lookup, const VehicleView& vehicle) {
    const LimitReading limit = read_mass(lookup.value);
    if (limit.kind == Kind::unlimited)
        return finding(Passage::allow, lookup.key, {});
    const double axle = vehicle.axle.tonnes();
    const std::string load =
        axle > 0.0 ? fmt::format("most loaded track axle {:.2f} t, {:.2f} t a track unit", axle, axle / 2.0)
                   : std::string("load a track unit is not known");
    return finding(
        Passage::check, lookup.key,
        fmt::format("{} \"{}\": tracks have no axles; {}", lookup.key, printable(lookup.value), load));
}

// The permitted mass is at least the actual one: what is too heavy as it stands is too heavy on paper.
LimitFinding permitted_mass(const TagLookup& lookup, const LimitRule& rule) {
    LimitFinding result = compare(lookup, rule);
    const LimitReading limit = read_mass(lookup.value);
    if (result.passage != Passage::allow || limit.kind != Kind::limit)
        return result;
    return finding(
        Passage::check, rule.key,
        limit_text(lookup, rule, limit) + " permitted mass: check, " + own_text(rule) + " as it stands");
}

class LimitReader {
public:
    LimitReader(const TagView& tags, const VehicleView& vehicle, Direction direction, const Moment& moment)
        : m_tags(tags), m_vehicle(vehicle), m_direction(direction), m_moment(moment) {}

    // The worst reading of the keys; the first of equals.
    void read(std::initializer_list<std::string_view> keys, LimitRule rule) {
        std::optional<LimitFinding> worst;
        for (const std::string_view key : keys) {
            rule.key = key;
            const std::optional<TagLookup> found = look(key);
            if (!found)
                continue;
            LimitFinding one = judge(*found, rule);
            if (!worst || one.passage > worst->passage)
                worst = std::move(one);
        }
        if (worst)
            keep(std::move(*worst));
    }

    [[nodiscard]] std::vector<LimitFinding> take() { return std::move(m_findings); }

private:
    // Clauses that cannot be decided are findings of their own.
    std::optional<TagLookup> look(std::string_view key) {
        TagLookup lookup = look_up_for_class(m_tags, key, m_direction, m_vehicle, m_moment);
        for (const std::string& flag : lookup.flags)
            keep(finding(Passage::check, key, fmt::format("{} at some times: {}", key, flag)));
        return lookup.found ? std::optional(std::move(lookup)) : std::nullopt;
    }

    [[nodiscard]] LimitFinding judge(const TagLookup& lookup, const LimitRule& rule) const {
        const bool machine = m_vehicle.kind == VehicleKind::machine;
        if (rule.key == "maxbogieweight" || (rule.key == "maxaxleload" && machine)) {
            if (machine)
                return track_load(lookup, m_vehicle);
            // The load of a truck's bogies is not in the profile.
            LimitRule unknown = rule;
            unknown.own = 0.0;
            return compare(lookup, unknown);
        }
        if (rule.key == "maxweightrating")
            return permitted_mass(lookup, rule);
        return compare(lookup, rule);
    }

    void keep(LimitFinding found) {
        if (found.passage != Passage::allow)
            m_findings.push_back(std::move(found));
    }

    const TagView& m_tags;
    const VehicleView& m_vehicle;
    Direction m_direction;
    const Moment& m_moment;
    std::vector<LimitFinding> m_findings;
};

bool has_limit_key(const TagView& tags) {
    return std::any_of(tags.all().begin(), tags.all().end(), [](const Tag& tag) {
        return tag.key.starts_with("max") && !tag.key.starts_with("maxspeed");
    });
}

}  // namespace

std::vector<LimitFinding> read_limits(const TagView& tags, const VehicleView& vehicle, Direction direction,
                                      const Moment& moment) {
    if (!has_limit_key(tags))  // nearly every road
        return {};
    LimitReader reader(tags, vehicle, direction, moment);
    const double mass = vehicle.mass.tonnes();
    const double axle = vehicle.axle.tonnes();
    reader.read({"maxweight"}, {{}, true, mass, 0.0, general_mass_t, "t"});
    reader.read({"maxweightrating"}, {{}, true, mass, 0.0, general_mass_t, "t"});
    reader.read({"maxaxleload"}, {{}, true, axle, 0.0, general_axle_t, "t"});
    reader.read({"maxbogieweight"}, {{}, true, axle, 0.0, general_axle_t, "t"});
    reader.read({"maxheight", "maxheight:physical"},
                {{}, false, vehicle.height.metres(), vehicle.height_margin.metres(), general_height_m, "m"});
    reader.read({"maxwidth", "maxwidth:physical"},
                {{}, false, vehicle.width.metres(), vehicle.width_margin.metres(), general_width_m, "m"});
    reader.read({"maxlength"}, {{}, false, vehicle.length.metres(), 0.0, general_length_m, "m"});
    return reader.take();
}

}  // namespace loamway
