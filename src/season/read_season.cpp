// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/season/season_list.h"
#include "loamway/season/season_problem.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"
#include "move_part.h"

namespace loamway {

namespace {

constexpr std::array<std::string_view, 9> own_keys{
    "title", "work_hours", "return_to_base", "field_load", "machine", "low_bed", "job", "fix", "exclude"};
constexpr std::array<std::string_view, 6> machine_keys{"name", "base",           "stands",
                                                       "free", "return_to_base", "ha_per_h"};
constexpr std::array<std::string_view, 3> low_bed_keys{"name", "base", "free"};
constexpr std::array<std::string_view, 10> not_for_all{
    "from",    "to",    "when",       "front_point", "return_trip", "haul_from", "what_else_moves",
    "trailer", "state", "belts_state"};
constexpr std::array<std::string_view, 5> of_a_machine{"machine", "state", "belts", "belts_state", "reading"};
constexpr std::array<std::string_view, 1> of_a_low_bed{"trailer"};
constexpr std::size_t most_jobs = 300, most_rules = 500;
const Range share_of_power{0.05, 1.0};

std::optional<SaidTime> said_time(Table& t, std::string_view key) {
    const std::optional<std::string> text = t.text(key);
    if (!text)
        return std::nullopt;
    try {
        (void)parse_time(text->size() == 10 ? *text + "T00:00" : *text, TimeZone());
    } catch (const Error& e) {
        throw t.error_at(key, e.message(), "write 2026-07-14 or 2026-07-14T10:00");
    }
    return SaidTime{*text, t.error_at(key, {}).place()};
}

/// The keys of a table that a move has too. Whatever else is in it must be one of its own.
MoveRequest move_of(const Value& value, const std::string& file, std::span<const std::string_view> own,
                    std::span<const std::string_view> of_move, const std::string& path) {
    Value part{Value::Object{}};
    part.set_line(value.line());
    std::vector<std::string_view> known(own.begin(), own.end());
    known.insert(known.end(), of_move.begin(), of_move.end());
    for (const auto& [key, member] : *value.as_object()) {
        if (std::find(of_move.begin(), of_move.end(), key) != of_move.end()) {
            part.set(key, member);
        } else if (std::find(own.begin(), own.end(), key) == own.end()) {
            const std::string near = nearest_name(key, known);
            throw Error(ErrorKind::input, fmt::format("unknown key \"{}\" in {}", printable(key), path),
                        near.empty() ? "see README" : fmt::format("did you mean \"{}\"?", near),
                        {file, member.line() > 0 ? std::optional(member.line()) : std::nullopt, key});
        }
    }
    return read_move(part, file);
}

/// Tables of a list, each with its value beside it.
std::vector<std::pair<Table, const Value*>> entries(Table& t, const Value& document, std::string_view key) {
    std::vector<std::pair<Table, const Value*>> out;
    std::vector<Table> tables = t.tables(key);
    const Value* list = document.find(key);
    for (std::size_t i = 0; i < tables.size(); ++i)
        out.emplace_back(std::move(tables[i]), &(*list->as_array())[i]);
    return out;
}

template <class Listed>
void require_new_name(const std::vector<Listed>& all, const std::string& name, const Table& t) {
    for (const Listed& other : all)
        if (other.name == name)
            throw t.error_at("name", fmt::format("there are two of the name \"{}\"", printable(name)),
                             "fix, exclude and machines go by names");
}

ListedMachine read_machine(Table t, const Value& value, const std::string& file, bool returns) {
    ListedMachine m;
    m.name = t.require_text("name");
    m.base = t.require_text("base");
    m.base_at = t.error_at("base", {}).place();
    m.stands = t.text("stands").value_or("");
    m.stands_at = t.error_at("stands", {}).place();
    m.free = said_time(t, "free");
    m.returns = t.boolean("return_to_base").value_or(returns);
    m.ha_per_h = t.number("ha_per_h", {0.01, 1000});
    m.move = move_of(value, file, machine_keys, of_a_machine, t.path());
    if (!m.move.machine && !m.move.machine_table)
        throw t.error_at("machine", "nobody says what machine it is",
                         "machine = a profile, or a machine of the ledger");
    return m;
}

ListedLowBed read_low_bed_entry(Table t, const Value& value, const std::string& file) {
    ListedLowBed b;
    b.name = t.require_text("name");
    b.base = t.require_text("base");
    b.base_at = t.error_at("base", {}).place();
    b.free = said_time(t, "free");
    b.move = move_of(value, file, low_bed_keys, of_a_low_bed, t.path());
    return b;
}

/// The number of what carries a name.
template <class Named>
std::size_t number_of(const Table& t, std::string_view key, const std::string& name, const Named& names) {
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == name)
            return i;
    const std::vector<std::string_view> views(names.begin(), names.end());
    const std::string near = nearest_name(name, views);
    throw t.error_at(
        key, fmt::format("there is no {} \"{}\"", key == "machines" ? "machine" : key, printable(name)),
        near.empty() ? "name one of the season's" : fmt::format("did you mean \"{}\"?", near));
}

struct Names {
    std::vector<std::string> machines, low_beds, jobs;
};

ListedJob read_job(Table t, FieldJob usual, const Names& names) {
    ListedJob j;
    j.field = std::move(usual);
    j.field.name = t.require_text("name");
    j.field.field = t.require_text("field");
    j.field.field_at = t.error_at("field", {}).place();
    j.hours = t.number("hours", {0, 5000});
    j.field.hectares = t.number("hectares", {0, 100000});
    j.ha_per_h = t.number("ha_per_h", {0.01, 1000});
    if (j.hours && j.ha_per_h)
        throw t.error_at("ha_per_h", "both hours and ha_per_h are given", "hours say it all");
    if (j.ha_per_h && !j.field.hectares)
        throw t.error_at("ha_per_h", "ha_per_h without hectares", "give the hectares too");
    if (!j.hours && !j.field.hectares)
        throw t.error_at("hours", "nobody says how much work the job is", "give hours or hectares");
    j.earliest = said_time(t, "earliest");
    j.latest = said_time(t, "latest");
    j.field.state = t.text("state");
    j.field.load_assumed = j.field.load_assumed && !t.has("field_load");
    j.field.load = t.number_or("field_load", j.field.load, share_of_power);
    if (const auto litres = t.number("field_l_per_h", {0, 500}))
        j.field.fuel_per_h = Volume::from_litres(*litres);
    for (const std::string& name : t.texts("machines").value_or(std::vector<std::string>()))
        j.machines.push_back(number_of(t, "machines", name, names.machines));
    t.finish();
    return j;
}

void require_rates_of_work(const SeasonList& list, const ListedJob& j, const Table& t) {
    if (j.hours || j.ha_per_h)
        return;
    for (std::size_t m = 0; m < list.machines.size(); ++m) {
        const bool can =
            j.machines.empty() || std::find(j.machines.begin(), j.machines.end(), m) != j.machines.end();
        if (can && !list.machines[m].ha_per_h)
            throw t.error_at("hectares",
                             fmt::format("nobody says how many hectares an hour \"{}\" does",
                                         printable(list.machines[m].name)),
                             "give ha_per_h here or at the machine");
    }
}

SeasonRule read_rule(Table t, const Names& names, bool fix) {
    SeasonRule r;
    if (const auto job = t.text("job"))
        r.job = number_of(t, "job", *job, names.jobs);
    if (const auto machine = t.text("machine"))
        r.machine = number_of(t, "machine", *machine, names.machines);
    if (const auto bed = t.text("low_bed"))
        r.low_bed = number_of(t, "low_bed", *bed, names.low_beds);
    constexpr std::array<Mode, 3> modes{Mode::drive, Mode::haul, Mode::mixed};
    if (const auto mode = t.word("mode", {"drive", "haul", "mixed"}))
        r.mode = modes[*mode];
    if (fix)
        if (const auto position = t.word("position", {"first", "last"}))
            r.position = *position == 0 ? Position::first : Position::last;
    if (fix && !r.job)
        throw t.error_at("job", "a fix names no job", "job = and what is fixed about it");
    if (r.low_bed && r.mode == Mode::drive)
        throw t.error_at("low_bed", "nothing is driven on a low-bed", "leave out one of low_bed and mode");
    if (!r.machine && !r.low_bed && !r.mode && r.position == Position::any)
        throw t.error_at("machine", fix ? "nothing is fixed" : "nothing is excluded",
                         fix ? "machine, position, mode or low_bed" : "a machine, a low_bed or a mode");
    t.finish();
    return r;
}

void require_few(const SeasonList& list, const std::string& file) {
    if (list.jobs.size() > most_jobs || list.machines.size() > std::size_t{most_machines} ||
        list.low_beds.size() > std::size_t{most_low_beds} ||
        list.fixes.size() + list.exclusions.size() > most_rules)
        throw Error(
            ErrorKind::limit,
            fmt::format("{} jobs, {} machines, {} low-beds, {} rules", list.jobs.size(), list.machines.size(),
                        list.low_beds.size(), list.fixes.size() + list.exclusions.size()),
            fmt::format("at most {}, {}, {} and {}", most_jobs, most_machines, most_low_beds, most_rules),
            {file, {}, {}});
}

}  // namespace

