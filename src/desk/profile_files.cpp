// SPDX-License-Identifier: Apache-2.0
#include "profile_files.h"

#include "loamway/base/file.h"

namespace loamway {
namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;

}  // namespace

ErrorPlace place_of(const MoveRequest& r, const std::string& key) {
    const auto said = r.said_at.find(key);
    return said == r.said_at.end() ? ErrorPlace{} : said->second;
}

Value read_profile(const std::string& path, DocumentKind wanted, const std::string& hint) {
    std::string text;
    try {
        text = read_text_file(path, largest_profile);
    } catch (const Error& e) {
        if (e.kind() == ErrorKind::not_found)
            throw Error(e.kind(), e.message(), hint, e.place());
        throw;
    }
    return parse_document(text, path, wanted);
}

Recipe recipe_of(const RegionMeta& meta) {
    Recipe r;
    r.name = meta.recipe;
    r.time_zone = meta.time_zone_assumed ? "" : meta.time_zone;
    r.odds_factor = meta.odds_factor;
    r.drives_on_right = meta.drives_on_right;
    r.units = meta.units;
    r.permit_from_width = Length::from_metres(meta.permit_from_width_m);
    r.escort_from_width = Length::from_metres(meta.escort_from_width_m);
    if (meta.daylight_from_width_m)
        r.daylight_from_width = Length::from_metres(*meta.daylight_from_width_m);
    r.national_height = Length::from_metres(meta.national_height_m);
    r.currency = meta.currency;
    if (meta.wide_move_hours)
        r.wide_move_hours = DayHours{(*meta.wide_move_hours)[0], (*meta.wide_move_hours)[1]};
    if (meta.school_hours)
        r.school_hours = DayHours{(*meta.school_hours)[0], (*meta.school_hours)[1]};
    return r;
}

std::optional<LimitsTable> limits_of(const RegionMeta& meta) {
    if (meta.limits.empty())
        return std::nullopt;
    const std::string name = "the region's limits";
    return read_limits_table(parse_toml(meta.limits, name), name);
}

}  // namespace loamway
