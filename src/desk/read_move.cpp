// SPDX-License-Identifier: Apache-2.0
// A move document (TOML or JSON) -> MoveRequest. Values are checked here, where the line is known; names of
// places and files are looked up later, in prepare().

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/desk/desk.h"
#include "loamway/ledger/ledger.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"
#include "move_words.h"
#include "when_window.h"

namespace loamway {

namespace {

std::string folder_of(const std::string& file) {
    const auto slash = file.rfind('/');
    return slash == std::string::npos ? std::string() : file.substr(0, slash + 1);
}

/// Relative names in a move document start at the document's own folder, so that a folder of moves and
/// profiles can be carried about.
std::string located(const Table& t, std::string_view key, const std::string& folder,
                    const std::string& name) {
    try {
        require_plain_path(name);
    } catch (const Error& e) {
        throw t.error_at(key, fmt::format("{}: {}", key, e.message()), e.what_to_do());
    }
    if (name == "-")
        throw t.error_at(key, fmt::format("{} = \"-\": a move document cannot name standard input", key));
    return name.front() == '/' ? name : folder + name;
}

std::optional<std::string> file_name(Table& t, std::string_view key, const std::string& folder) {
    const std::optional<std::string> name = t.text(key);
    return name ? std::optional(located(t, key, folder, *name)) : std::nullopt;
}

/// A profile is the name of a file or the profile itself as a table.
void file_or_table(Table& t, std::string_view key, const std::string& folder,
                   std::optional<std::string>& file, std::optional<Value>& table) {
    const Value* v = t.value(key);
    if (v == nullptr || v->is_null())
        return;
    if (v->as_object() != nullptr)
        table = *v;
    else if (v->as_string() != nullptr)
        file = located(t, key, folder, *v->as_string());
    else
        throw t.error_at(key, fmt::format("{} is a {}", key, v->type_name()), "name a file or write a table");
}

std::optional<std::string> word(Table& t, std::string_view key, const std::vector<std::string_view>& words) {
    const std::optional<std::size_t> index = t.word(key, words);
    return index ? std::optional(std::string(words[*index])) : std::nullopt;
}

/// A file of the document's folder, or the address of a database.
std::optional<std::string> ledger_place(Table& t, const std::string& folder) {
    const std::optional<std::string> text = t.text("ledger");
    if (text && is_ledger_address(*text))
        return text;
    return text ? std::optional(located(t, "ledger", folder, *text)) : std::nullopt;
}

/// A time by `read`. Only the form can be checked here: the zone comes with the region.
template <class Read>
std::optional<std::string> time_text(Table& t, std::string_view key, const Read& read) {
    std::optional<std::string> text = t.text(key);
    if (!text)
        return text;
    try {
        (void)read(*text, TimeZone());
    } catch (const Error& e) {
        throw t.error_at(key, e.message(), e.what_to_do());
    }
    return text;
}

// Fifteen minutes to load it and as much to unload: assumption.
AlsoMoves read_also_moves(Table& t) {
    AlsoMoves a;
    a.name = t.require_text("name");
    const auto how = t.word("how", desk_words::ways_to_move_along());
    if (!how)
        throw t.error_at("how", "how it moves is not said", "how = \"same-deck\", \"own-trip\" or \"stays\"");
    a.how = static_cast<AlsoMoves::How>(*how);
    const auto only_with = [&](std::string_view key, AlsoMoves::How with) {
        if (t.has(key) && a.how != with)
            throw t.error_at(key, fmt::format("{} belongs to how = \"{}\"", key, name_of(with)));
    };
    for (const std::string_view key : {"mass_kg", "length_m", "load_min"})
        only_with(key, AlsoMoves::How::same_deck);
    only_with("cost", AlsoMoves::How::own_trip);
    if (a.how == AlsoMoves::How::same_deck) {
        a.mass = Mass::from_kg(t.require_number("mass_kg", desk_limits::also_kg));
        a.length = Length::from_metres(t.require_number("length_m", desk_limits::also_m));
        a.load_time = Duration::from_minutes(t.number_or("load_min", 15, desk_limits::also_min));
    }
    if (const auto cost = t.number("cost", desk_limits::also_cost))
        a.cost = Money::from_units(*cost);
    t.finish();
    return a;
}

std::optional<std::string> window(Table& t) {
    std::optional<std::string> text = t.text("when");
    if (!text)
        return text;
    try {
        (void)parse_window(*text);
    } catch (const Error& e) {
        throw t.error_at("when", e.message(), e.what_to_do());
    }
    return text;
}

std::optional<std::vector<std::string>> modes(Table& t) {
    std::optional<std::vector<std::string>> list = t.texts("modes");
    if (!list)
        return list;
    const auto words = desk_words::modes();
    for (const std::string& mode : *list)
        if (std::find(words.begin(), words.end(), mode) == words.end())
            throw t.error_at("modes", fmt::format("\"{}\" is not a mode", mode),
                             "any of drive, haul and mixed");
    if (list->empty())
        throw t.error_at("modes", "no mode is asked for", "any of drive, haul and mixed");
    return list;
}

void read_belts_state(Table t, MoveRequest& m) {
    m.belt_hours = t.number("hours", desk_limits::belt_hours);
    m.since_lube_km = t.number("since_lube_km", desk_limits::since_lube_km);
    m.bar_mm = t.number("bar_mm", desk_limits::bar_mm);
    m.preconditioned = t.boolean("preconditioned");
    if (const std::optional<bool> washed = t.boolean("washed")) {
        if (!*washed && m.belts == "washed")
            throw t.error_at("washed", "belts = \"washed\", but washed = false", "say one of the two");
        // New belts stay new when washed: not run in is the stronger word.
        if (*washed && m.belts.value_or("run-in") == "run-in")
            m.belts = "washed";
        m.washed = washed;
    }
    t.finish();
}

/// Two keys that answer the same question.
void refuse_both(const Table& t, std::string_view one, std::string_view other, std::string_view to_do) {
    if (t.has(one) && t.has(other))
        throw t.error_at(other, fmt::format("both {} and {} are given", one, other), std::string(to_do));
}

void read_air(Table& t, const std::string& folder, MoveRequest& m) {
    constexpr std::string_view to_do = "give air_c, or air_min_c and air_max_c, or air_csv";
    m.air_c = t.number("air_c", desk_limits::air_c);
    m.air_min_c = t.number("air_min_c", desk_limits::air_c);
    m.air_max_c = t.number("air_max_c", desk_limits::air_c);
    m.air_csv = file_name(t, "air_csv", folder);
    for (const std::string_view key : {"air_min_c", "air_max_c", "air_csv"})
        refuse_both(t, "air_c", key, to_do);
    for (const std::string_view key : {"air_min_c", "air_max_c"})
        refuse_both(t, "air_csv", key, to_do);
    for (const auto& [one, other] :
         {std::pair("air_min_c", "air_max_c"), std::pair("air_max_c", "air_min_c")})
        if (t.has(one) && !t.has(other))
            throw t.error_at(one, fmt::format("{} is given without {}", one, other),
                             "the day's course needs both ends");
    if (m.air_min_c && *m.air_min_c > *m.air_max_c)
        throw t.error_at("air_min_c",
                         fmt::format("air_min_c = {} is above air_max_c = {}", *m.air_min_c, *m.air_max_c));
}

void read_conditions(Table t, const std::string& folder, MoveRequest& m) {
    read_air(t, folder, m);
    m.sun = t.number("sun", desk_limits::sun);
    m.cloud = t.number("cloud", desk_limits::cloud);
    refuse_both(t, "sun", "cloud", "sun replaces what the clouds and the sun's position give");
    m.ground = word(t, "ground", desk_words::grounds());
    t.finish();
}

/// Remembers where the keys stand whose values are looked up later.
void note_lines(const Value& document, const std::string& file, MoveRequest& m) {
    for (const auto& [key, value] : *document.as_object()) {
        ErrorPlace place{file, {}, key};
        if (value.line() > 0)
            place.line = value.line();
        m.said_at.insert_or_assign(key, place);
    }
}

class Merge {
public:
    Merge(MoveRequest& base, const MoveRequest& over) : m_base(base), m_over(over) {}

