// SPDX-License-Identifier: Apache-2.0
#include "ledger_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/names.h"
#include "loamway/ledger/belt_outlook.h"
#include "loamway/ledger/noting.h"

namespace loamway {

namespace {

constexpr double most_hours_named = 10000;  // beyond, a figure would say more than is known

std::string counted(std::size_t n, std::string_view what) {
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
}

std::string day(Instant t) {
    return format_rfc3339(t, TimeZone()).substr(0, 10);
}

std::string state_words(const BeltRecord& r) {
    if (!r.removed_for.empty() && r.machine.empty())
        return fmt::format("removed ({})", r.removed_for);
    const std::string where =
        r.machine.empty() ? "on no machine" : fmt::format("on {}", printable(r.machine));
    if (!r.run_in)
        return fmt::format("{}, not run in{}", where, r.lubricated_once ? " (powdered)" : "");
    return fmt::format("{}, run in{}", where, r.washed ? ", washed: powder before the road" : "");
}

std::string turn_text(const BeltRecord& r) {
    if (!r.last_turn)
        return {};
    return fmt::format(
        "  last {}: {} (event {})\n",
        r.last_turn->kind == EventKind::swapped ? "swapped left and right" : "rotated to run the other way",
        day(r.last_turn->at), r.last_turn->event);
}

std::string lube_words(const BeltRecord& r) {
    if (r.since_lube_km)
        return fmt::format("{:.1f} km driven since the last powder", *r.since_lube_km);
    return r.washed ? "washed: no powder left" : "no powder noted yet";
}

std::string hottest_text(const BeltRecord& r) {
    std::string out;
    for (const HotMove& m : r.hottest)
        out += fmt::format("    {}  {:.0f} °C{}{}  {} to {} (event {})\n", day(m.at), m.bar_peak_c,
                           m.bar_high_c ? fmt::format(", up to {:.0f}", *m.bar_high_c) : "",
                           m.limit_c ? fmt::format(", limit {:.0f}", *m.limit_c) : "", printable(m.from),
                           printable(m.to), m.event);
    return out.empty() ? "" : fmt::format("  hottest moves ({}):\n{}", heat_words, out);
}

std::string learnt_text(const BeltReport& b) {
    const BeltRecord& r = b.record;
    std::string out =
        fmt::format("  wear rates, {} of height surveys (5 to 95 %):\n",
                    r.intervals.empty() ? "assumed: no pair"
                                        : fmt::format("from {}", counted(r.intervals.size(), "pair")));
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        const WearRateEstimate& e = r.wear.rates[i];
        out +=
            fmt::format("    {:<7} {:.5f} mm per {:<4}  {:.5f} to {:.5f}  {}\n", wear_rate_words[i], e.mean,
                        i < 3    ? "km"
                        : i == 3 ? "hour"
                                 : "turn",
                        std::max(0.0, e.low), e.high, e.learnt() ? "learnt" : "not learnt");
    }
    for (std::size_t i = 0; i < wear_rate_count; ++i)
        for (std::size_t j = i + 1; j < wear_rate_count; ++j)
            if (std::abs(r.wear.correlation(i, j)) > 0.7)
                out += fmt::format("    {} and {} cannot be told apart yet: only their sum is learnt\n",
                                   wear_rate_words[i], wear_rate_words[j]);
    for (const std::string& note : r.wear.notes)
        out += fmt::format("    {}\n", note);
    if (b.heat && b.heat->calibrated())
        out += fmt::format("  heat scale {:.2f} from {}; bar core to {:.0f} °C (one standard deviation)\n",
                           b.heat->scale, counted(static_cast<std::size_t>(b.heat->used), "reading"),
                           b.heat->core_sd_k);
    else
        out +=
            "  heat scale not calibrated: bar core known to 20 °C. One infrared reading of a bar's flank, half-way up,\n"
            "    within 2 minutes of a stop after 10 km or more would bring that to about 5 °C\n";
    if (b.heat) {
        for (const std::string& why : b.heat->refused)
            out += fmt::format("    not used: {}\n", why);
        for (const std::string& note : b.heat->notes)
            out += fmt::format("    {}\n", note);
    }
    return out;
}

std::string measuring_text(const BeltRecord& r) {
    std::string out;
    if (r.surveys.empty())
        out +=
            "  measure ten bars now: without a first height there is nothing to compare a later one with\n";
    for (const auto& [aim, of] :
         {std::pair(WearAim::hour_of_work, "an hour of its work"), std::pair(WearAim::road, "its moves")}) {
        const std::vector<MeasurementWorth> worth = worth_measuring(r, aim);
        if (worth.empty())
            out += fmt::format("  the wear of {}: no single survey would tell much more\n", of);
        else
            out += fmt::format(
                "  the wear of {} is known to {:.0f} %; it helps most to measure\n    {}: then {:.0f} %\n",
                of, 100 * worth.front().sd_now, worth.front().what, 100 * worth.front().sd_then);
    }
    return out;
}

std::string hours_words(double h) {
    return h > most_hours_named ? fmt::format("over {:.0f}", most_hours_named) : fmt::format("{:.0f}", h);
}

std::string causes_words(const std::map<std::string, int>& removals) {
    std::string out;
    for (const auto& [key, count] : removals) {
        std::string cause = key;
        std::replace(cause.begin(), cause.end(), '_', ' ');
        out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, cause);
    }
    return out;
}

