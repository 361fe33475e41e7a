// SPDX-License-Identifier: Apache-2.0
// Work that cannot have been: faster than a machine goes, or more hours than there were.
#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/ledger/noting.h"
#include "loamway/ledger/plausible.h"

namespace loamway {

namespace {

constexpr double hour_s = 3600;
// A day's entries are written one after the other in the evening, each as of then.
constexpr double slack_h = 24;
// Work that is already too much for its time was let in by an import, and may lie this far back.
constexpr double look_back_h = 30 * 24;
const Speed fastest = Speed::from_kmh(80);  // that a profile may say

Speed top_of(const Ledger& ledger, const std::string& machine) {
    const auto profile = machine.empty() ? std::nullopt : ledger.profile(machine);
    const Value* speeds = profile ? profile->find("speed_kmh") : nullptr;
    const Value* top = speeds == nullptr ? nullptr : speeds->find("top");
    return top != nullptr && top->is_number() ? Speed::from_kmh(top->number()) : fastest;
}

/// Of a plan that was driven at other hours the clock counts: how long it stood is not known.
double hours_on_road(const MoveDone& m, Instant arrived) {
    return m.departed
               ? std::max(m.hours,
                          static_cast<double>(arrived.unix_seconds - m.departed->unix_seconds) / hour_s)
               : m.hours;
}

double hours_of(const Event& e) {
    if (e.kind == EventKind::field_work)
        return read_field_work(e.data, "field work").hours;
    if (e.kind != EventKind::moved)
        return 0;
    const MoveDone m = read_move_done(e.data, "the move");
    return std::max(m.hours, m.length_m() / 1000 / fastest.kmh());  // it may not say its hours
}

struct Work {
    Instant at;
    double hours = 0;
};

/// What the belts did around an event, with it, in the order in which it happened.
std::vector<Work> work_around(const Ledger& ledger, const Event& e, std::size_t& here) {
    const auto reach_s = static_cast<std::int64_t>((hours_of(e) + look_back_h) * hour_s);
    EventQuery q;
    q.belts = e.belts;
    q.kinds = {EventKind::fitted, EventKind::moved, EventKind::field_work};
    q.since = Instant{e.at.unix_seconds - reach_s};
    q.until = Instant{e.at.unix_seconds + reach_s};
    std::vector<Work> out;
    std::optional<std::size_t> mine;
    for (const Event& other : ledger.events(q)) {
        if (!mine && other.at > e.at) {
            mine = out.size();
            out.push_back({e.at, hours_of(e)});
        }
        out.push_back({other.at, hours_of(other)});
    }
    here = mine.value_or(out.size());
    if (!mine)
        out.push_back({e.at, hours_of(e)});
    return out;
}

/// The stretch of time with the event in it into which its work fits worst.
struct Stretch {
    Instant from, to;
    double hours = 0;
    [[nodiscard]] double length_h() const {
        return static_cast<double>(to.unix_seconds - from.unix_seconds) / hour_s;
    }
    [[nodiscard]] double excess_h() const { return hours - length_h(); }
};

std::optional<Stretch> tightest(const std::vector<Work>& work, std::size_t here) {
    if (here == 0)
        return std::nullopt;  // nothing is known of the time before
    // Both ends can be chosen by themselves: each adds its own part to the excess.
    Stretch out{work[here].at, work[here].at, work[here].hours};
    Stretch best = out;
    bool any = false;
    for (std::size_t i = here; i-- > 0; out.hours += work[i].hours) {
        out.from = work[i].at;
        if (work[i].at == work[i + 1].at && i > 0)
            continue;  // what is noted as of one moment lies before it, whatever its order
        if (!any || out.excess_h() > best.excess_h())
            best = out;
        any = true;
    }
    out = best;
    for (std::size_t i = here + 1; i < work.size(); ++i) {
        out.to = work[i].at;
        out.hours += work[i].hours;
        if (out.excess_h() > best.excess_h())
            best = out;
    }
    return best;
}

}  // namespace

void require_possible(const Ledger& ledger, const Event& e) {
    if (e.kind != EventKind::moved && e.kind != EventKind::field_work)
        return;
    if (ledger.with_token(e.token))
        return;  // noted before: nothing is added
    if (e.kind == EventKind::moved) {
        MoveDone m = read_move_done(e.data, "the move");
        // A trip meter beside the planned hours says nothing of speed.
        const bool planned_hours = m.planned_m && !m.departed;
        m.hours = hours_on_road(m, e.at);
        if (const std::string why = implausible_speed(m, top_of(ledger, e.machine));
            !why.empty() && !planned_hours)
            throw Error(ErrorKind::input, why, "look at kilometres and hours; decimals take a point",
                        {{}, {}, "hours"});
    }
    std::size_t here = 0;
    const std::vector<Work> work = work_around(ledger, e, here);
    const auto worst = tightest(work, here);
    if (worst && worst->excess_h() > slack_h)
        throw Error(
            ErrorKind::input,
            fmt::format("{:.1f} h of work on {} between {} and {}, which lie {:.1f} h apart", worst->hours,
                        printable(e.belts), minute_words(worst->from), minute_words(worst->to),
                        worst->length_h()),
            "look at the hours and when they ended; hours before a set came into the ledger are given "
            "as it is added",
            {{}, {}, "hours"});
}

void require_driven_once(const Ledger& ledger, const Event& e, const std::string& plan,
                         const std::string& otherwise) {
    if (ledger.with_token(e.token))
        return;
    EventQuery q;
    q.belts = e.belts;
    q.kinds = {EventKind::moved};
    for (const Event& other : ledger.events(q))
        if (other.token.starts_with(plan))
            throw Error(
                ErrorKind::input,
                fmt::format("this plan is event {} already, arrived {}", other.id, minute_words(other.at)),
                fmt::format("if that one is wrong: loamway ledger undo {}; {}", other.id, otherwise),
                {{}, {}, "plan"});
}

}  // namespace loamway
