// SPDX-License-Identifier: Apache-2.0
#include "heat_answer.h"

#include <fmt/format.h>

#include <algorithm>

#include "heat.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

const HeatNote* note_for(const std::vector<HeatNote>& notes, const std::string& option) {
    const auto found =
        std::find_if(notes.begin(), notes.end(), [&](const HeatNote& n) { return n.option == option; });
    return found == notes.end() ? nullptr : &*found;
}

const Option* option_named(const std::vector<Option>& options, const std::string& id) {
    const auto found =
        std::find_if(options.begin(), options.end(), [&](const Option& o) { return o.id == id; });
    return found == options.end() ? nullptr : &*found;
}

std::string manner_word(const HeatNote& n) {
    std::string word;
    const auto add = [&](bool yes, std::string_view piece) {
        if (yes)
            word += fmt::format("{}{}", word.empty() ? "" : " and ", piece);
    };
    add(n.slower, "slower");
    add(n.pause, "pause");
    add(n.cooling, "cooling stop");
    return word.empty() ? "none" : word;
}

HeatAnswer by_manner(const Option& o, const HeatNote& n, const UnitWords& words) {
    HeatAnswer a;
    a.word = manner_word(n);
    if (n.plain_holds)
        return a;
    a.reason = fmt::format(
        "Heat ({}): {}. So the bars of {} may reach {} ({}), the "
        "limit is {}. {:.0f} {} more than at full speed, the cheapest of {} "
        "manners tried",
        a.word, n.manner, option_name(o.id), words.temperature(*o.heat->acted_on_c),
        acted_on_is(o.heat->calibrated, words), words.temperature(*o.heat->limit_c),
        *o.cost.total - n.plain_cost, o.cost.currency, n.tried);
    return a;
}

// A choice that became an option by itself is cheaper than every other, or the only one that can be done.
HeatAnswer by_choice(const std::vector<Option>& options, const Option& o, const HeatNote& n,
                     const std::vector<HeatNote>& notes, const UnitWords& words) {
    const HeatNote* beside = nullptr;
    const Option* other = nullptr;
    for (const HeatNote& m : notes) {
        const Option* candidate = option_named(options, m.option);
        if (m.choice || m.plain_holds || candidate == nullptr || !m.stops_ok)
            continue;
        if (beside == nullptr || m.plain_cost < beside->plain_cost) {
            beside = &m;
            other = candidate;
        }
    }
    HeatAnswer a = by_manner(o, n, words);
    if (beside == nullptr || *other->hard_m < *o.hard_m)
        return a;
    std::string instead = beside->holds ? fmt::format("costs {:.0f} {} and needs: {}", *other->cost.total,
                                                      other->cost.currency, beside->manner)
                                        : std::string("stays too hot in every manner tried");
    a.word = "other choice";
    a.reason = fmt::format(
        "Heat (other choice): more gravel instead of slower: {} has {} paved, {} has {} "
        "and {}{}{}",
        option_name(o.id), words.exact(*o.hard_m), option_name(other->id), words.exact(*other->hard_m),
        instead, n.plain_holds ? "" : ". It is driven so itself: ", n.plain_holds ? "" : n.manner);
    return a;
}

HeatAnswer by_hauling(const std::vector<Option>& options, const Option& haul,
                      const std::vector<HeatNote>& notes, const UnitWords& words) {
    const HeatNote* cheapest = nullptr;
    for (const HeatNote& n : notes)
        if (!n.plain_holds && n.stops_ok && (cheapest == nullptr || n.plain_cost < cheapest->plain_cost))
            cheapest = &n;
    if (cheapest == nullptr || cheapest->plain_cost >= *haul.cost.total)
        return {"none", ""};
    const Option* o = option_named(options, cheapest->option);
    const std::string within =
        cheapest->holds && o != nullptr && o->feasible
            ? fmt::format("below the limit it costs {:.0f}", *o->cost.total)
            : fmt::format("in no manner tried do the bars stay below the limit ({} at best)",
                          words.temperature(cheapest->high_c));
    return {"hauling",
            fmt::format(
                "Heat (hauling): {} would cost {:.0f} {} at full speed, but the bars do not stand that; {}",
                option_name(cheapest->option), cheapest->plain_cost, haul.cost.currency, within)};
}

}  // namespace

HeatAnswer heat_answer(const std::vector<Option>& options, const Option* advised,
                       const std::vector<HeatNote>& notes, const UnitWords& words) {
    if (advised == nullptr) {
        const bool hot = std::any_of(notes.begin(), notes.end(), [](const HeatNote& n) { return !n.holds; });
        return {hot ? "no answer" : "none", ""};
    }
    if (advised->mode == Mode::haul)
        return by_hauling(options, *advised, notes, words);
    const HeatNote* n = note_for(notes, advised->id);
    if (n == nullptr)
        return {"none", ""};
    return n->choice ? by_choice(options, *advised, *n, notes, words) : by_manner(*advised, *n, words);
}

}  // namespace loamway