std::string forecast_text(const BeltReport& b) {
    const BeltRecord& r = b.record;
    std::string out;
    if (const auto left = hours_left(r))
        out = fmt::format(
            "  tread wear would end the set after {} more hours ({} to {}) at the mix of road and field so far\n",
            hours_words(left->value), hours_words(left->low), hours_words(left->high));
    else
        out = "  how long the set lasts: too little work noted to tell\n";
    if (const auto end = wear_end(r, b.at)) {
        const auto month = [](const std::optional<Instant>& t) {
            return t ? day(*t).substr(0, 7) : std::string("later than can be said");
        };
        out += fmt::format("    at the pace so far ({:.1f} h a week): {} ({} to {})\n", end->hours_per_week,
                           month(end->at), month(end->earliest), month(end->latest));
    }
    out +=
        "  belts also end by guide lugs, cord, cuts and delamination, which this does not foresee: look at them;\n";
    return out + (b.removals.empty() ? std::string("    no set has been removed in this ledger so far\n")
                                     : fmt::format("    sets removed in this ledger so far: {}\n",
                                                   causes_words(b.removals)));
}

}  // namespace

std::string belts_text(const BeltReport& b, bool later) {
    const BeltRecord& r = b.record;
    std::string out = fmt::format("{}: {}\n", printable(r.belts), state_words(r));
    out += fmt::format("  as of {}{}\n", minute_words(b.at), later ? ", with what is noted for later" : "");
    out += fmt::format("  {:.1f} h ({:.1f} field, {:.1f} road, {:.1f} before the ledger); {}\n", r.hours,
                       r.field_hours, r.road_hours, r.added.hours, lube_words(r));
    out +=
        fmt::format("  {}: {:.1f} km paved, {:.1f} km gravel, {:.1f} km earth\n",
                    counted(static_cast<std::size_t>(r.moves), "move"), r.hard_km, r.gravel_km, r.earth_km);
    out += fmt::format("  bar height {:.1f} mm ({:.1f} to {:.1f}), {}; new {:.0f}, worn out {:.0f}\n",
                       r.bar_mm.value, r.bar_mm.low, r.bar_mm.high,
                       r.surveys.empty() ? "never measured"
                                         : fmt::format("last measured {} on {} bars",
                                                       day(r.surveys.back().at), r.surveys.back().bars),
                       r.added.new_bar_mm, r.added.worn_mm);
    out += turn_text(r);
    out += fmt::format("  {:.0f} % of the set used ({:.0f} to {:.0f})", 100 * r.share_used.value,
                       100 * r.share_used.low, 100 * r.share_used.high);
    if (r.added.price > 0)
        out += fmt::format(": {:.0f} of {:.0f} {}", r.money_used.value, r.added.price,
                           printable(r.added.currency));
    out += r.costs != 0 ? fmt::format("; {:.2f} noted as costs\n", r.costs) : "\n";
    const BeltCondition& c = r.condition;
    if (c.guide_lugs_lost + c.edge_cuts > 0 || c.chunking || c.cord_visible)
        out += fmt::format(
            "  seen: {} lost, {}{}{}\n", counted(static_cast<std::size_t>(c.guide_lugs_lost), "guide lug"),
            counted(static_cast<std::size_t>(c.edge_cuts), "edge cut"), c.chunking ? ", chunking" : "",
            c.cord_visible ? ", cord visible: stop and ask a belt specialist" : "");
    for (const std::string& fault : r.faults)
        out += fmt::format("  fault: {}\n", printable(fault));
    out += hottest_text(r) + learnt_text(b);
    return taken_off_for_good(r) ? out : out + measuring_text(r) + forecast_text(b);
}

std::string overview_text(const LedgerReport& report) {
    std::string out = fmt::format("{:<24} {:<36} {:>8} {:>9} {:>8} {:>7}\n", "belts", "state", "hours",
                                  "paved km", "bar mm", "used");
    for (const BeltReport& b : report.belts) {
        const BeltRecord& r = b.record;
        out += fmt::format("{:<24} {:<36} {:>8.1f} {:>9.1f} {:>8.1f} {:>5.0f} %\n", printable(r.belts),
                           state_words(r), r.hours, r.hard_km, r.bar_mm.value, 100 * r.share_used.value);
    }
    if (report.belts.empty())
        out = "no belts yet: loamway ledger belts add\n";
    std::string names;
    for (const std::string& m : report.machines)
        names += fmt::format("{}{}", names.empty() ? "" : ", ", printable(m));
    out += fmt::format("machines: {}\n", names.empty() ? "none" : names);
    if (!report.removals.empty())
        out += fmt::format("sets removed so far: {}\n", causes_words(report.removals));
    return out;
}

std::string events_text(const std::vector<Event>& events, const std::vector<bool>& undone) {
    std::string out;
    for (std::size_t i = 0; i < events.size(); ++i) {
        const Event& e = events[i];
        out += fmt::format(
            "{:>6}  {}  {:<13} {:<20} {:<20} {}{}\n", e.id, format_rfc3339(e.at, TimeZone()).substr(0, 16),
            event_words(e.kind), printable(e.machine), printable(e.belts),
            e.kind == EventKind::machine_added ? std::string("(profile)") : printable(to_json(e.data)),
            undone[i] ? "  [undone]" : "");
    }
    return out;
}

}  // namespace loamway
