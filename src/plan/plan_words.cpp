// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/plan_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "loamway/base/names.h"

namespace loamway {

namespace {

using Words = std::pair<std::string_view, std::string_view>;

/// Empty where the key is not among them.
std::string_view words_for(std::span<const Words> all, std::string_view key) {
    const auto at = std::find_if(all.begin(), all.end(), [&](const Words& w) { return w.first == key; });
    return at == all.end() ? std::string_view() : at->second;
}

}  // namespace

std::string option_name(std::string_view id) {
    constexpr std::array<Words, 5> names{{{"least-hard", "Least paved"},
                                          {"least-cost", "Least cost"},
                                          {"least-time", "Least time"},
                                          {"haul", "Haul"},
                                          {"mixed", "Part and part"}}};
    if (const std::string_view name = words_for(names, id); !name.empty())
        return std::string(name);
    constexpr std::string_view choice = "front-";
    if (id.starts_with(choice))
        return fmt::format("Choice {}", printable(id.substr(choice.size())));
    return printable(id);
}

std::string field_words(std::string_view key) {
    constexpr std::array<Words, 27> words{{{"from", "from"},
                                           {"basis", "costs on the basis"},
                                           {"trials", "trials of the costs"},
                                           {"to", "to"},
                                           {"machine", "machine"},
                                           {"state", "working state"},
                                           {"belts", "belts"},
                                           {"since_lube_km", "driven since the last powder"},
                                           {"belt_hours", "belt hours"},
                                           {"bar_mm", "tread bar height"},
                                           {"relube_interval_km", "powder at the latest every"},
                                           {"air_c", "air"},
                                           {"ground", "ground"},
                                           {"sun", "sun (0 none, 1 clear noon)"},
                                           {"depart", "leaving"},
                                           {"when", "hours looked at"},
                                           {"time_zone", "time zone"},
                                           {"modes", "looked at"},
                                           {"trailer", "low-bed"},
                                           {"rates", "rates"},
                                           {"detour_cap", "detour"},
                                           {"snap_km", "road no farther than"},
                                           {"units", "units"},
                                           {"heat_calibration", "heat readings"},
                                           {"air_course", "course of the air"},
                                           {"field_load", "load in the field"},
                                           {"machine_defaults", "not in the machine profile"}}};
    const std::string_view known = words_for(words, key);
    return known.empty() ? printable(key) : std::string(known);
}

// The driver looks for each of them; beyond some, the list would be longer than the sheet. Where the first is
// stands beside the finding.
std::string again_words(std::span<const double> again_at_m, const UnitWords& units) {
    if (again_at_m.empty())
        return {};
    constexpr std::size_t most_named = 7;
    std::string list;
    for (const double at_m : again_at_m.first(std::min(again_at_m.size(), most_named)))
        list += fmt::format("{}{}", list.empty() ? "" : ", ", units.at(at_m));
    return fmt::format(" ({} times: again {}{})", again_at_m.size() + 1, list,
                       again_at_m.size() > most_named ? " and on" : "");
}

}  // namespace loamway
