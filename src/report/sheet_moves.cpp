// SPDX-License-Identifier: Apache-2.0
#include "sheet_moves.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "sheet_roles.h"

namespace loamway {

namespace {

void require_its_region(const Plan& plan, const Region* region) {
    if (region != nullptr && !plan.region.digest.empty() && region->digest() != plan.region.digest)
        throw Error(ErrorKind::input,
                    fmt::format("the plan was made with another region ({}, {})",
                                plan.region.name.empty() ? "unnamed" : plan.region.name,
                                plan.region.map_date.empty() ? "whose map says no date"
                                                             : "map of " + plan.region.map_date),
                    "name that region, or plan the move again with this one", {region->path(), {}, {}});
}

}  // namespace

std::vector<SheetContent> day_moves(std::span<const Plan> plans, const SheetSetup& setup) {
    if (plans.empty())
        throw Error(ErrorKind::input, "there is no plan to make a sheet of");
    std::vector<SheetContent> moves;
    for (const Plan& plan : plans) {
        require_its_region(plan, setup.region);
        moves.push_back(sheet_content_for(plan, setup.option, setup.reader, setup.loading));
    }
    std::stable_sort(moves.begin(), moves.end(), [](const SheetContent& a, const SheetContent& b) {
        return a.option->depart.value_or(Instant{}) < b.option->depart.value_or(Instant{});
    });
    return moves;
}

std::vector<std::string> day_conflicts(std::span<const SheetContent> moves) {
    std::vector<std::string> out;
    for (std::size_t a = 0; a < moves.size(); ++a)
        for (std::size_t b = a + 1; b < moves.size(); ++b) {
            const Option& first = *moves[a].option;
            const Option& second = *moves[b].option;
            if (moves[a].plan->move.machine != moves[b].plan->move.machine || !first.depart ||
                !first.arrive || !second.depart || !second.arrive)
                continue;
            if (*first.depart < *second.arrive && *second.depart < *first.arrive)
                out.push_back(fmt::format("moves {} and {} overlap in time and name the same machine ({})",
                                          a + 1, b + 1, printable(moves[a].plan->move.machine)));
        }
    return out;
}

std::string day_title(std::span<const SheetContent> moves) {
    const std::string &first = moves.front().date, &last = moves.back().date;
    return first == last ? fmt::format("Moves of {}", first)
                         : fmt::format("Moves from {} to {}", first, last);
}

}  // namespace loamway
