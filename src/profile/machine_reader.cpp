// SPDX-License-Identifier: Apache-2.0
// Reads a machine document. The keys are listed in loamway/profile/machine.h beside read_machine.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <utility>

#include "default_reader.h"
#include "loading_keys.h"
#include "loamway/base/error.h"
#include "loamway/profile/machine.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

// Axle loads are weighed one after the other; more than this apart means a slip of the pen.
constexpr double axle_sum_tolerance = 0.05;
constexpr double default_kw_per_tonne = 15.0;

BeltGeometry read_belts(Table& t, std::vector<std::string>& assumed,
                        std::vector<std::string>& assumed_for_loading) {
    DefaultReader r(t, assumed);
    BeltGeometry b;
    const std::optional<std::int64_t> count = t.integer("count", {2, 8});
    if (!count)
        throw t.error_at("count", "the number of belts is missing", "add count = 2 (or 4)");
    if (*count % 2 != 0)
        throw t.error_at("count", fmt::format("{} belts cannot stand in pairs", *count), "use 2 or 4");
    b.count = static_cast<int>(*count);
    const double length_mm = t.require_number("length_mm", {1000, 20000});
    b.belt_length = Length::from_mm(length_mm);
    b.width = Length::from_mm(t.require_number("width_mm", {100, 2000}));

    const double bar_mm = r.number("bar_mm", {5, 200}, 55);
    b.bar_height = Length::from_mm(bar_mm);
    b.bar_thickness = Length::from_mm(r.number("bar_thickness_mm", {5, 200}, bar_mm));
    const double worn_mm = r.number("worn_mm", {0, 200}, 0.27 * bar_mm);
    if (worn_mm >= bar_mm)
        throw t.error_at(
            "worn_mm",
            fmt::format("worn-out bars ({} mm) are not lower than new ones ({} mm)", worn_mm, bar_mm),
            "worn_mm is the bar height at which a belt is replaced");
    b.worn_height = Length::from_mm(worn_mm);
    b.carcass = Length::from_mm(r.number("carcass_mm", {5, 100}, 30));
    b.fill = r.number("fill", {0.1, 0.9}, 0.35);
    const double run_mm = r.number("ground_run_mm", {300, 10000}, 0.28 * length_mm);
    if (run_mm * 2 >= length_mm)
        throw t.error_at("ground_run_mm",
                         fmt::format("a flat run of {} mm does not fit a belt of {} mm", run_mm, length_mm),
                         "it is the length on flat ground, below half the belt's length");
    b.ground_run = Length::from_mm(run_mm);
    b.mid_rollers = static_cast<int>(r.integer("mid_rollers", {0, 20}, 4));
    b.contact = Length::from_mm(r.number("contact_mm", {20, 500}, 150));
    b.gauge = read_gauge(t, b.width, assumed_for_loading);
    t.finish();
    return b;
}

void read_speeds(Machine& m, std::optional<Table> table, std::vector<std::string>& assumed) {
    const Value none{Value::Object{}};
    Table t = table ? std::move(*table) : Table(none, m.file, "speed_kmh");
    DefaultReader r(t, assumed);
    const Range range{1, 80};
    const double top = r.number("top", range, 40);
    const auto chosen = [&](std::string_view key, double fallback) {
        const double v = r.number(key, range, std::min(top, fallback));
        if (v > top)
            throw t.error_at(key, fmt::format("{} km/h on {} is above the top speed of {} km/h", v, key, top),
                             "lower it or raise top");
        return Speed::from_kmh(v);
    };
    m.top = Speed::from_kmh(top);
    m.hard = chosen("hard", top);
    m.gravel = chosen("gravel", 30);
    m.earth = chosen("earth", 15);
    t.finish();
}

void check_axle_sum(const Table& t, const WorkingState& s) {
    double sum_kg = 0;
    for (const Mass axle : s.axles)
        sum_kg += axle.kg();
    if (std::abs(sum_kg - s.mass.kg()) > axle_sum_tolerance * s.mass.kg())
        throw t.error_at(
            "axle_kg", fmt::format("the axle loads add up to {} kg, the mass is {} kg", sum_kg, s.mass.kg()),
            "they may differ by 5 %; what is towed on its own wheels belongs in towed_kg");
}

