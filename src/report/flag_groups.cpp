// SPDX-License-Identifier: Apache-2.0
#include "flag_groups.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr std::size_t places_listed = 3;

struct Group {
    Severity severity;
    std::string text;
    std::vector<const Flag*> flags;
};

std::vector<Group> grouped(const Option& option) {
    std::vector<Group> groups;
    for (const Flag& f : option.flags) {
        const auto same = std::find_if(groups.begin(), groups.end(), [&f](const Group& g) {
            return g.severity == f.severity && g.text == f.text;
        });
        if (same != groups.end())
            same->flags.push_back(&f);
        else
            groups.push_back({f.severity, f.text, {&f}});
    }
    std::stable_sort(groups.begin(), groups.end(),
                     [](const Group& a, const Group& b) { return a.severity > b.severity; });
    return groups;
}

std::string places(const Group& g, const UnitWords& units) {
    std::vector<std::string> at;
    for (const Flag* f : g.flags)
        if (f->at_m)
            at.push_back(units.exact_number(*f->at_m));
    if (at.empty())
        return {};
    const std::size_t more = at.size() > places_listed ? at.size() - places_listed : 0;
    at.resize(at.size() - more);
    const std::string rest = more > 0 ? fmt::format(" and {} more", more) : "";
    return fmt::format("{} {}{}", units.long_unit(), fmt::join(at, ", "), rest);
}

/// What helps with a single finding: the way on the map and the last place to turn round before it.
std::string details(const Flag& f, const UnitWords& units) {
    std::string out;
    if (f.last_turn_round_m)
        out += fmt::format("; last place to turn round: {} {}", units.long_unit(),
                           units.exact_number(*f.last_turn_round_m));
    if (f.osm_way)
        out += fmt::format("; way {}", *f.osm_way);
    return out;
}

std::string line(const Group& g, const UnitWords& units) {
    const std::string where = places(g, units);
    const bool single = g.flags.size() == 1;
    std::string out = single ? std::string() : fmt::format("{} times: ", g.flags.size());
    // Some texts say themselves where they hold.
    const bool says_where = g.text.find(fmt::format("at {} ", units.long_unit())) != std::string::npos;
    if (single && !where.empty() && !says_where)
        out += fmt::format("{}: ", where);
    out += printable(g.text);
    if (!single && !where.empty())
        out += fmt::format(" ({})", where);
    if (single && g.severity != Severity::note)
        out += details(*g.flags.front(), units);
    return out;
}

}  // namespace

bool is_for_the_planner(const Flag& flag) {
    return flag.kind == "assumed";
}

std::vector<FlagLine> flag_lines(const Option& option, const UnitWords& units) {
    std::vector<FlagLine> out;
    for (const Group& g : grouped(option))
        out.push_back({g.severity, line(g, units)});
    return out;
}

std::string_view severity_words(Severity s) {
    switch (s) {
        case Severity::stop:
            return "STOP ";
        case Severity::check:
            return "CHECK";
        case Severity::note:
            break;
    }
    return "note ";
}

}  // namespace loamway
