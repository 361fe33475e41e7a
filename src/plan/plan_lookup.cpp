// SPDX-License-Identifier: Apache-2.0
// Words of the plan's small enums, and finding an option in a plan.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/plan/inputs.h"

namespace loamway {

std::string_view name_of(Mode m) {
    switch (m) {
        case Mode::drive:
            return "drive";
        case Mode::haul:
            return "haul";
        case Mode::mixed:
            return "mixed";
        case Mode::none:
            break;
    }
    return "none";
}

std::string_view name_of(AlsoMoves::How how) {
    switch (how) {
        case AlsoMoves::How::same_deck:
            return "same-deck";
        case AlsoMoves::How::own_trip:
            return "own-trip";
        case AlsoMoves::How::stays:
            break;
    }
    return "stays";
}

std::string_view name_of(Severity s) {
    switch (s) {
        case Severity::note:
            return "note";
        case Severity::check:
            return "check";
        case Severity::stop:
            break;
    }
    return "stop";
}

const Option* Plan::find_option(std::string_view id) const {
    for (const Option& o : options)
        if (o.id == id)
            return &o;
    // An option that turned out the same as another is kept once, under the other's id.
    for (const Option& o : options)
        if (std::find(o.also.begin(), o.also.end(), id) != o.also.end())
            return &o;
    return nullptr;
}

const Option& Plan::option_for_output(std::string_view id) const {
    if (const Option* o = find_option(id.empty() ? std::string_view(verdict.option) : id); o != nullptr)
        return *o;
    if (id.empty())
        for (const Option& o : options)
            if (o.mode == Mode::drive && !o.geometry.empty())
                return o;
    std::vector<std::string> ids;
    for (const Option& o : options) {
        ids.push_back(o.id);
        ids.insert(ids.end(), o.also.begin(), o.also.end());
    }
    const std::string there = ids.empty() ? "the plan holds no option at all"
                                          : fmt::format("the plan has: {}", fmt::join(ids, ", "));
    if (id.empty())
        throw Error(ErrorKind::not_found, "the plan has no option with a way to print", there);
    throw Error(ErrorKind::not_found, fmt::format("the plan has no option \"{}\"", printable(id)), there);
}

}  // namespace loamway