void read_axles(Table& t, WorkingState& s, int belts, std::vector<std::string>& assumed) {
    const auto track_axles = static_cast<std::size_t>(belts / 2);
    const auto axles_kg = t.numbers("axle_kg", {0, 200000});
    const Value* tracked = t.value("tracked");
    if (!axles_kg) {
        if (tracked != nullptr)
            throw t.error_at("tracked", "tracked is given without axle_kg", "add axle_kg = [...]");
        DefaultReader(t, assumed).left_out("axle_kg", 0);
        s.axles.assign(track_axles, s.mass / static_cast<double>(track_axles));
        s.tracked.assign(track_axles, true);
        return;
    }
    for (const double kg : *axles_kg)
        s.axles.push_back(Mass::from_kg(kg));
    check_axle_sum(t, s);
    s.tracked.assign(s.axles.size(), true);
    if (tracked != nullptr) {
        const Value::Array* list = tracked->as_array();
        const bool fits =
            list != nullptr && list->size() == s.axles.size() &&
            std::all_of(list->begin(), list->end(), [](const Value& v) { return v.as_bool() != nullptr; });
        if (!fits)
            throw t.error_at("tracked",
                             fmt::format("tracked must be a list of {} times true or false", s.axles.size()),
                             "one for each entry of axle_kg");
        for (std::size_t i = 0; i < list->size(); ++i)
            s.tracked[i] = *(*list)[i].as_bool();
    }
    const auto on_belts = static_cast<std::size_t>(std::count(s.tracked.begin(), s.tracked.end(), true));
    if (on_belts != track_axles)
        throw t.error_at(tracked != nullptr ? "tracked" : "axle_kg",
                         fmt::format("{} belts mean {} track {}, not {}", belts, track_axles,
                                     track_axles == 1 ? "axle" : "axles", on_belts),
                         "say which axles run on belts: tracked = [true, false]");
}

WorkingState read_state(Table& t, Machine& m) {
    const bool first = m.states.empty();
    WorkingState s;
    s.name = first ? t.text("name").value_or("bare") : t.require_text("name");
    if (s.name.empty())
        throw t.error_at("name", "a working state needs a name", "name = \"bare\", \"towing\", ...");
    s.mass = Mass::from_kg(t.require_number("mass_kg", {500, 200000}));
    s.width = Length::from_metres(t.require_number("width_m", {0.5, 12}));
    s.height = Length::from_metres(t.require_number("height_m", {0.5, 8}));
    s.length = Length::from_metres(t.require_number("length_m", {1, 40}));
    read_axles(t, s, m.belts.count, m.assumed);
    // Towed mass without its length (or the other way round) would be half an answer on a bend or a bridge.
    if (t.has("towed_kg") || t.has("towed_length_m")) {
        s.towed = Mass::from_kg(t.require_number("towed_kg", {0, 100000}));
        s.towed_length = Length::from_metres(t.require_number("towed_length_m", {0, 40}));
    }
    read_state_loading(t, m, s);
    t.finish();
    return s;
}

void read_states(Machine& m, Table& t) {
    for (Table& entry : t.tables("state")) {
        WorkingState s = read_state(entry, m);
        for (const WorkingState& other : m.states)
            if (other.name == s.name)
                throw entry.error_at("name", fmt::format("two working states are called \"{}\"", s.name),
                                     "give each its own name");
        m.states.push_back(std::move(s));
    }
    if (m.states.empty())
        throw t.error_at("state", "the machine has no working state",
                         "add [[state]] with mass_kg, width_m, height_m and length_m");
}

}  // namespace

Machine read_machine(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::machine);
    Table t(document, file);
    Machine m;
    m.file = file;
    DefaultReader r(t, m.assumed);
    const std::optional<std::string> name = t.text("name");
    const std::string stem = std::filesystem::path(file).stem().string();
    m.name = name ? *name : r.left_out("name", stem.empty() ? std::string("machine") : stem);

    const std::optional<bool> agricultural = t.boolean("agricultural");
    m.agricultural = agricultural ? *agricultural : r.left_out("agricultural", true);
    const auto steering = t.word("steering", {"differential", "articulated", "rear-wheel"});
    m.steering = steering ? static_cast<Steering>(*steering) : r.left_out("steering", Steering::differential);
    m.phones = t.texts("phones").value_or(std::vector<std::string>{});

    std::optional<Table> belts = t.table("belts");
    if (!belts)
        throw t.error_at("belts", "the machine has no belts",
                         "add [belts] with count, length_mm and width_mm");
    m.belts = read_belts(*belts, m.assumed, m.assumed_for_loading);
    read_speeds(m, t.table("speed_kmh"), m.assumed);
    read_loading(m, t.table("loading"));
    read_states(m, t);
    m.readings = read_readings(t);
    m.engine = Power::from_kw(
        r.number("engine_kw", {10, 2000}, default_kw_per_tonne * m.states.front().mass.tonnes()));
    t.finish();
    return m;
}

}  // namespace loamway