    template <class T>
    void field(std::optional<T> MoveRequest::*which, const std::string& key) {
        if (!(m_over.*which))
            return;
        m_base.*which = m_over.*which;
        said_by_over(key);
    }
    /// Keys that answer one question: who says one of them says it all.
    template <class... Fields>
    void question(const std::string& key, Fields... which) {
        if (!(... || static_cast<bool>(m_over.*which)))
            return;
        ((m_base.*which = m_over.*which), ...);
        said_by_over(key);
    }
    /// A file named on one side replaces a table on the other, and the other way round.
    void profile(std::optional<std::string> MoveRequest::*file, std::optional<Value> MoveRequest::*table,
                 const std::string& key) {
        if (!(m_over.*file) && !(m_over.*table))
            return;
        m_base.*file = m_over.*file;
        m_base.*table = m_over.*table;
        said_by_over(key);
    }

private:
    void said_by_over(const std::string& key) {
        m_base.said_at.erase(key);
        if (const auto said = m_over.said_at.find(key); said != m_over.said_at.end())
            m_base.said_at.insert(*said);
    }
    MoveRequest& m_base;
    const MoveRequest& m_over;
};

}  // namespace

MoveRequest read_move(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::move);
    Table t(document, file);
    MoveRequest m;
    const std::string folder = folder_of(file);
    note_lines(document, file, m);
    m.from = t.text("from");
    m.to = t.text("to");
    file_or_table(t, "machine", folder, m.machine, m.machine_table);
    m.state = t.text("state");
    if (m.machine)
        m.machine_word = t.text("machine");
    m.ledger = ledger_place(t, folder);
    m.belts = t.text("belts");
    file_or_table(t, "trailer", folder, m.low_bed, m.low_bed_table);
    file_or_table(t, "rates", folder, m.rates, m.rates_table);
    m.region = file_name(t, "region", folder);
    m.places = file_name(t, "places", folder);
    m.corrections = file_name(t, "corrections", folder);
    m.depart = time_text(t, "depart", parse_departure);
    m.haul_from = time_text(t, "haul_from", parse_time);
    m.loading_places = t.texts("loading_places");
    m.when = window(t);
    m.detour_cap = t.number("detour_cap", desk_limits::detour_cap);
    m.snap_limit_km = t.number("snap_km", desk_limits::snap_km);
    m.modes = modes(t);
    if (const auto k = t.integer("front_point", desk_limits::front_point))
        m.front_point = static_cast<int>(*k);
    m.units = word(t, "units", desk_words::units());
    m.basis = word(t, "basis", desk_words::bases());
    if (const auto n = t.integer("trials", desk_limits::trials))
        m.trials = static_cast<int>(*n);
    m.seed = t.integer("seed", desk_limits::seed);
    m.return_trip = t.boolean("return_trip");
    if (std::optional<Table> conditions = t.table("conditions"))
        read_conditions(std::move(*conditions), folder, m);
    if (std::optional<Table> belts = t.table("belts_state"))
        read_belts_state(std::move(*belts), m);
    m.readings = read_readings(t);
    for (Table& entry : t.tables("what_else_moves"))
        m.also_moves.push_back(read_also_moves(entry));
    t.finish();
    return m;
}

