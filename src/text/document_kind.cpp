// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/document_kind.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <span>
#include <vector>

#include "loamway/base/file.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

struct KindWords {
    DocumentKind kind;
    std::string_view is;
    std::string_view to_do;
};
constexpr std::array<KindWords, 23> words{{
    {DocumentKind::move, "a move", "give it to `loamway plan`"},
    {DocumentKind::machine, "a machine profile", "give it as --machine"},
    {DocumentKind::low_bed, "a low-bed profile", "give it as --trailer"},
    {DocumentKind::rates, "rates", "give them as --rates"},
    {DocumentKind::recipe, "a region's recipe", "give it to `loamway region build` as --recipe"},
    {DocumentKind::limits, "a table of published limits", "give it to `loamway load` as --limits"},
    {DocumentKind::jobs, "a list of jobs", "give it to `loamway budget`"},
    {DocumentKind::season, "a season", "give it to `loamway season`"},
    {DocumentKind::plan, "a plan", "give it to `loamway sheet` or `loamway export`"},
    {DocumentKind::answer, "what a command answered", "no command reads it back"},
    {DocumentKind::places, "places (GeoJSON)", "give them as --places"},
    {DocumentKind::events, "a ledger's events", "`loamway ledger import` takes what `ledger export` wrote"},
    {DocumentKind::corrections, "corrections", "give them as --corrections"},
    {DocumentKind::table, "a table (CSV)", "a table of places is given as --places"},
    {DocumentKind::trip, "a trip", "give it to `loamway belt`"},
    {DocumentKind::extract, "an OpenStreetMap extract", "`loamway region build` makes a region of it"},
    {DocumentKind::region, "a region file", "give it as --region"},
    {DocumentKind::database, "a database (a ledger or a GeoPackage)", "a ledger is given as --ledger"},
    {DocumentKind::compressed, "a compressed file", "unpack it first"},
    {DocumentKind::archive, "an archive or a spreadsheet", "unpack it, or save the table as CSV"},
    {DocumentKind::picture, "a picture or a PDF", "give the file it was made from"},
    {DocumentKind::xml, "a file in XML", "tracks and places in GPX or KML are given as --places"},
    {DocumentKind::binary, "no text at all", "name the file that was meant"},
}};

const KindWords& words_of(DocumentKind kind) {
    const auto found =
        std::find_if(words.begin(), words.end(), [kind](const KindWords& w) { return w.kind == kind; });
    if (found == words.end())
        throw Error(ErrorKind::internal, "a kind of document without a word");
    return *found;
}

/// What a reader takes may be less, or more, than all that looks so.
std::string_view wanted_words(DocumentKind wanted) {
    switch (wanted) {
        case DocumentKind::database:
            return "a ledger";
        case DocumentKind::places:
            return "places (GeoJSON, or a table named .csv)";
        default:
            return words_of(wanted).is;
    }
}

/// Tables and tracks are taken for places by their names.
std::string what_to_do(DocumentKind seen, DocumentKind wanted) {
    if (wanted == DocumentKind::places && seen == DocumentKind::table)
        return "name it .csv";
    if (wanted == DocumentKind::places && seen == DocumentKind::xml)
        return "name it .gpx or .kml, as it is";
    return std::string(words_of(seen).to_do);
}

// ---- documents

enum class Shape : std::uint8_t { any, table, tables, word };

struct Mark {
    std::string_view key;
    Shape shape = Shape::any;
};

/// A document that has `needed` (when there is one) and any of `one_of` is of this kind. The first rule that
/// fits counts, so that a key of several kinds decides only where nothing else did.
struct KindRule {
    DocumentKind kind;
    Mark needed;
    std::span<const Mark> one_of;
};

constexpr std::array<Mark, 2> season_marks{{{"machine", Shape::tables}, {"low_bed", Shape::tables}}};
constexpr std::array<Mark, 3> job_marks{{{"start"}, {"margin_pct"}, {"what_if", Shape::tables}}};
constexpr std::array<Mark, 1> belts_marks{{{"state", Shape::tables}}};
constexpr std::array<Mark, 3> engine_marks{{{"engine_kw"}, {"steering"}, {"speed_kmh", Shape::table}}};
constexpr std::array<Mark, 8> low_bed_marks{{{"deck", Shape::table},
                                             {"ramp", Shape::table},
                                             {"outriggers", Shape::table},
                                             {"boards", Shape::table},
                                             {"chains", Shape::table},
                                             {"axles", Shape::table},
                                             {"deck_height_m"},
                                             {"max_load_kg"}}};
