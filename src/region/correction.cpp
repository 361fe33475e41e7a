// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/correction.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr std::size_t date_length = 10;  // YYYY-MM-DD
constexpr std::int64_t day_seconds = 86400;

struct UnitOf {
    std::string_view unit;
    bool mass;
    double factor;  // to metres or tonnes
};
// The pound and the short ton are exact by definition.
constexpr std::array<UnitOf, 8> limit_units{{{"m", false, 1.0},
                                             {"cm", false, 0.01},
                                             {"ft", false, 0.3048},
                                             {"in", false, 0.0254},
                                             {"t", true, 1.0},
                                             {"kg", true, 0.001},
                                             {"lb", true, 0.00045359237},
                                             {"short_ton", true, 0.90718474}}};

struct LimitKey {
    std::string_view key;
    bool mass;
    double low, high;  // what a posted figure can be, in metres or tonnes
};
constexpr std::array<LimitKey, 4> limit_keys{{{"maxheight", false, 1.0, 20.0},
                                              {"maxwidth", false, 1.0, 50.0},
                                              {"maxweight", true, 0.5, 500.0},
                                              {"maxaxleload", true, 0.5, 100.0}}};

Error no_limit(std::string what, std::string what_to_do) {
    return {ErrorKind::input, std::move(what), std::move(what_to_do)};
}

const LimitKey& find_key(std::string_view word) {
    std::array<std::string_view, limit_keys.size()> known;
    for (std::size_t i = 0; i < limit_keys.size(); ++i) {
        if (limit_keys[i].key == word)
            return limit_keys[i];
        known[i] = limit_keys[i].key;
    }
    const std::string near = nearest_name(word, known);
    throw no_limit(fmt::format("\"{}\" is no limit", printable(word)),
                   near.empty() ? "maxheight, maxwidth, maxweight or maxaxleload, as in maxheight=3.8"
                                : fmt::format("did you mean {}?", near));
}

double find_factor(std::string_view unit, const LimitKey& key) {
    if (unit.empty())
        return 1.0;
    for (const UnitOf& u : limit_units)
        if (u.unit == unit && u.mass == key.mass)
            return u.factor;
    throw no_limit(fmt::format("\"{}\" is no unit for {}", printable(unit), key.key),
                   key.mass ? "t, kg, lb or short_ton" : "m, cm, ft or in");
}

}  // namespace

Instant parse_date_or_time(std::string_view text, const TimeZone& zone, bool end_of_day) {
    if (text.size() != date_length)
        return parse_time(text, zone);
    const Instant midnight = parse_time(fmt::format("{}T00:00", text), TimeZone());
    // The next day's date is found in UTC, where every day is as long as the next.
    const Instant wanted{midnight.unix_seconds + (end_of_day ? day_seconds : 0)};
    return zone.instant(TimeZone().local(wanted));
}

Validity validity_of(const Correction& c, const TimeZone& zone) {
    Validity v;
    if (!c.from.empty())
        v.begins = parse_date_or_time(c.from, zone, false);
    if (!c.to.empty())
        v.ends = parse_date_or_time(c.to, zone, true);
    return v;
}

StatedLimit stated_limit(const Correction& c) {
    const std::string_view text = c.value;
    const auto equals = text.find('=');
    if (equals == std::string_view::npos)
        throw no_limit(fmt::format("the limit \"{}\" has no figure", printable(text)),
                       "write it as in maxheight=3.8, with the unit beside it");
    const LimitKey& key = find_key(text.substr(0, equals));
    const std::string_view figure = text.substr(equals + 1);
    const double factor = find_factor(c.unit, key);
    if (figure == "none")
        return {std::string(key.key), std::nullopt};
    double v = 0;
    const auto [stop, code] = std::from_chars(figure.data(), figure.data() + figure.size(), v);
    if (code != std::errc() || stop != figure.data() + figure.size() || !std::isfinite(v))
        throw no_limit(
            fmt::format("the figure of the limit \"{}\" is no number", printable(text)),
            fmt::format("write it with a point for decimals, or none; its unit stands beside it as "
                        "unit, {} (--unit)",
                        key.mass ? "t, kg, lb or short_ton" : "m, cm, ft or in"));
    v *= factor;
    if (v < key.low || v > key.high)
        throw no_limit(fmt::format("{} of {:g} {} is hard to believe", key.key, v, key.mass ? "t" : "m"),
                       fmt::format("{:g} to {:g}; give the unit with it", key.low, key.high));
    return {std::string(key.key), v};
}

std::string words_for(const Correction& c) {
    switch (c.kind) {
        case CorrectionKind::surface:
            return c.value;
        case CorrectionKind::limit: {
            std::string words = c.value;
            if (const auto at = words.find('='); at != std::string::npos)
                words[at] = ' ';
            return c.unit.empty() ? words : words + " " + c.unit;
        }
        case CorrectionKind::gate:
            return "gate " + (c.value == "key" ? std::string("that needs a key") : c.value);
        case CorrectionKind::closed:
            return "closed";
        case CorrectionKind::no_stop:
            return "no place to stop";
        case CorrectionKind::stop:
            return "place to stop" + (c.value.empty() ? "" : " \"" + c.value + "\"");
        case CorrectionKind::loading:
            return "loading place" + (c.value.empty() ? "" : " \"" + c.value + "\"");
        case CorrectionKind::entrance:
            return "entrance of \"" + c.value + "\"";
    }
    return {};
}

std::string corrections_beside(const std::string& region_path) {
    return region_path + ".corrections.geojson";
}

}  // namespace loamway