SeasonList read_season(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::season);
    Table t(document, file);
    SeasonList list;
    list.file = file;
    list.title = t.text("title").value_or("");
    list.move = read_move_part(move_part(document, file, own_keys, not_for_all, "a season",
                                         "machines, low-beds and jobs say it each for itself"),
                               file, own_keys);
    read_work_hours(t, list.day_from_min, list.day_to_min);
    const bool returns = t.boolean("return_to_base").value_or(true);
    FieldJob usual;
    usual.load_assumed = !t.has("field_load");
    usual.load = t.number_or("field_load", usual.load, share_of_power);
    Names names;
    for (auto& [table, value] : entries(t, document, "machine")) {
        ListedMachine m = read_machine(table, *value, file, returns);
        require_new_name(list.machines, m.name, table);
        names.machines.push_back(m.name);
        list.machines.push_back(std::move(m));
    }
    for (auto& [table, value] : entries(t, document, "low_bed")) {
        ListedLowBed b = read_low_bed_entry(table, *value, file);
        require_new_name(list.low_beds, b.name, table);
        names.low_beds.push_back(b.name);
        list.low_beds.push_back(std::move(b));
    }
    for (Table& table : t.tables("job")) {
        ListedJob j = read_job(table, usual, names);
        require_rates_of_work(list, j, table);
        if (std::find(names.jobs.begin(), names.jobs.end(), j.field.name) != names.jobs.end())
            throw table.error_at("name", fmt::format("there are two jobs \"{}\"", printable(j.field.name)),
                                 "fix and exclude go by names");
        names.jobs.push_back(j.field.name);
        list.jobs.push_back(std::move(j));
    }
    if (list.machines.empty())
        throw t.error_at("machine", "there are no machines",
                         "write a [[machine]] with name, base and machine");
    if (list.jobs.empty())
        throw t.error_at("job", "there are no jobs", "write a [[job]] with name, field and hours");
    for (Table& table : t.tables("fix"))
        list.fixes.push_back(read_rule(std::move(table), names, true));
    for (Table& table : t.tables("exclude"))
        list.exclusions.push_back(read_rule(std::move(table), names, false));
    require_few(list, file);
    return list;
}

}  // namespace loamway
