// SPDX-License-Identifier: Apache-2.0
// A tally as it is kept in the store. Doubles are written so that they read back to the same.
#include <fmt/format.h>

#include "belt_tally.h"
#include "loamway/base/error.h"

namespace loamway {

namespace {

using Object = Value::Object;
using Array = Value::Array;

Value maybe(const std::optional<double>& v) {
    return v ? Value(*v) : Value();
}
Value list(const WearVector& v) {
    return Array(v.begin(), v.end());
}

/// Reads members back; anything missing or of another type is damage.
class Kept {
public:
    explicit Kept(const Value& value) : m_value(&value) {}
    [[nodiscard]] Kept at(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr ? Kept(*v) : throw damaged(key);
    }
    [[nodiscard]] double number(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr && v->is_number() ? v->number() : throw damaged(key);
    }
    [[nodiscard]] std::optional<double> maybe_number(const char* key) const {
        const Value* v = m_value->find(key);
        return v == nullptr || v->is_null() ? std::nullopt : std::optional(number(key));
    }
    [[nodiscard]] std::int64_t whole(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr && v->as_integer() != nullptr ? *v->as_integer() : throw damaged(key);
    }
    [[nodiscard]] int small(const char* key) const { return static_cast<int>(whole(key)); }
    [[nodiscard]] bool truth(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr && v->as_bool() != nullptr ? *v->as_bool() : throw damaged(key);
    }
    [[nodiscard]] std::string text(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr && v->as_string() != nullptr ? *v->as_string() : throw damaged(key);
    }
    [[nodiscard]] const Array& array(const char* key) const {
        const Value* v = m_value->find(key);
        return v != nullptr && v->as_array() != nullptr ? *v->as_array() : throw damaged(key);
    }
    [[nodiscard]] WearVector vector(const char* key) const {
        const Array& all = array(key);
        WearVector out{};
        if (all.size() != out.size())
            throw damaged(key);
        for (std::size_t i = 0; i < out.size(); ++i)
            out[i] = all[i].is_number() ? all[i].number() : throw damaged(key);
        return out;
    }
    [[nodiscard]] const Value& value() const { return *m_value; }

private:
    static Error damaged(const char* key) {
        return {ErrorKind::damaged, fmt::format("a kept state of belts has no right {}", key),
                "bring back a copy of the ledger, or export and import its events"};
    }
    const Value* m_value;
};

Value hot_json(const HotMove& m) {
    return Object{{"event", m.event},
                  {"at", m.at.unix_seconds},
                  {"peak", m.bar_peak_c},
                  {"high", maybe(m.bar_high_c)},
                  {"limit", maybe(m.limit_c)},
                  {"from", m.from},
                  {"to", m.to}};
}
HotMove hot_move(const Kept& k) {
    return {k.whole("event"),        {k.whole("at")}, k.number("peak"), k.maybe_number("high"),
            k.maybe_number("limit"), k.text("from"),  k.text("to")};
}

Value survey_json(const Survey& s) {
    return Object{{"event", s.event},
                  {"at", s.at.unix_seconds},
                  {"hours", s.hours},
                  {"mm", s.mean_mm},
                  {"bars", s.bars}};
}

Value reading_json(const BeltReading& r) {
    const ReadingNote& n = r.note;
    Value note = Object{{"reading_c", n.reading_c}, {"after_stop_min", n.after_stop_min},
                        {"length_km", n.length_km}, {"speed_kmh", n.speed_kmh},
                        {"air_c", n.air_c},         {"sun", n.sun},
                        {"surface", n.surface},     {"place", n.place},
                        {"state", n.state},         {"sd_c", n.sd_c}};
    if (n.bar_mm)
        note.set("bar_mm", *n.bar_mm);
    return Object{{"event", r.event},
                  {"at", r.at.unix_seconds},
                  {"note", note},
                  {"last_mm", r.last_known_mm},
                  {"driven", list(r.driven_since)}};
}

template <class T, class Json>
Array all_of(const std::vector<T>& items, const Json& json) {
    Array out;
    for (const T& item : items)
        out.push_back(json(item));
    return out;
}

Value condition_json(const BeltCondition& c) {
    return Object{{"lugs", c.guide_lugs_lost},
                  {"cuts", c.edge_cuts},
                  {"chunking", c.chunking},
                  {"cord", c.cord_visible},
                  {"note", c.note}};
}

Value turn_json(const std::optional<BeltTurn>& t) {
    if (!t)
        return {};
    return Object{
        {"event", t->event}, {"at", t->at.unix_seconds}, {"rotated", t->kind == EventKind::rotated}};
}

std::optional<BeltTurn> read_turn(const Kept& k) {
    if (k.value().is_null())
        return std::nullopt;
    return BeltTurn{
        k.whole("event"), {k.whole("at")}, k.truth("rotated") ? EventKind::rotated : EventKind::swapped};
}

Value added_json(const BeltsAdded& a) {
    return Object{{"hours", a.hours},  {"new_mm", a.new_bar_mm}, {"worn_mm", a.worn_mm},
                  {"price", a.price},  {"currency", a.currency}, {"note", a.note},
                  {"run_in", a.run_in}};
}

void read_lists(const Kept& k, BeltRecord& r) {
    for (const Value& v : k.array("hottest"))
        r.hottest.push_back(hot_move(Kept(v)));
    for (const Value& v : k.array("surveys")) {
        const Kept s(v);
        r.surveys.push_back(
            {s.whole("event"), {s.whole("at")}, s.number("hours"), s.number("mm"), s.small("bars")});
    }
    for (const Value& v : k.array("readings")) {
        const Kept s(v);
        r.readings.push_back({s.whole("event"),
                              {s.whole("at")},
                              read_reading_note(s.at("note").value(), "kept state"),
                              s.number("last_mm"),
                              s.vector("driven")});
    }
    for (const Value& v : k.array("intervals")) {
        const Kept s(v);
        r.intervals.push_back({s.vector("driven"), s.number("drop_mm"), s.small("bars")});
    }
    for (const Value& v : k.array("faults"))
        r.faults.push_back(v.as_string() != nullptr ? *v.as_string() : std::string());
}

}  // namespace

Value BeltTally::to_value() const {
    const BeltRecord& r = m_r;
    return Object{
        {"was_added", m_was_added},
        {"worked_powdered", m_worked_powdered},
        {"machine", r.machine},
        {"since", r.since ? Value(r.since->unix_seconds) : Value()},
        {"added", added_json(r.added)},
        {"hours", r.hours},
        {"field_hours", r.field_hours},
        {"road_hours", r.road_hours},
        {"km", Array{r.hard_km, r.gravel_km, r.earth_km}},
        {"moves", r.moves},
        {"run_in", r.run_in},
        {"washed", r.washed},
        {"lubricated_once", r.lubricated_once},
        {"since_lube_km", maybe(r.since_lube_km)},
        {"last_turn", turn_json(r.last_turn)},
        {"hottest", all_of(r.hottest, hot_json)},
        {"surveys", all_of(r.surveys, survey_json)},
        {"readings", all_of(r.readings, reading_json)},
        {"costs", r.costs},
        {"condition", condition_json(r.condition)},
        {"faults", Array(r.faults.begin(), r.faults.end())},
        {"removed_for", r.removed_for},
        {"intervals",
         all_of(
             r.intervals,
             [](const WearInterval& i) {
                 return Value(Object{{"driven", list(i.driven)}, {"drop_mm", i.drop_mm}, {"bars", i.bars}});
             })},
        {"driven_since", list(r.driven_since_survey)},
        {"driven", list(r.driven)},
    };
}

BeltTally BeltTally::from_value(const Value& value, const std::string& belts) {
    const Kept k(value);
    BeltTally out(belts);
    BeltRecord& r = out.m_r;
    out.m_was_added = k.truth("was_added");
    out.m_worked_powdered = k.number("worked_powdered");
    r.machine = k.text("machine");
    if (!k.at("since").value().is_null())
        r.since = Instant{k.whole("since")};
    const Kept added = k.at("added");
    r.added = {added.number("hours"),  added.number("new_mm"), added.number("worn_mm"), added.number("price"),
               added.text("currency"), added.text("note"),     added.truth("run_in")};
    r.hours = k.number("hours");
    r.field_hours = k.number("field_hours");
    r.road_hours = k.number("road_hours");
    const Array& km = k.array("km");
    if (km.size() != 3)
        throw Error(ErrorKind::damaged, "a kept state of belts has no right km");
    r.hard_km = km[0].number();
    r.gravel_km = km[1].number();
    r.earth_km = km[2].number();
    r.moves = k.small("moves");
    r.run_in = k.truth("run_in");
    r.washed = k.truth("washed");
    r.lubricated_once = k.truth("lubricated_once");
    r.since_lube_km = k.maybe_number("since_lube_km");
    r.last_turn = read_turn(k.at("last_turn"));
    r.costs = k.number("costs");
    const Kept c = k.at("condition");
    r.condition = {c.small("lugs"), c.small("cuts"), c.truth("chunking"), c.truth("cord"), c.text("note")};
    r.removed_for = k.text("removed_for");
    r.driven_since_survey = k.vector("driven_since");
    r.driven = k.vector("driven");
    read_lists(k, r);
    return out;
}

}  // namespace loamway