constexpr std::array<Mark, 3> limits_marks{
    {{"limit", Shape::tables}, {"bridge_formula", Shape::table}, {"checklist", Shape::tables}}};
constexpr std::array<Mark, 7> rates_marks{{{"labour", Shape::table},
                                           {"fuel", Shape::table},
                                           {"times", Shape::table},
                                           {"escort", Shape::table},
                                           {"shuttle", Shape::table},
                                           {"belts", Shape::table},
                                           {"low_bed", Shape::table}}};
constexpr std::array<Mark, 10> recipe_marks{{{"time_zone"},
                                             {"drives_on_right"},
                                             {"odds_factor"},
                                             {"odds_factors", Shape::table},
                                             {"permit_from_width_m"},
                                             {"escort_from_width_m"},
                                             {"daylight_from_width_m"},
                                             {"national_height_m"},
                                             {"wide_move_hours"},
                                             {"school_hours"}}};
constexpr std::array<Mark, 5> move_marks{{{"from", Shape::word},
                                          {"to", Shape::word},
                                          {"depart", Shape::word},
                                          {"conditions", Shape::table},
                                          {"belts_state", Shape::table}}};

constexpr std::array<KindRule, 9> rules{{
    {DocumentKind::season, {}, season_marks},
    {DocumentKind::jobs, {"job", Shape::tables}, job_marks},
    {DocumentKind::machine, {}, belts_marks},
    {DocumentKind::machine, {"belts", Shape::table}, engine_marks},
    {DocumentKind::low_bed, {}, low_bed_marks},
    {DocumentKind::limits, {}, limits_marks},
    {DocumentKind::recipe, {}, recipe_marks},
    {DocumentKind::move, {}, move_marks},
    {DocumentKind::rates, {}, rates_marks},
}};

bool is_tables(const Value& v) {
    const Value::Array* list = v.as_array();
    return list != nullptr && !list->empty() && list->front().as_object() != nullptr;
}

bool has(const Value& document, const Mark& mark) {
    const Value* v = document.find(mark.key);
    if (v == nullptr || v->is_null())
        return false;
    switch (mark.shape) {
        case Shape::any:
            return true;
        case Shape::table:
            return v->as_object() != nullptr;
        case Shape::tables:
            return is_tables(*v);
        case Shape::word:
            return v->as_string() != nullptr;
    }
    return false;
}

std::string shown(const Mark& mark) {
    if (mark.shape == Shape::tables)
        return fmt::format("[[{}]]", mark.key);
    return mark.shape == Shape::table ? fmt::format("[{}]", mark.key) : std::string(mark.key);
}

SeenKind kind_by_keys(const Value& document) {
    for (const KindRule& rule : rules) {
        if (!rule.needed.key.empty() && !has(document, rule.needed))
            continue;
        const auto mark = std::find_if(rule.one_of.begin(), rule.one_of.end(),
                                       [&](const Mark& m) { return has(document, m); });
        if (mark == rule.one_of.end())
            continue;
        // Of jobs, a season's or a list's: which one, its reader asks.
        if (rule.kind != DocumentKind::season && rule.kind != DocumentKind::jobs &&
            has(document, {"job", Shape::tables}))
            return {};
        const std::string first = rule.needed.key.empty() ? "" : shown(rule.needed) + " and ";
        return {rule.kind, fmt::format("it has {}{}", first, shown(*mark))};
    }
    return {};
}

/// Features with a name are places; corrections say their kind and have none.
SeenKind kind_of_features(const Value& document) {
    const Value* features = document.find("features");
    if (features == nullptr || !is_tables(*features))
        return {};
    const Value* properties = features->as_array()->front().find("properties");
    if (properties == nullptr || properties->as_object() == nullptr)
        return {};
    if (properties->find("name") != nullptr)
        return {DocumentKind::places, "its features have names"};
    if (properties->find("kind") != nullptr && properties->find("id") != nullptr)
        return {DocumentKind::corrections, "its features have id and kind"};
    return {};
}

