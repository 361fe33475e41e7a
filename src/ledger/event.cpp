// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/event.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

constexpr std::array<std::pair<EventKind, std::string_view>, 16> kind_names{{
    {EventKind::machine_added, "machine_added"},
    {EventKind::belts_added, "belts_added"},
    {EventKind::fitted, "fitted"},
    {EventKind::removed, "removed"},
    {EventKind::swapped, "swapped"},
    {EventKind::rotated, "rotated"},
    {EventKind::moved, "moved"},
    {EventKind::field_work, "field_work"},
    {EventKind::lubricated, "lubricated"},
    {EventKind::washed, "washed"},
    {EventKind::reading, "reading"},
    {EventKind::heights, "heights"},
    {EventKind::condition, "condition"},
    {EventKind::fault, "fault"},
    {EventKind::cost, "cost"},
    {EventKind::undone, "undone"},
}};

constexpr std::size_t longest_name = 200;
constexpr std::size_t longest_text = 4000;
constexpr std::size_t most_bars = 1000;

const Range metres{0, 1e7};
const Range kilometres{0, 1e5};
const Range hours{0, 1e5};
const Range degrees_c{-60, 400};
const Range money{-1e9, 1e9};

// Machines that move and belts that wear: which names an event of each kind must have.
bool needs_machine(EventKind k) {
    return k == EventKind::machine_added || k == EventKind::fitted;
}
bool needs_belts(EventKind k) {
    switch (k) {
        case EventKind::belts_added:
        case EventKind::fitted:
        case EventKind::removed:
        case EventKind::swapped:
        case EventKind::rotated:
        case EventKind::heights:
        case EventKind::condition:
            return true;
        default:
            return false;
    }
}

void check_name(const std::string& name, std::string_view what, const std::string& document) {
    if (name.size() > longest_name || printable(name) != name)
        throw Error(ErrorKind::input,
                    fmt::format("the name of the {} \"{}\" cannot be kept", what, printable(name)),
                    fmt::format("at most {} bytes, no control characters", longest_name), {document, {}, {}});
}

std::string short_text(Table& t, std::string_view key) {
    std::string text = t.text(key).value_or("");
    if (text.size() > longest_text)
        throw t.error_at(key, fmt::format("{} is longer than {} bytes", key, longest_text), "shorten it");
    return text;
}

std::string known_word(Table& t, std::string_view key, const std::vector<std::string_view>& words,
                       std::string_view otherwise) {
    const auto index = t.word(key, words);
    return std::string(index ? words[*index] : otherwise);
}

void note_only(const Value& data, const std::string& document, bool needed) {
    Table t(data, document, "data");
    const std::string text = short_text(t, "note");
    if (needed && text.empty())
        throw t.error_at("note", "a fault without words", "say what was seen");
    t.finish();
}

void profile_only(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    if (!t.table("profile"))
        throw t.error_at("profile", "the machine has no profile", "give a machine profile");
    t.finish();
}

}  // namespace

std::string_view name_of(EventKind k) {
    for (const auto& [kind, name] : kind_names)
        if (kind == k)
            return name;
    return "unknown";
}

