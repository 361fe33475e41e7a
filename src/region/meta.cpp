// SPDX-License-Identifier: Apache-2.0
#include "meta.h"

#include <utility>

#include "loamway/text/table.h"
#include "loamway/text/value.h"

namespace loamway {
namespace {

// Counts pass through doubles on their way in and must stay exact.
constexpr double max_count = 9007199254740991.0;  // 2^53 - 1
constexpr double max_odds_factor = 1000.0;
constexpr double max_metres = 1000.0;

}  // namespace

std::string meta_to_json(const RegionMeta& meta) {
    Value counts{Value::Array{}};
    for (const BuildCount& c : meta.counts) {
        Value item;
        item.set("what", c.what);
        item.set("count", c.count);
        counts.as_array()->push_back(std::move(item));
    }
    Value v;
    v.set("name", meta.name);
    v.set("map_date", meta.map_date);
    v.set("time_zone", meta.time_zone);
    v.set("time_zone_assumed", meta.time_zone_assumed);
    v.set("attribution", meta.attribution);
    v.set("source_digest", meta.source_digest);
    v.set("elevation", meta.elevation);
    v.set("recipe", meta.recipe);
    v.set("odds_factor", meta.odds_factor);
    v.set("drives_on_right", meta.drives_on_right);
    v.set("units", meta.units);
    v.set("permit_from_width_m", meta.permit_from_width_m);
    v.set("escort_from_width_m", meta.escort_from_width_m);
    v.set("daylight_from_width_m", meta.daylight_from_width_m ? Value(*meta.daylight_from_width_m) : Value());
    v.set("national_height_m", meta.national_height_m);
    if (!meta.limits.empty())
        v.set("limits", meta.limits);
    if (!meta.currency.empty())
        v.set("currency", meta.currency);
    const auto set_hours = [&v](const char* key, const std::optional<std::array<double, 2>>& h) {
        if (h)
            v.set(key, Value::Array{Value((*h)[0]), Value((*h)[1])});
    };
    set_hours("wide_move_hours", meta.wide_move_hours);
    set_hours("school_hours", meta.school_hours);
    v.set("counts", std::move(counts));
    return to_json(v);
}

RegionMeta meta_from_json(std::string_view text, const std::string& name) {
    const Value value = parse_json(text, name, {.bytes = max_meta_bytes, .depth = 8});
    Table t(value, name);
    const auto flag = [&t](std::string_view key) {
        const std::optional<bool> b = t.boolean(key);
        if (!b)
            throw t.error_at(key, "a fact is missing");
        return *b;
    };
    RegionMeta m;
    m.name = t.require_text("name");
    m.map_date = t.require_text("map_date");
    m.time_zone = t.require_text("time_zone");
    m.time_zone_assumed = flag("time_zone_assumed");
    m.attribution = t.require_text("attribution");
    m.source_digest = t.require_text("source_digest");
    m.elevation = t.require_text("elevation");
    m.recipe = t.require_text("recipe");
    m.odds_factor = t.require_number("odds_factor", {0.0, max_odds_factor});
    m.drives_on_right = flag("drives_on_right");
    const std::optional<std::size_t> units = t.word("units", {"metric", "imperial"});
    if (!units)
        throw t.error_at("units", "a fact is missing");
    m.units = *units == 0 ? "metric" : "imperial";
    m.permit_from_width_m = t.require_number("permit_from_width_m", {0.0, max_metres});
    m.escort_from_width_m = t.require_number("escort_from_width_m", {0.0, max_metres});
    m.daylight_from_width_m = t.number("daylight_from_width_m", {0.0, max_metres});
    m.national_height_m = t.require_number("national_height_m", {0.0, max_metres});
    m.limits = t.text("limits").value_or("");  // regions built before there were tables lack it
    m.currency = t.text("currency").value_or("");
    const auto hours = [&t](std::string_view key) -> std::optional<std::array<double, 2>> {
        const auto numbers = t.numbers(key, {0.0, 24.0});
        if (!numbers)
            return std::nullopt;
        if (numbers->size() != 2)
            throw t.error_at(key, "these are not two hours");
        return std::array<double, 2>{(*numbers)[0], (*numbers)[1]};
    };
    m.wide_move_hours = hours("wide_move_hours");
    m.school_hours = hours("school_hours");
    for (Table& c : t.tables("counts")) {
        const std::string what = c.require_text("what");
        const std::optional<std::int64_t> count = c.integer("count", {-max_count, max_count});
        if (!count)
            throw c.error_at("count", "a count is missing");
        c.finish();
        m.counts.push_back({what, *count});
    }
    t.finish();
    return m;
}

}  // namespace loamway
