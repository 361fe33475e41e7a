// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <optional>
#include <span>

#include "loamway/base/names.h"
#include "loamway/tags/limits.h"
#include "tag_number.h"
#include "tag_text.h"

// One raw value to tonnes, metres or km/h. Default units, separators and the keywords follow the
// OpenStreetMap wiki (Units, Key:maxweight, Key:maxheight, Key:maxwidth, Key:maxspeed).

namespace loamway {

namespace {

using Kind = LimitReading::Kind;

// Beyond these a number without a unit is taken for a slip of the pen (assumptions of this project).
constexpr double implausible_t = 100.0;
constexpr double assumed_kg_from = 1000.0;
constexpr double implausible_m = 30.0;
constexpr double walking_kmh = 7.0;

constexpr double metres_per_inch = 0.0254;
constexpr double metres_per_foot = 0.3048;
constexpr double kmh_per_mph = 1.609344;
constexpr double kmh_per_knot = 1.852;

struct Unit {
    std::string_view name;
    double factor;         // to tonnes, metres or km/h
    bool standard;         // as the wiki spells it
    bool thousands_comma;  // numbers in this unit are large enough for "13,000"
};

// Pound 0.45359237 kg; short ton 2000 lb; long ton 2240 lb; hundredweight 112 lb.
constexpr Unit mass_units[] = {
    {"t", 1.0, true, false},
    {"tonne", 1.0, false, false},
    {"tonnes", 1.0, false, false},
    {"kg", 0.001, true, true},
    {"lbs", 0.00045359237, true, true},
    {"lb", 0.00045359237, false, true},
    {"pound", 0.00045359237, false, true},
    {"pounds", 0.00045359237, false, true},
    {"st", 0.90718474, true, false},
    {"lt", 1.0160469088, true, false},
    {"cwt", 0.05080234544, true, false},
};
constexpr Unit length_units[] = {
    {"m", 1.0, true, false},
    {"metre", 1.0, false, false},
    {"metres", 1.0, false, false},
    {"meter", 1.0, false, false},
    {"meters", 1.0, false, false},
    {"cm", 0.01, true, true},
    {"mm", 0.001, true, true},
    {"ft", metres_per_foot, false, false},
    {"feet", metres_per_foot, false, false},
    {"in", metres_per_inch, false, false},
};
constexpr Unit speed_units[] = {
    {"km/h", 1.0, true, false},        {"kmh", 1.0, false, false},           {"kph", 1.0, false, false},
    {"mph", kmh_per_mph, true, false}, {"knots", kmh_per_knot, true, false},
};

LimitReading of_kind(Kind kind, std::vector<std::string> warnings = {}) {
    LimitReading reading;
    reading.kind = kind;
    reading.warnings = std::move(warnings);
    return reading;
}

LimitReading limit_of(double value, std::vector<std::string> warnings) {
    LimitReading reading = of_kind(Kind::limit, std::move(warnings));
    reading.value = value;
    return reading;
}

LimitReading unparsed(std::string_view raw) {
    LimitReading reading = of_kind(Kind::unparsed, {"verify_on_site"});
    reading.hint = number_inside(raw);
    return reading;
}

std::optional<LimitReading> read_keyword(std::string_view word) {
    if (tag_is_in(word, {"none", "unlimited"}))
        return of_kind(Kind::unlimited);
    if (word == "no")  // as often "no limit" as "not allowed"
        return of_kind(Kind::unlimited_doubtful);
    if (tag_is_in(word, {"default", "unsigned", "no_sign"}))
        return of_kind(Kind::standard);
    if (word == "below_default")
        return of_kind(Kind::below_standard);
    if (tag_is_in(word, {"no_indications", "unknown", "signals", "variable"}))
        return of_kind(Kind::unknown);
    return std::nullopt;
}

struct Measured {
    double value = 0.0;  // in the base unit when `unit` is set, else as written
    const Unit* unit = nullptr;
    std::vector<std::string> warnings;
};

// "7.5", "7.5 t", "12t", "13,000 lbs"; nothing for any other form.
std::optional<Measured> read_measured(std::string_view text, std::span<const Unit> units) {
    const NumberText split = split_number(text);
    const std::string unit_name = ascii_lower(trim_tag(split.rest));
    Measured measured;
    if (!unit_name.empty()) {
        const auto found =
            std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.name == unit_name; });
        if (found == units.end())
            return std::nullopt;
        measured.unit = &*found;
    }
    const std::optional<TagNumber> number =
        read_number(split.digits, measured.unit != nullptr && measured.unit->thousands_comma);
    if (!number)
        return std::nullopt;
    measured.value = number->value * (measured.unit != nullptr ? measured.unit->factor : 1.0);
    if (number->decimal_comma)
        measured.warnings.emplace_back("decimal_comma");
    if (number->thousands_comma)
        measured.warnings.emplace_back("thousands_comma");
    if (measured.unit != nullptr && !is_tag_blank(split.rest.front()))
        measured.warnings.emplace_back("missing_space");
    if (measured.unit != nullptr && !measured.unit->standard)
        measured.warnings.emplace_back("nonstandard_unit");
    return measured;
}

