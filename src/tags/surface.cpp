// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/surface.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "loamway/base/names.h"
#include "loamway/tags/road_classes.h"
#include "tag_text.h"

// The figures for P(hard) are assumptions of this project, except that the wiki (Key:surface, Key:tracktype)
// says which values mean what, and that only a motorway may be taken as paved without a surface tag.

namespace loamway {

namespace {

// P(hard) by what a surface value says. Not 0 and 1: mappers err, and roads are rebuilt.
constexpr double p_hard_surface = 0.97;
constexpr double p_gravel_surface = 0.04;
constexpr double p_unpaved_surface = 0.06;  // says only what it is not
constexpr double p_earth_surface = 0.02;
constexpr double p_mixed_surface = 0.6;     // a list with something hard in it
constexpr double p_bad_smoothness = 0.15;   // at most
constexpr double p_good_smoothness = 0.95;  // at least
constexpr double p_bridge_deck = 0.85;      // at least

// A value that is nothing but junk is flagged only so often.
constexpr std::size_t most_unknown_values = 8;

struct SurfaceValue {
    SurfaceClass surface = SurfaceClass::hard;
    double p_hard = 0.0;
    std::string_view flag;  // empty: none
};

std::optional<SurfaceValue> read_value(std::string_view value) {
    const std::string word = ascii_lower(value);
    if (tag_is_in(word, {"asphalt", "paved", "concrete", "concrete:plates", "chipseal", "rubber"}))
        return SurfaceValue{SurfaceClass::hard, p_hard_surface, {}};
    if (tag_is_in(word, {"paving_stones", "sett", "cobblestone", "unhewn_cobblestone", "brick", "bricks",
                         "grass_paver", "concrete:lanes"}))
        return SurfaceValue{SurfaceClass::hard, p_hard_surface, "blocks"};
    if (tag_is_in(word, {"metal", "metal_grid", "wood"}))
        return SurfaceValue{SurfaceClass::hard, p_hard_surface, "deck"};
    if (tag_is_in(word, {"gravel", "compacted", "fine_gravel", "pebblestone", "rock", "stone", "shells",
                         "woodchips", "crushed"}))
        return SurfaceValue{SurfaceClass::gravel, p_gravel_surface, {}};
    if (word == "unpaved")
        return SurfaceValue{SurfaceClass::gravel, p_unpaved_surface, {}};
    if (tag_is_in(word, {"ground", "dirt", "earth", "soil", "grass", "clay"}))
        return SurfaceValue{SurfaceClass::earth, p_earth_surface, {}};
    if (tag_is_in(word, {"sand", "mud"}))
        return SurfaceValue{SurfaceClass::earth, p_earth_surface, "soft"};
    if (tag_is_in(word, {"snow", "ice", "salt"}))
        return SurfaceValue{SurfaceClass::earth, p_earth_surface, "seasonal"};
    return std::nullopt;
}

// Steps of 1/200: hard first, gravel its share of the rest, earth what remains, so that the sum is exact.
SurfaceOdds odds_from(double p_hard, double gravel_share) {
    const double steps = probability_steps;
    const auto hard = static_cast<std::uint32_t>(std::lround(std::clamp(p_hard, 0.0, 1.0) * steps));
    const std::uint32_t rest = probability_steps - hard;
    const auto gravel = static_cast<std::uint32_t>(std::lround(rest * std::clamp(gravel_share, 0.0, 1.0)));
    SurfaceOdds odds;
    odds.hard = static_cast<std::uint8_t>(hard);
    odds.gravel = static_cast<std::uint8_t>(gravel);
    odds.earth = static_cast<std::uint8_t>(rest - gravel);
    return odds;
}

SurfaceOdds odds_of_known(SurfaceClass surface) {
    constexpr auto all = static_cast<std::uint8_t>(probability_steps);
    SurfaceOdds odds;
    (surface == SurfaceClass::hard     ? odds.hard
     : surface == SurfaceClass::gravel ? odds.gravel
                                       : odds.earth) = all;
    return odds;
}

std::string_view word_for(SurfaceClass surface) {
    return surface == SurfaceClass::hard ? "paved" : name_of(surface);
}

std::string assumed_text(const SurfaceOdds& odds) {
    const SurfaceClass likeliest = odds.likeliest();
    const int steps = likeliest == SurfaceClass::hard     ? odds.hard
                      : likeliest == SurfaceClass::gravel ? odds.gravel
                                                          : odds.earth;
    return fmt::format("assumed {} ({} %)", word_for(likeliest), (steps + 1) / 2);
}

void add_flag(SurfaceReading& reading, std::string flag) {
    if (!flag.empty() && std::find(reading.flags.begin(), reading.flags.end(), flag) == reading.flags.end())
        reading.flags.push_back(std::move(flag));
}

void set_assumed(SurfaceReading& reading, std::string_view source, double p_hard, double gravel_share,
                 const std::string& because) {
    reading.source = source;
    reading.p_hard = p_hard;
    reading.odds = odds_from(p_hard, gravel_share);
    reading.likeliest = reading.odds.likeliest();
    reading.because = because;
    reading.reason = because + ": " + assumed_text(reading.odds);
}

void set_known(SurfaceReading& reading, const SurfaceValue& value, std::string_view word) {
    reading.source = "surface";
    reading.known = true;
    reading.p_hard = value.p_hard;
    reading.odds = odds_of_known(value.surface);
    reading.likeliest = value.surface;
    add_flag(reading, std::string(value.flag));
    reading.because = "surface " + printable(word);
    reading.reason = fmt::format("surface {}: {}", printable(word), word_for(value.surface));
}

// "asphalt;gravel": somewhere it is one, somewhere the other. Never known.
void set_list(SurfaceReading& reading, const std::vector<SurfaceValue>& values, std::string_view raw) {
    int count[surface_class_count] = {};
    double p_hard = 0.0;
    for (const SurfaceValue& value : values) {
        ++count[static_cast<std::size_t>(value.surface)];
        p_hard += value.p_hard / static_cast<double>(values.size());
        add_flag(reading, std::string(value.flag));
    }
    const int soft = count[1] + count[2];
    if (count[0] > 0 && soft > 0)
        p_hard = p_mixed_surface;
    add_flag(reading, "mixed");
    set_assumed(reading, "surface", p_hard, soft > 0 ? static_cast<double>(count[1]) / soft : 0.5,
                "surface " + printable(raw));
}

// True when the surface tag decides. Values nobody documented are flagged and otherwise left alone.
bool read_surface_tag(const TagView& tags, SurfaceReading& reading) {
    const std::optional<std::string_view> raw = tags.get("surface");
    if (!raw)
        return false;
    const std::vector<std::string_view> words = split_tag(*raw, ';');
    std::vector<SurfaceValue> values;
    for (const std::string_view word : words) {
        if (const std::optional<SurfaceValue> value = read_value(word))
            values.push_back(*value);
        else if (reading.flags.size() < most_unknown_values)
            add_flag(reading, "surface_value_unknown:" + printable(word));
    }
    if (words.empty())
        add_flag(reading, "surface_value_unknown:");
    if (values.empty())
        return false;
    if (words.size() == 1)
        set_known(reading, values.front(), words.front());
    else
        set_list(reading, values, *raw);
    return true;
}

bool read_winter_road(const TagView& tags, SurfaceReading& reading) {
    for (const std::string_view key : {"winter_road", "ice_road"}) {
        if (!tags.is(key, "yes"))
            continue;
        add_flag(reading, "seasonal");
        add_flag(reading, "soft");
        set_assumed(reading, "winter_road", p_earth_surface, 0.0, std::string(key));
        return true;
    }
    return false;
}

struct Grade {
    double p_hard;
    double gravel_share;  // of what is not hard (assumption)
};
constexpr Grade grades[] = {{0.75, 0.90}, {0.10, 0.95}, {0.05, 0.85}, {0.03, 0.15}, {0.02, 0.05}};

// The number of "grade1" .. "grade5", 0 for anything else.
int grade_number(std::string_view word) {
    constexpr std::string_view stem = "grade";
    if (word.size() != stem.size() + 1 || !word.starts_with(stem))
        return 0;
    const char digit = word.back();
    return digit >= '1' && digit <= '5' ? digit - '0' : 0;
}

// Of several grades the softest counts; 0 without any.
int softest_grade(std::string_view tracktype) {
    int softest = 0;
    for (const std::string_view word : split_tag(tracktype, ';'))
        softest = std::max(softest, grade_number(word));
    return softest;
}

// A bridge deck is more often paved than the road that leads to it.
double raise_on_bridge(const TagView& tags, SurfaceReading& reading, double p_hard) {
    if (!tag_says_yes(tags.get("bridge").value_or("")) || hard_on_bridge(p_hard) == p_hard)
        return p_hard;
    add_flag(reading, "bridge_deck");
    return hard_on_bridge(p_hard);
}

bool read_tracktype(const TagView& tags, SurfaceReading& reading) {
    const std::optional<std::string_view> raw = tags.get("tracktype");
    if (!raw)
        return false;
    const int softest = softest_grade(*raw);
    if (softest == 0) {
        add_flag(reading, "tracktype_value_unknown:" + printable(*raw));
        return false;
    }
    if (split_tag(*raw, ';').size() > 1)
        add_flag(reading, "mixed");
    if (softest == 5)
        add_flag(reading, "soft");
    const Grade& grade = grades[static_cast<std::size_t>(softest) - 1];
    set_assumed(reading, "tracktype", raise_on_bridge(tags, reading, grade.p_hard), grade.gravel_share,
                "tracktype " + printable(*raw));
    return true;
}

struct ClassDefault {
    std::string_view road;
    double rural, built_up;
    double gravel_share;  // of what is not hard (assumption)
};
constexpr double road_gravel = 0.85;
constexpr ClassDefault class_defaults[] = {
    {"motorway", 0.995, 0.995, road_gravel},  {"trunk", 0.985, 0.985, road_gravel},
    {"primary", 0.97, 0.97, road_gravel},     {"secondary", 0.95, 0.95, road_gravel},
    {"tertiary", 0.88, 0.96, road_gravel},    {"unclassified", 0.65, 0.92, road_gravel},
    {"residential", 0.75, 0.93, road_gravel}, {"living_street", 0.85, 0.95, road_gravel},
    {"service", 0.55, 0.85, road_gravel},     {"track", 0.12, 0.25, 0.60},
    {"road", 0.45, 0.70, road_gravel},        {"path", 0.03, 0.03, 0.30},
    {"bridleway", 0.03, 0.03, 0.30},          {"footway", 0.50, 0.85, 0.60},
    {"cycleway", 0.85, 0.95, road_gravel},    {"pedestrian", 0.90, 0.95, road_gravel},
};

ClassDefault class_default(const TagView& tags) {
    const std::string_view highway = tags.get("highway").value_or("road");
    const std::string_view road = without_link(highway);
    ClassDefault result{"road", 0.45, 0.70, road_gravel};
    for (const ClassDefault& entry : class_defaults)
        if (entry.road == road)
            result = entry;
    if (road == "service") {
        const std::string_view service = tags.get("service").value_or("");
        if (service == "driveway")
            result.rural = result.built_up = 0.5;
        else if (service == "alley")
            result.rural = result.built_up = 0.7;
        else if (service == "parking_aisle")
            result.rural = result.built_up = 0.85;
    }
    return result;
}

double scale_odds(double p, double factor) {
    if (p >= 1.0 || !std::isfinite(factor) || factor <= 0.0)
        return p;
    const double odds = p / (1.0 - p) * factor;
    return odds / (1.0 + odds);
}

RoadFeel feel_of(const TagView& tags) {
    const std::string_view smoothness = tags.get("smoothness").value_or("");
    if (tag_is_in(smoothness, {"very_bad", "horrible", "very_horrible", "impassable"}))
        return RoadFeel::rough;
    return tag_is_in(smoothness, {"excellent", "good"}) ? RoadFeel::smooth : RoadFeel::unsaid;
}

double apply_smoothness(const TagView& tags, SurfaceReading& reading, double p_hard) {
    const double result = hard_by_feel(feel_of(tags), p_hard);
    if (result != p_hard)
        add_flag(reading, "smoothness");
    return result;
}

void read_default(const TagView& tags, bool built_up, double odds_factor, SurfaceReading& reading) {
    const ClassDefault entry = class_default(tags);
    // A lit road is a road between houses, whether or not the map draws the houses (assumption).
    const bool lit = !built_up && tags.is("lit", "yes") && entry.built_up != entry.rural;
    if (lit)
        add_flag(reading, "lit");
    double p_hard = scale_odds(built_up || lit ? entry.built_up : entry.rural, odds_factor);
    p_hard = apply_smoothness(tags, reading, p_hard);
    p_hard = raise_on_bridge(tags, reading, p_hard);
    std::string because = "no surface tag, highway " + printable(tags.get("highway").value_or("unknown"));
    if (built_up)
        because += ", built-up";
    for (const char* hint : {"lit", "smoothness", "bridge_deck"})
        if (std::find(reading.flags.begin(), reading.flags.end(), hint) != reading.flags.end())
            because += fmt::format(", {}", hint == std::string_view("bridge_deck") ? "bridge" : hint);
    set_assumed(reading, "default", p_hard, entry.gravel_share, because);
}

// Who may use the road, as far as it hints at how it is built: the most specific key that speaks counts.
RoadOpening opening_of(const TagView& tags) {
    const auto is_open = [](std::string_view value) {
        return tag_is_in(value, {"yes", "permissive", "designated", "official"});
    };
    const auto value_of = [&](std::string_view key) {
        const auto raw = tags.get(key);
        return raw ? trim_tag(raw->substr(0, raw->find(';'))) : std::string_view();
    };
    if (is_open(value_of("motorcar")))
        return RoadOpening::open;
    for (const std::string_view key : {"agricultural", "motor_vehicle", "vehicle", "access"}) {
        const std::string_view value = value_of(key);
        if (!value.empty())
            return is_open(value)                        ? RoadOpening::open
                   : tag_is_in(value, {"no", "private"}) ? RoadOpening::closed
                                                         : RoadOpening::purpose;
    }
    return RoadOpening::unsaid;
}

}  // namespace

std::vector<std::string_view> classes_with_odds() {
    std::vector<std::string_view> out;
    for (const ClassDefault& entry : class_defaults)
        out.push_back(entry.road);
    return out;
}

double hard_by_feel(RoadFeel feel, double p_hard) {
    return feel == RoadFeel::rough    ? std::min(p_hard, p_bad_smoothness)
           : feel == RoadFeel::smooth ? std::max(p_hard, p_good_smoothness)
                                      : p_hard;
}

double hard_on_bridge(double p_hard) {
    return std::max(p_hard, p_bridge_deck);
}

SurfaceTraits surface_traits(const TagView& tags) {
    SurfaceTraits t;
    t.road = without_link(tags.get("highway").value_or("road"));
    t.grade = softest_grade(tags.get("tracktype").value_or(""));
    if (t.road == "service")
        t.service = tags.get("service").value_or("");
    t.feel = feel_of(tags);
    t.bridge = tag_says_yes(tags.get("bridge").value_or(""));
    t.opening = opening_of(tags);
    t.named = !tags.get("name").value_or("").empty() || !tags.get("ref").value_or("").empty();
    return t;
}

SurfaceReading read_surface(const TagView& tags, bool built_up, double odds_factor) {
    SurfaceReading reading;
    if (read_surface_tag(tags, reading) || read_winter_road(tags, reading) || read_tracktype(tags, reading))
        return reading;
    read_default(tags, built_up, odds_factor, reading);
    return reading;
}

}  // namespace loamway
