// SPDX-License-Identifier: Apache-2.0
#include "understood.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/unit_words.h"
#include "when_window.h"

namespace loamway {

namespace {

constexpr double metres_per_inch = 0.0254;
constexpr double metres_per_foot = 0.3048;

class Words {
public:
    explicit Words(bool imperial) : m_imperial(imperial) {}
    [[nodiscard]] std::string distance(Length l) const {
        return UnitWords(m_imperial ? "imperial" : "metric").exact(l.metres());
    }
    [[nodiscard]] std::string temperature(Temperature t) const {
        return m_imperial ? fmt::format("{:.0f} °F", t.celsius() * 1.8 + 32)
                          : fmt::format("{:g} °C", t.celsius());
    }
    [[nodiscard]] std::string machine_length(Length l) const {
        return m_imperial ? fmt::format("{:.1f} ft", l.metres() / metres_per_foot)
                          : fmt::format("{:.2f} m", l.metres());
    }
    [[nodiscard]] std::string small_length(Length l) const {
        return m_imperial ? fmt::format("{:.2f} in", l.metres() / metres_per_inch)
                          : fmt::format("{:g} mm", l.mm());
    }

private:
    bool m_imperial;
};

std::string belts_words(const BeltsNow& b) {
    switch (b.condition) {
        case BeltsNow::Condition::not_run_in:
            return b.preconditioned ? "new, preconditioned" : "new, not run in";
        case BeltsNow::Condition::washed:
            return "run in, washed since";
        case BeltsNow::Condition::run_in:
            break;
    }
    return "run in";
}

std::string low_bed_words(const LowBed& bed, const std::optional<NamedPoint>& base, const Words& words) {
    if (base)
        return fmt::format("{}, from {}", bed.name, base->name);
    return fmt::format("{}, {} empty each way", bed.name, words.distance(bed.empty_run));
}

std::string mode_words(const PlanInputs& in) {
    std::string words;
    for (const auto& [wanted, word] :
         {std::pair(in.drive, "drive"), std::pair(in.haul, "haul"), std::pair(in.mixed, "mixed")})
        if (wanted)
            words += fmt::format("{}{}", words.empty() ? "" : ", ", word);
    return words;
}

void add_air(const PlanInputs& in, const Words& words, const TimeZone& zone, std::vector<MoveField>& out) {
    const Conditions& c = in.conditions;
    if (c.air_range) {
        out.push_back({"air_min_c", words.temperature(c.air_range->low), false});
        out.push_back({"air_max_c", words.temperature(c.air_range->high), false});
        out.push_back({"air_course", "sine by day, exponential by night (Parton and Logan 1981)", true});
    } else if (!c.air_table.empty()) {
        out.push_back({"air_csv",
                       fmt::format("{}, {} lines, {} to {}; straight lines between", c.air_file,
                                   c.air_table.size(), format_rfc3339(c.air_table.front().at, zone),
                                   format_rfc3339(c.air_table.back().at, zone)),
                       false});
    } else {
        out.push_back({"air_c", words.temperature(c.air), c.air_assumed});
        return;
    }
    const Temperature at_start = Weather(c, in.from.point).at(in.depart).air;
    out.push_back({"air_at_departure",
                   words.temperature(Temperature::from_celsius(std::round(at_start.celsius() * 10) / 10)),
                   c.air_range.has_value()});
}

void add_heat(const PlanInputs& in, std::vector<MoveField>& out) {
    const KnownHeat& h = in.heat;
    if (h.calibrated())
        out.push_back(
            {"heat_calibration",
             fmt::format(
                 "{} infrared reading{}: bars make {:.2f} times the heat assumed; core known to {:.0f} °C",
                 h.used, h.used == 1 ? "" : "s", h.scale, h.core_sd_k),
             false});
    else
        out.push_back({"heat_calibration", "none: core known to 20 °C", true});
    for (const std::string& why : h.refused)
        out.push_back({"reading_refused", why, false});
    for (const std::string& note : h.notes)
        out.push_back({"readings", note, false});
}

void add_sun(const PlanInputs& in, std::vector<MoveField>& out) {
    const Conditions& c = in.conditions;
    if (!c.sun_assumed) {
        out.push_back({"sun", fmt::format("{:g}", c.sun), false});
        return;
    }
    const bool in_table = std::any_of(c.air_table.begin(), c.air_table.end(),
                                      [](const AirRow& row) { return row.cloud.has_value(); });
    const double sun = Weather(c, in.from.point).at(in.depart).sun;
    out.push_back(
        {"sun", fmt::format("{:.2f} of a clear noon at departure, from the sun's position", sun), true});
    if (in_table)
        out.push_back({"cloud", "as in the table of the air", false});
    else
        out.push_back({"cloud", fmt::format("{:g}", c.cloud), c.cloud_assumed});
}

void add_haul_words(const PlanInputs& in, const Words& words, const TimeZone& zone,
                    std::vector<MoveField>& out) {
    if (in.haul_from)
        out.push_back({"haul_from", format_rfc3339(*in.haul_from, zone), false});
    for (const NamedPoint& p : in.loading_places)
        out.push_back({"loading_place", p.name, false});
    for (const AlsoMoves& a : in.also_moves) {
        std::string text = fmt::format("{}: {}", a.name, name_of(a.how));
        if (a.how == AlsoMoves::How::same_deck)
            text += fmt::format(", {:.0f} kg, {}", a.mass.kg(), words.machine_length(a.length));
        if (a.cost)
            text += fmt::format(", {:.2f} {}", a.cost->units(), in.rates.currency);
        out.push_back({"what_else_moves", text, false});
    }
}

}  // namespace

std::vector<MoveField> understood_fields(const MoveRequest& request, const PlanInputs& in,
                                         const Learnt& learnt, const TimeZone& zone, bool zone_assumed) {
    const Words words(in.units == "imperial");
    std::vector<MoveField> out{
        {"from", in.from.name, false},
        {"to", in.to.name, false},
        {"machine", in.machine.name, false},
        {"state", in.machine.state(in.state).name, !request.state},
        {"belts", belts_words(in.belts), in.belts.condition_assumed},
        {"since_lube_km", words.distance(in.belts.since_lube), in.belts.since_lube_assumed},
    };
    if (in.belts.hours)
        out.push_back({"belt_hours", fmt::format("{:g} h", *in.belts.hours), false});
    if (in.belts.bar_height)
        out.push_back({"bar_mm", words.small_length(*in.belts.bar_height), false});
    if (!learnt.ledger_says.empty())
        out.push_back({"ledger", learnt.ledger_says, false});
    add_heat(in, out);
    if (in.wear.calibrated)
        out.push_back({"wear_calibration",
                       fmt::format("heights measured: {:.4f} mm a paved km, good to {:.0f} %",
                                   in.wear.rates.hard_mm_per_km, in.wear.sd_share * 100),
                       false});
    out.push_back({"relube_interval_km", words.distance(in.rates.relube_interval), learnt.interval_assumed});
    add_air(in, words, zone, out);
    out.push_back({"ground", std::string(name_of(in.conditions.ground)), in.conditions.ground_assumed});
    add_sun(in, out);
    out.push_back({"depart", format_rfc3339(in.depart, zone), learnt.depart_assumed});
    if (in.when)
        out.push_back({"when", window_text(*in.when), false});
    out.push_back({"time_zone", zone.name(), zone_assumed});
    out.push_back({"modes", mode_words(in), !request.modes});
    out.push_back({"trailer", low_bed_words(in.low_bed, in.low_bed_base, words), in.low_bed.assumed});
    add_haul_words(in, words, zone, out);
    out.push_back({"rates",
                   in.rates.all_assumed ? fmt::format("defaults, in {}", in.rates.currency)
                                        : fmt::format("{}, in {}", learnt.rates_from, in.rates.currency),
                   in.rates.all_assumed});
    out.push_back({"basis", std::string(name_of(in.rates.basis)), in.rates.all_assumed && !request.basis});
    out.push_back(
        {"trials", fmt::format("{}, seed {}", in.trials, in.seed), !request.trials && !request.seed});
    out.push_back({"detour_cap", fmt::format("{:g} % longer than the shortest way", in.detour_cap * 100),
                   !request.detour_cap});
    if (in.corrections != nullptr)
        out.push_back({"corrections",
                       fmt::format("{} in force of {}", in.corrections->in_force_count(),
                                   in.corrections->corrections().size()),
                       false});
    out.push_back({"snap_km", words.distance(in.snap_limit), !request.snap_limit_km});
    out.push_back({"units", in.units, learnt.units_assumed});
    if (!in.machine.assumed.empty())
        out.push_back({"machine_defaults", fmt::format("{}", fmt::join(in.machine.assumed, ", ")), true});
    return out;
}

}  // namespace loamway
