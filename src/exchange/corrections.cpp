// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/corrections.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

#include "geojson_features.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/tags/surface.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

constexpr std::string_view schema = "loamway.corrections/1";
constexpr std::size_t largest_file = std::size_t{64} << 20;
constexpr std::size_t longest_text = 500;  // bytes
constexpr std::size_t longest_id = 40;
constexpr std::size_t most_points = 20000;
// Longer than any road that somebody can vouch for.
const Length longest_line = Length::from_km(200);
constexpr std::int64_t highest_number = 1'000'000'000'000;

Error wrong(std::string what, std::string what_to_do) {
    return {ErrorKind::input, std::move(what), std::move(what_to_do)};
}

/// The number of an id such as "c7"; 0 for any other id.
std::int64_t number_of(const std::string& id) {
    std::int64_t n = 0;
    if (id.size() < 2 || id[0] != 'c')
        return 0;
    const auto [stop, code] = std::from_chars(id.data() + 1, id.data() + id.size(), n);
    return code == std::errc() && stop == id.data() + id.size() && n > 0 && n < highest_number ? n : 0;
}

void check_id(const std::string& id) {
    const auto plain = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
               c == '_' || c == '.';
    };
    if (id.empty() || id.size() > longest_id || !std::all_of(id.begin(), id.end(), plain))
        throw wrong(fmt::format("the id \"{}\" is not made of 1 to {} letters, digits, - _ or .",
                                printable(id), longest_id),
                    "give each correction one such as c1");
}

void check_value(const Correction& c) {
    const bool needs_value = c.kind == CorrectionKind::surface || c.kind == CorrectionKind::limit ||
                             c.kind == CorrectionKind::gate || c.kind == CorrectionKind::entrance;
    const bool takes_none = c.kind == CorrectionKind::closed || c.kind == CorrectionKind::no_stop;
    if (needs_value && c.value.empty())
        throw wrong(fmt::format("a correction of kind {} needs a value", name_of(c.kind)),
                    c.kind == CorrectionKind::surface ? "asphalt, concrete, gravel, earth ..."
                    : c.kind == CorrectionKind::limit ? "as in maxheight=3.8"
                    : c.kind == CorrectionKind::gate  ? "locked, key or open"
                                                      : "the field's name");
    if (takes_none && !c.value.empty())
        throw wrong(fmt::format("a correction of kind {} takes no value, \"{}\" was given", name_of(c.kind),
                                printable(c.value)),
                    "leave it out; say more in the note");
    if (c.kind != CorrectionKind::limit && !c.unit.empty())
        throw wrong("only a limit has a unit", "leave the unit out");
    if (c.kind == CorrectionKind::limit)
        static_cast<void>(stated_limit(c));
    if (c.kind == CorrectionKind::surface && !read_surface({{"surface", c.value}}, false).known)
        throw wrong(
            fmt::format("\"{}\" is no surface known here", printable(c.value)),
            "asphalt, concrete, gravel, compacted, earth, grass ...: a word of OpenStreetMap's surface key");
    if (c.kind == CorrectionKind::gate && c.value != "locked" && c.value != "key" && c.value != "open")
        throw wrong(fmt::format("\"{}\" says nothing of a gate", printable(c.value)), "locked, key or open");
}

void check_times(const Correction& c) {
    const auto check = [](const std::string& text, const char* key) {
        try {
            if (!text.empty())
                static_cast<void>(parse_date_or_time(text, TimeZone(), false));
        } catch (const Error& e) {
            throw wrong(fmt::format("{}: {}", key, e.message()), "write YYYY-MM-DD or YYYY-MM-DDTHH:MM");
        }
    };
    check(c.from, "from");
    check(c.to, "to");
    check(c.noted, "noted");
    const Validity v = validity_of(c, TimeZone());
    if (v.begins && v.ends && *v.ends <= *v.begins)
        throw wrong(fmt::format("it would end ({}) before it begins ({})", c.to, c.from),
                    "exchange from and to");
}

void check_line(const Correction& c) {
    const bool point_only = c.kind == CorrectionKind::stop || c.kind == CorrectionKind::loading ||
                            c.kind == CorrectionKind::entrance;
    if (c.line.empty())
        throw wrong("the correction has no position", "give it a Point or a LineString");
    if (point_only && !c.is_point())
        throw wrong(fmt::format("a correction of kind {} is one point", name_of(c.kind)),
                    "give its position");
    if (c.line.size() > most_points || polyline_length(c.line) > longest_line)
        throw wrong(fmt::format("the line is longer than {:.0f} km or has more than {} points",
                                longest_line.km(), most_points),
                    "draw it road by road");
    if (!c.is_point() && polyline_length(c.line) < Length::from_metres(1))
        throw wrong("the line is shorter than a metre", "give a Point instead");
}