// Lists are read as the lowest of their limits: whoever passes that passes all of them.
template <class ReadOne>
LimitReading read_list(std::string_view raw, ReadOne read_one) {
    const std::vector<std::string_view> parts = split_tag(raw, ';');
    if (parts.size() == 1)
        return read_one(parts.front());
    LimitReading result = of_kind(Kind::unlimited);
    bool all_read = !parts.empty();
    for (const std::string_view part : parts) {
        const LimitReading one = read_one(part);
        const std::optional<double> number = one.value ? one.value : one.hint;
        if (number && (!result.value || *number < *result.value))
            result.value = number;
        if (one.kind == Kind::standard && result.kind == Kind::unlimited)
            result.kind = Kind::standard;
        all_read = all_read &&
                   (one.kind == Kind::limit || one.kind == Kind::unlimited || one.kind == Kind::standard);
        for (const std::string& warning : one.warnings)
            if (std::find(result.warnings.begin(), result.warnings.end(), warning) == result.warnings.end())
                result.warnings.push_back(warning);
    }
    if (!all_read) {
        LimitReading reading = of_kind(Kind::unparsed, {"verify_on_site"});
        reading.hint = result.value;
        return reading;
    }
    if (result.value) {
        result.kind = Kind::limit;
        result.warnings.emplace_back("list_min");
    }
    return result;
}

LimitReading read_one_mass(std::string_view text) {
    if (const auto keyword = read_keyword(ascii_lower(text)))
        return *keyword;
    std::optional<Measured> measured = read_measured(text, mass_units);
    if (!measured)
        return unparsed(text);
    if (measured->unit == nullptr && measured->value >= assumed_kg_from) {
        measured->value /= 1000.0;
        measured->warnings.emplace_back("no_unit_assumed_kg");
    }
    if (measured->value > implausible_t || measured->value == 0.0)
        measured->warnings.emplace_back("implausible_t");
    return limit_of(measured->value, std::move(measured->warnings));
}

// Typographic primes and quotation marks are what phones and word processors make of ' and ".
std::string plain_primes(std::string_view text) {
    struct Replacement {
        std::string_view from;
        char to;
    };
    constexpr Replacement replacements[] = {
        {"\xE2\x80\xB2", '\''}, {"\xE2\x80\x99", '\''}, {"\xE2\x80\xB3", '"'}, {"\xE2\x80\x9D", '"'}};
    std::string plain;
    for (std::size_t i = 0; i < text.size();) {
        const auto found =
            std::find_if(std::begin(replacements), std::end(replacements),
                         [&](const Replacement& r) { return text.substr(i).starts_with(r.from); });
        const bool replaced = found != std::end(replacements);
        plain += replaced ? found->to : text[i];
        i += replaced ? found->from.size() : 1;
    }
    return plain;
}

// Takes one of `marks` from the front of the text.
bool take_mark(std::string_view& text, std::initializer_list<std::string_view> marks) {
    for (const std::string_view mark : marks) {
        if (text.starts_with(mark)) {
            text.remove_prefix(mark.size());
            return true;
        }
    }
    return false;
}

// A number followed by one of `marks`; leaves the text alone when it is not there.
std::optional<double> take_marked_number(std::string_view& text,
                                         std::initializer_list<std::string_view> marks) {
    const NumberText split = split_number(text);
    std::string_view rest = trim_tag(split.rest);
    const std::optional<TagNumber> number = read_number(split.digits, false);
    if (!number || number->decimal_comma || !take_mark(rest, marks))
        return std::nullopt;
    text = trim_tag(rest);
    return number->value;
}