MoveRequest merge(MoveRequest base, const MoveRequest& over) {
    using M = MoveRequest;
    Merge merge(base, over);
    merge.profile(&M::machine, &M::machine_table, "machine");
    if (over.machine || over.machine_table)
        base.machine_word = over.machine_word;
    merge.profile(&M::low_bed, &M::low_bed_table, "trailer");
    merge.profile(&M::rates, &M::rates_table, "rates");
    merge.field(&M::from, "from");
    merge.field(&M::to, "to");
    merge.field(&M::state, "state");
    merge.field(&M::belts, "belts");
    merge.field(&M::depart, "depart");
    merge.field(&M::when, "when");
    merge.field(&M::haul_from, "haul_from");
    merge.field(&M::loading_places, "loading_places");
    merge.field(&M::units, "units");
    merge.field(&M::basis, "basis");
    merge.field(&M::trials, "trials");
    merge.field(&M::seed, "seed");
    merge.field(&M::return_trip, "return_trip");
    merge.field(&M::places, "places");
    merge.field(&M::corrections, "corrections");
    merge.field(&M::region, "region");
    merge.field(&M::ledger, "ledger");
    merge.field(&M::detour_cap, "detour_cap");
    merge.field(&M::snap_limit_km, "snap_km");
    merge.field(&M::modes, "modes");
    merge.field(&M::front_point, "front_point");
    merge.question("conditions", &M::air_c, &M::air_min_c, &M::air_max_c, &M::air_csv);
    merge.question("conditions", &M::sun, &M::cloud);
    merge.field(&M::ground, "conditions");
    merge.field(&M::since_lube_km, "belts_state");
    merge.field(&M::belt_hours, "belts_state");
    merge.field(&M::bar_mm, "belts_state");
    merge.field(&M::preconditioned, "belts_state");
    merge.field(&M::washed, "belts_state");
    base.readings.insert(base.readings.end(), over.readings.begin(), over.readings.end());
    base.also_moves.insert(base.also_moves.end(), over.also_moves.begin(), over.also_moves.end());
    return base;
}

}  // namespace loamway