SeenKind kind_by_schema(std::string_view schema) {
    constexpr std::string_view ours = "loamway.";
    if (!schema.starts_with(ours))
        return {};
    const std::string why = fmt::format("its schema is {}", printable(schema));
    schema.remove_prefix(ours.size());
    if (schema.starts_with("plan/"))
        return {DocumentKind::plan, why};
    if (schema.starts_with("corrections/"))
        return {DocumentKind::corrections, why};
    return {schema.starts_with("ledger.events/") ? DocumentKind::events : DocumentKind::answer, why};
}

// ---- bytes

struct Signature {
    std::size_t at;
    std::string_view bytes;
    DocumentKind kind;
};
/// With the zeros among them.
template <std::size_t N>
constexpr std::string_view bytes(const char (&text)[N]) {
    return {text, N - 1};
}
constexpr std::array<Signature, 13> signatures{{{0, bytes("LOAMRGN\n"), DocumentKind::region},
                                                {0, bytes("SQLite format 3\0"), DocumentKind::database},
                                                {4, bytes("\x0A\x09OSMHeader"), DocumentKind::extract},
                                                {0, bytes("\x1F\x8B"), DocumentKind::compressed},
                                                {0, bytes("BZh"), DocumentKind::compressed},
                                                {0,
                                                 bytes("\xFD"
                                                       "7zXZ"),
                                                 DocumentKind::compressed},
                                                {0, bytes("PK\x03\x04"), DocumentKind::archive},
                                                {0, bytes("\x89PNG"), DocumentKind::picture},
                                                {0, bytes("%PDF"), DocumentKind::picture},
                                                {0, bytes("\xFF\xD8\xFF"), DocumentKind::picture},
                                                {0, bytes("II*\0"), DocumentKind::picture},
                                                {0, bytes("MM\0*"), DocumentKind::picture},
                                                {0, bytes("\xD0\xCF\x11\xE0"), DocumentKind::archive}}};

constexpr std::size_t head_bytes = 4096;

std::string_view without_mark_and_blanks(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF"))
        text.remove_prefix(3);
    const auto first = text.find_first_not_of(" \t\r\n");
    return first == std::string_view::npos ? std::string_view() : text.substr(first);
}

bool is_json(std::string_view text) {
    return without_mark_and_blanks(text).starts_with('{');
}

/// "name;kind;lat;lon": nothing but names between separators, which no document can begin with.
std::vector<std::string_view> names_of_columns(std::string_view text) {
    std::string_view line = text.substr(0, text.find_first_of("\r\n"));
    std::vector<std::string_view> out;
    const auto separator = line.find_first_of(",;\t");
    if (separator == std::string_view::npos)
        return out;
    const char between = line[separator];
    while (true) {
        const auto end = line.find(between);
        const std::string_view name = line.substr(0, end);
        const bool plain = std::all_of(name.begin(), name.end(), [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
                   c == ' ' || c == '"';
        });
        if (!plain || name.empty())
            return {};
        out.push_back(name);
        if (end == std::string_view::npos)
            return out;
        line.remove_prefix(end + 1);
    }
}

/// "n1 v1 dV ...": OpenStreetMap's line format.
bool is_opl(std::string_view text) {
    if (text.size() < 4 || std::string_view("nwr").find(text.front()) == std::string_view::npos)
        return false;
    const auto end = text.find_first_not_of("0123456789", 1);
    return end != 1 && end != std::string_view::npos && end + 1 < text.size() && text[end] == ' ' &&
           std::string_view("vdctiuTxyNM").find(text[end + 1]) != std::string_view::npos;
}

SeenKind kind_of_lines(std::string_view text) {
    if (text.starts_with('<'))
        return {text.substr(0, head_bytes).find("<osm") != std::string_view::npos ? DocumentKind::extract
                                                                                  : DocumentKind::xml,
                {}};
    if (is_opl(text))
        return {DocumentKind::extract, {}};
    const std::vector<std::string_view> columns = names_of_columns(text);
    if (columns.empty())
        return {};
    if (std::find(columns.begin(), columns.end(), "length_km") != columns.end())
        return {DocumentKind::trip, "it has a column length_km"};
    return {DocumentKind::table,
            fmt::format("its first line is {}", printable(text.substr(0, text.find_first_of("\r\n"))))};
}