std::string event_words(EventKind k) {
    if (k == EventKind::lubricated)
        return "powdered";
    std::string words(name_of(k));
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

const std::vector<std::string_view>& removal_causes() {
    static const std::vector<std::string_view> causes{
        "worn", "guide_lugs", "cord", "cut", "delaminated", "other_damage", "sold", "season", "other"};
    return causes;
}

double HeightSurvey::mean_mm() const {
    return std::accumulate(mm.begin(), mm.end(), 0.0) / static_cast<double>(mm.size());
}

BeltsAdded read_belts_added(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    BeltsAdded b;
    b.hours = t.number_or("hours", 0, hours);
    b.new_bar_mm = t.require_number("new_bar_mm", {5, 200});
    b.worn_mm = t.require_number("worn_mm", {0, 199});
    if (b.worn_mm >= b.new_bar_mm)
        throw t.error_at("worn_mm", "worn_mm is not below new_bar_mm",
                         "height at which the belts are replaced");
    b.price = t.number_or("price", 0, {0, 1e9});
    b.currency = short_text(t, "currency");
    b.run_in = t.boolean("run_in").value_or(false);
    b.note = short_text(t, "note");
    t.finish();
    return b;
}

BeltsRemoved read_belts_removed(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    BeltsRemoved r;
    r.cause = known_word(t, "cause", removal_causes(), "other");
    r.note = short_text(t, "note");
    t.finish();
    return r;
}

MoveDone read_move_done(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    MoveDone m;
    m.hard_m = t.number_or("hard_m", 0, metres);
    m.gravel_m = t.number_or("gravel_m", 0, metres);
    m.earth_m = t.number_or("earth_m", 0, metres);
    // Without a plan speed and temperature are not known: each kilometre counts as one.
    m.hard_weighted_km = t.number_or("hard_weighted_km", m.hard_m / 1000, kilometres);
    m.gravel_weighted_km = t.number_or("gravel_weighted_km", m.gravel_m / 1000, kilometres);
    m.earth_weighted_km = t.number_or("earth_weighted_km", m.earth_m / 1000, kilometres);
    m.sharp_turns = t.number_or("sharp_turns", 0, {0, 1e5});
    m.hours = t.number_or("hours", 0, hours);
    m.since_relube_m = t.number_or("since_relube_m", m.length_m(), metres);
    m.lubricated = t.boolean("lubricated").value_or(false);
    m.bar_peak_c = t.number("bar_peak_c", degrees_c);
    m.bar_high_c = t.number("bar_high_c", degrees_c);
    m.guide_lug_peak_c = t.number("guide_lug_peak_c", degrees_c);
    m.limit_c = t.number("limit_c", degrees_c);
    m.wear_mm = t.number("wear_mm", {0, 200});
    m.fuel_l = t.number("fuel_l", {0, 1e6});
    m.cost = t.number("cost", money);
    m.from = short_text(t, "from");
    m.to = short_text(t, "to");
    m.planned_m = t.number("planned_m", metres);
    m.planned_hours = t.number("planned_hours", hours);
    if (const auto departed = t.text("departed"))
        m.departed = parse_time(*departed, TimeZone());
    t.finish();
    return m;
}

Value to_value(const MoveDone& m) {
    Value v{Value::Object{}};
    const auto number = [&v](const char* key, double x) { v.set(key, x); };
    const auto maybe = [&v](const char* key, const std::optional<double>& x) {
        if (x)
            v.set(key, *x);
    };
    number("hard_m", m.hard_m);
    number("gravel_m", m.gravel_m);
    number("earth_m", m.earth_m);
    number("hard_weighted_km", m.hard_weighted_km);
    number("gravel_weighted_km", m.gravel_weighted_km);
    number("earth_weighted_km", m.earth_weighted_km);
    number("sharp_turns", m.sharp_turns);
    number("hours", m.hours);
    number("since_relube_m", m.since_relube_m);
    v.set("lubricated", m.lubricated);
    maybe("bar_peak_c", m.bar_peak_c);
    maybe("bar_high_c", m.bar_high_c);
    maybe("guide_lug_peak_c", m.guide_lug_peak_c);
    maybe("limit_c", m.limit_c);
    maybe("wear_mm", m.wear_mm);
    maybe("fuel_l", m.fuel_l);
    maybe("cost", m.cost);
    v.set("from", m.from);
    v.set("to", m.to);
    maybe("planned_m", m.planned_m);
    maybe("planned_hours", m.planned_hours);
    if (m.departed)
        v.set("departed", format_rfc3339(*m.departed, TimeZone()));
    return v;
}

FieldWork read_field_work(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    FieldWork f;
    f.hours = t.require_number("hours", {0, 10000});
    f.hectares = t.number_or("hectares", 0, {0, 1e6});
    t.finish();
    return f;
}

HeightSurvey read_height_survey(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    HeightSurvey h;
    h.mm = t.numbers("mm", {0, 200}).value_or(std::vector<double>{});
    if (h.mm.empty() || h.mm.size() > most_bars)
        throw t.error_at("mm", fmt::format("{} heights in a survey", h.mm.size()),
                         fmt::format("1 to {}, one a bar; ten bars or more teach something", most_bars));
    t.finish();
    return h;
}

BeltCondition read_belt_condition(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    BeltCondition c;
    c.guide_lugs_lost = static_cast<int>(t.integer("guide_lugs_lost", {0, 1000}).value_or(0));
    c.edge_cuts = static_cast<int>(t.integer("edge_cuts", {0, 1000}).value_or(0));
    c.chunking = t.boolean("chunking").value_or(false);
    c.cord_visible = t.boolean("cord_visible").value_or(false);
    c.note = short_text(t, "note");
    t.finish();
    return c;
}

ReadingNote read_reading_note(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    ReadingNote h;
    h.reading_c = t.require_number("reading_c", degrees_c);
    h.after_stop_min = t.require_number("after_stop_min", {0, 600});
    h.length_km = t.require_number("length_km", {0.1, 500});
    h.speed_kmh = t.require_number("speed_kmh", {1, 80});
    h.air_c = t.require_number("air_c", {-50, 60});
    h.sun = t.number_or("sun", 0.5, {0, 1});
    h.surface = known_word(t, "surface", {"asphalt", "concrete", "gravel", "earth", "field"}, "asphalt");
    h.place = known_word(t, "place", {"flank", "tip"}, "flank");
    h.state = short_text(t, "state");
    h.bar_mm = t.number("bar_mm", {1, 200});
    h.sd_c = t.number_or("sd_c", 2.0, {0.1, 50});
    t.finish();
    return h;
}

CostNote read_cost_note(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    CostNote c;
    c.amount = t.require_number("amount", money);
    c.currency = short_text(t, "currency");
    c.what = short_text(t, "what");
    t.finish();
    return c;
}

std::int64_t read_undone_id(const Value& data, const std::string& document) {
    Table t(data, document, "data");
    const auto id = t.integer("event", {1, 9e15});
    if (!id)
        throw t.error_at("event", "nothing is undone", "give the number of the event");
    (void)short_text(t, "note");
    t.finish();
    return *id;
}

namespace {

void check_data(EventKind kind, const Value& data, const std::string& document) {
    switch (kind) {
        case EventKind::machine_added:
            return profile_only(data, document);
        case EventKind::belts_added:
            return (void)read_belts_added(data, document);
        case EventKind::removed:
            return (void)read_belts_removed(data, document);
        case EventKind::moved:
            return (void)read_move_done(data, document);
        case EventKind::field_work:
            return (void)read_field_work(data, document);
        case EventKind::reading:
            return (void)read_reading_note(data, document);
        case EventKind::heights:
            return (void)read_height_survey(data, document);
        case EventKind::condition:
            return (void)read_belt_condition(data, document);
        case EventKind::fault:
            return note_only(data, document, true);
        case EventKind::cost:
            return (void)read_cost_note(data, document);
        case EventKind::undone:
            return (void)read_undone_id(data, document);
        case EventKind::fitted:
        case EventKind::swapped:
        case EventKind::rotated:
        case EventKind::lubricated:
        case EventKind::washed:
            return note_only(data, document, false);
    }
    throw Error(ErrorKind::damaged,
                fmt::format("an event of kind {}, which nobody knows", static_cast<int>(kind)),
                "use a newer program, or bring back a copy", {document, {}, {}});
}

}  // namespace

void check_event(const Event& e, const std::string& document) {
    check_name(e.machine, "machine", document);
    check_name(e.belts, "belts", document);
    check_name(e.by, "person", document);
    check_name(e.token, "token", document);
    const auto without = [&](std::string_view what) {
        return Error(ErrorKind::input, fmt::format("{} names no {}", event_words(e.kind), what), {},
                     {document, {}, {}});
    };
    if (needs_machine(e.kind) && e.machine.empty())
        throw without("machine");
    if (needs_belts(e.kind) && e.belts.empty())
        throw without("belts");
    if (e.machine.empty() && e.belts.empty() && e.kind != EventKind::undone)
        throw without("machine or belts");
    check_data(e.kind, e.data, document);
}

Value Event::to_value() const {
    const TimeZone utc;
    Value v;
    v.set("id", id);
    v.set("at", format_rfc3339(at, utc));
    v.set("noted", format_rfc3339(noted, utc));
    v.set("kind", name_of(kind));
    v.set("machine", machine);
    v.set("belts", belts);
    v.set("by", by);
    v.set("token", token);
    v.set("data", data);
    return v;
}

Event event_from_value(const Value& value, const std::string& document) {
    Table t(value, document);
    const TimeZone utc;
    Event e;
    e.id = t.integer("id", {0, 9e15}).value_or(0);
    e.at = parse_time(t.require_text("at"), utc);
    const auto noted = t.text("noted");
    e.noted = noted ? parse_time(*noted, utc) : e.at;
    std::vector<std::string_view> names;
    for (const auto& [kind, name] : kind_names)
        names.push_back(name);
    const auto kind = t.word("kind", names);
    if (!kind)
        throw t.error_at("kind", "an event without kind");
    e.kind = kind_names[*kind].first;
    e.machine = t.text("machine").value_or("");
    e.belts = t.text("belts").value_or("");
    e.by = t.text("by").value_or("");
    e.token = t.text("token").value_or("");
    if (const Value* data = t.value("data"); data != nullptr && !data->is_null())
        e.data = *data;
    else
        e.data = Value(Value::Object{});
    t.finish();
    check_event(e, document);
    return e;
}

}  // namespace loamway