// 6'7", 8', 78", 11' 4", 13 ft 6 in, 7ft6in. The first three are the wiki's spelling.
std::optional<LimitReading> read_feet(std::string_view raw) {
    const std::string plain = plain_primes(raw);
    const std::string lower = ascii_lower(plain);
    std::string_view text = lower;
    const std::optional<double> feet = take_marked_number(text, {"'", "feet", "ft"});
    std::optional<double> inches;
    if (!text.empty())
        inches = take_marked_number(text, {"\"", "''", "inches", "inch", "in"});
    bool closed = true;
    if (feet && !inches && !text.empty()) {  // 6'7 with the second mark forgotten
        const std::optional<TagNumber> bare = read_number(text, false);
        if (!bare || bare->decimal_comma)
            return std::nullopt;
        inches = bare->value;
        text = {};
        closed = false;
    }
    if ((!feet && !inches) || !text.empty())
        return std::nullopt;
    const bool as_documented =
        closed && plain == raw && lower.find_first_not_of("0123456789.'\"") == std::string::npos;
    std::vector<std::string> warnings;
    if (!as_documented)
        warnings.emplace_back("nonstandard_format");
    const double value = feet.value_or(0.0) * metres_per_foot + inches.value_or(0.0) * metres_per_inch;
    if (value > implausible_m || value == 0.0)
        warnings.emplace_back("implausible_m");
    return limit_of(value, std::move(warnings));
}

LimitReading read_one_length(std::string_view text) {
    if (const auto keyword = read_keyword(ascii_lower(text)))
        return *keyword;
    if (const auto feet = read_feet(text))
        return *feet;
    std::optional<Measured> measured = read_measured(text, length_units);
    if (!measured)
        return unparsed(text);
    if (measured->value > implausible_m || measured->value == 0.0)
        measured->warnings.emplace_back("implausible_m");
    return limit_of(measured->value, std::move(measured->warnings));
}

// "DE", "BE-VLG" before the colon.
bool is_country_code(std::string_view text) {
    const std::string_view country = text.substr(0, text.find('-'));
    return country.size() == 2 && std::all_of(country.begin(), country.end(), is_tag_letter) &&
           text.size() <= 6;
}

// "DE:rural", "DE:zone:30", "FR:zone30": a class with the national default, or a zone with its number.
std::optional<LimitReading> read_country_speed(std::string_view text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos || !is_country_code(text.substr(0, colon)))
        return std::nullopt;
    const std::string lower = ascii_lower(text);
    std::string_view rest = std::string_view(lower).substr(colon + 1);
    const bool zone = take_mark(rest, {"zone:", "zone"});
    if (zone || (!rest.empty() && is_tag_digit(rest.front()))) {
        const std::optional<TagNumber> number = read_number(rest, false);
        if (!number)
            return std::nullopt;
        return limit_of(number->value, {"zone"});
    }
    if (rest.empty() || !std::all_of(rest.begin(), rest.end(),
                                     [](char c) { return is_tag_letter(c) || c == '_' || c == ':'; }))
        return std::nullopt;
    return of_kind(Kind::standard, {"country_code:" + lower});
}

LimitReading read_one_speed(std::string_view text) {
    const std::string lower = ascii_lower(text);
    if (lower == "walk")
        return limit_of(walking_kmh, {"walk_assumed_7"});
    if (lower != "no")
        if (const auto keyword = read_keyword(lower))
            return *keyword;
    if (const auto country = read_country_speed(text))
        return *country;
    std::optional<Measured> measured = read_measured(text, speed_units);
    if (!measured) {
        LimitReading reading = of_kind(Kind::unparsed);
        reading.hint = number_inside(text);
        return reading;
    }
    if (measured->value == 0.0)
        measured->warnings.emplace_back("implausible_kmh");
    return limit_of(measured->value, std::move(measured->warnings));
}

}  // namespace

std::string_view name_of(LimitReading::Kind kind) {
    switch (kind) {
        case Kind::limit:
            return "limit";
        case Kind::unlimited:
            return "unlimited";
        case Kind::unlimited_doubtful:
            return "unlimited?";
        case Kind::standard:
            return "default";
        case Kind::below_standard:
            return "below_default";
        case Kind::unknown:
            return "unknown";
        case Kind::unparsed:
            break;
    }
    return "unparsed";
}

LimitReading read_mass(std::string_view raw) {
    return read_list(raw, read_one_mass);
}

LimitReading read_length(std::string_view raw) {
    return read_list(raw, read_one_length);
}

LimitReading read_speed(std::string_view raw) {
    return read_list(raw, read_one_speed);
}

}  // namespace loamway