SeenKind kind_of_bytes(std::string_view text) {
    for (const Signature& s : signatures)
        if (text.size() >= s.at && text.substr(s.at).starts_with(s.bytes))
            return {s.kind, {}};
    if (text.substr(0, head_bytes).find('\0') != std::string_view::npos)
        return {DocumentKind::binary, {}};
    return kind_of_lines(without_mark_and_blanks(text));
}

bool json_alone(DocumentKind kind) {
    return kind == DocumentKind::plan || kind == DocumentKind::places || kind == DocumentKind::corrections;
}

}  // namespace

SeenKind kind_of_document(const Value& document) {
    if (const Value* schema = document.find("schema"); schema != nullptr && schema->as_string() != nullptr)
        if (SeenKind seen = kind_by_schema(*schema->as_string()); seen.kind != DocumentKind::unknown)
            return seen;
    if (const Value* type = document.find("type"); type != nullptr && type->as_string() != nullptr)
        return kind_of_features(document);
    return kind_by_keys(document);
}

SeenKind kind_of_text(std::string_view text) {
    constexpr std::size_t most_to_parse = std::size_t{1} << 20;
    SeenKind seen = kind_of_bytes(text);
    if (seen.kind != DocumentKind::unknown || text.size() > most_to_parse)
        return seen;
    try {
        return kind_of_document(is_json(text) ? parse_json(text, {}) : parse_toml(text, {}));
    } catch (const Error&) {
        return seen;
    }
}

SeenKind kind_of_file(const std::string& path) {
    // A pipe can be read once, and somebody may be waited for.
    std::error_code ec;
    if (!std::filesystem::is_regular_file(path, ec))
        return {};
    try {
        const FileBytes file(path, 0);
        return kind_of_text({reinterpret_cast<const char*>(file.bytes().data()), file.bytes().size()});
    } catch (const Error&) {
        return {};
    }
}

Error wrong_kind(const std::string& file, const SeenKind& seen, DocumentKind wanted) {
    const std::string why = seen.why.empty() ? "" : fmt::format(" ({})", seen.why);
    return {ErrorKind::input,
            fmt::format("this looks like {}{}, wanted here: {}", words_of(seen.kind).is, why,
                        wanted_words(wanted)),
            what_to_do(seen.kind, wanted),
            {file, {}, {}}};
}

void require_kind(const Value& document, const std::string& file, DocumentKind wanted) {
    require_kind(kind_of_document(document), file, wanted);
}

void require_kind(const SeenKind& seen, const std::string& file, DocumentKind wanted) {
    const bool says_nothing = seen.kind == DocumentKind::unknown || seen.kind == DocumentKind::binary;
    const bool fits = seen.kind == wanted ||
                      (wanted == DocumentKind::table && seen.kind == DocumentKind::trip) ||
                      (wanted == DocumentKind::trip && seen.kind == DocumentKind::table);
    if (!says_nothing && !fits)
        throw wrong_kind(file, seen, wanted);
}

Value parse_document(std::string_view text, const std::string& file, DocumentKind wanted, TextLimits limits) {
    if (const SeenKind seen = kind_of_bytes(text); seen.kind != DocumentKind::unknown)
        throw wrong_kind(file, seen, wanted);
    const bool json = is_json(text);
    if (json_alone(wanted) && !json) {
        require_kind(kind_of_text(text), file, wanted);
        try {
            return parse_json(text, file, limits);
        } catch (const Error& e) {
            if (e.kind() != ErrorKind::input)
                throw;
            throw Error(ErrorKind::input,
                        fmt::format("this is no JSON, wanted here: {}", wanted_words(wanted)), e.what_to_do(),
                        e.place());
        }
    }
    return json || file.ends_with(".json") ? parse_json(text, file, limits) : parse_toml(text, file, limits);
}

}  // namespace loamway