Correction read_properties(Table& p) {
    Correction c;
    const auto text = [&p](std::string_view key) {
        std::string t = p.text(key).value_or("");
        if (t.size() > longest_text)
            throw p.error_at(key, fmt::format("{} is longer than {} bytes", key, longest_text));
        return t;
    };
    c.id = p.require_text("id");
    static_cast<void>(p.require_text("kind"));
    const std::vector<std::string_view> kinds(correction_kind_names.begin(), correction_kind_names.end());
    c.kind = static_cast<CorrectionKind>(*p.word("kind", kinds));
    c.value = text("value");
    c.unit = text("unit");
    c.from = text("from");
    c.to = text("to");
    c.by = text("by");
    c.noted = text("noted");
    c.note = text("note");
    p.finish();
    return c;
}

void read_line(Table& feature, Correction& c) {
    std::optional<Table> geometry = feature.table("geometry");
    if (!geometry)
        throw feature.error_at("geometry", fmt::format("the correction {} has no position", printable(c.id)));
    const std::string type = geometry->require_text("type");
    const Value* coordinates = geometry->value("coordinates");
    if (coordinates == nullptr)
        throw geometry->error_at("coordinates", "the geometry has no coordinates");
    if (type == "Point") {
        c.line.push_back(read_position(*geometry, *coordinates));
    } else if (type == "LineString") {
        const Value::Array* list = coordinates->as_array();
        if (list == nullptr || list->size() < 2)
            throw geometry->error_at("coordinates", "a line has fewer than two points");
        for (const Value& position : *list)
            c.line.push_back(read_position(*geometry, position));
    } else {
        throw geometry->error_at("type", fmt::format("a correction cannot be a {}", printable(type)),
                                 "draw a Point or a LineString");
    }
    static_cast<void>(geometry->value("bbox"));
    geometry->finish();
}

Correction read_feature(Table& feature, std::set<std::string>& ids) {
    std::optional<Table> properties = feature.table("properties");
    if (!properties)
        throw feature.error_at("properties", "the correction has no properties", "it needs an id and a kind");
    Correction c = read_properties(*properties);
    read_line(feature, c);
    try {
        check_correction(c);
    } catch (const Error& e) {
        throw properties->error_at("id", fmt::format("correction {}: {}", printable(c.id), e.message()),
                                   e.what_to_do());
    }
    if (!ids.insert(c.id).second)
        throw properties->error_at("id", fmt::format("two corrections have the id {}", c.id), "rename one");
    return c;
}

Value position(GeoPoint p) {
    return Value::Array{p.lon_e7 / 1e7, p.lat_e7 / 1e7};
}

Value geometry(const Correction& c) {
    if (c.is_point())
        return Value::Object{{"type", "Point"}, {"coordinates", position(c.line.front())}};
    Value::Array points;
    for (const GeoPoint p : c.line)
        points.push_back(position(p));
    return Value::Object{{"type", "LineString"}, {"coordinates", std::move(points)}};
}

Value feature(const Correction& c) {
    Value properties{Value::Object{{"id", c.id}, {"kind", name_of(c.kind)}}};
    const auto add = [&properties](const char* key, const std::string& text) {
        if (!text.empty())
            properties.set(key, text);
    };
    add("value", c.value);
    add("unit", c.unit);
    add("from", c.from);
    add("to", c.to);
    add("by", c.by);
    add("noted", c.noted);
    add("note", c.note);
    return Value::Object{
        {"type", "Feature"}, {"properties", std::move(properties)}, {"geometry", geometry(c)}};
}

}  // namespace

std::string CorrectionFile::next_id() {
    return fmt::format("c{}", ++last_number);
}

void check_correction(const Correction& c) {
    check_id(c.id);
    check_value(c);
    check_times(c);
    check_line(c);
}

CorrectionFile parse_corrections(std::string_view json, const std::string& file) {
    CorrectionFile out;
    std::set<std::string> ids;
    read_features(
        parse_document(json, file, DocumentKind::corrections), file, "corrections",
        [&](Table& top) {
            const std::optional<std::string> said = top.text("schema");
            if (said && *said != schema)
                throw top.error_at("schema", fmt::format("schema \"{}\" is not {}", printable(*said), schema),
                                   "it was written by another version of the program");
            out.last_number =
                top.integer("last_number", {0, static_cast<double>(highest_number)}).value_or(0);
        },
        [&](Table& feature) {
            out.corrections.push_back(read_feature(feature, ids));
            out.last_number = std::max(out.last_number, number_of(out.corrections.back().id));
        });
    return out;
}

CorrectionFile read_corrections(const std::string& path) {
    require_plain_path(path);
    return parse_corrections(read_text_file(path, largest_file), path);
}

std::string corrections_to_json(const CorrectionFile& file) {
    Value::Array features;
    for (const Correction& c : file.corrections)
        features.push_back(feature(c));
    const Value document{Value::Object{{"type", "FeatureCollection"},
                                       {"schema", schema},
                                       {"last_number", file.last_number},
                                       {"features", std::move(features)}}};
    return to_json(document, 1) + "\n";
}

void write_corrections(const CorrectionFile& file, const std::string& path) {
    write_file(path, corrections_to_json(file));
}

}  // namespace loamway
