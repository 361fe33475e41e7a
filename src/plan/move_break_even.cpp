// SPDX-License-Identifier: Apache-2.0
#include "move_break_even.h"

#include <algorithm>
#include <cmath>

#include "loamway/costs/break_even.h"
#include "loamway/costs/option_figures.h"
#include "uncertainty.h"

namespace loamway {

namespace {

// Lines are drawn through the lengths most moves have; short ones are all fixed cost.
const Sweep lengths{Length::from_km(0), Length::from_km(200), Length::from_metres(50)};
const Sweep for_lines{Length::from_km(15), Length::from_km(150), Length::from_km(1)};
constexpr double least_curve_km = 20;
constexpr double curve_steps = 100;

class OtherLengths {
public:
    OtherLengths(const Setting& setting, const Option& driven, const Option& hauled)
        : m_rates(setting.in().rates),
          m_drive(driven.figures->driven.front().drive),
          m_haul(hauled.figures->hauled.front()),
          m_stop(setting.in().rates.stop_time(setting.in().machine.belts.count)),
          m_hauled_share(m_haul.haul.loaded / m_drive.length) {
        if (driven.relube_interval_m)
            m_interval = Length::from_metres(*driven.relube_interval_m);
        const bool start = std::any_of(driven.stops.begin(), driven.stops.end(),
                                       [](const PlanStop& s) { return s.kind == "start"; });
        m_starts = start ? 1 : 0;
    }

    [[nodiscard]] Money drive(Length length) const {
        const double times = length / m_drive.length;
        const int stops = m_interval ? stops_needed(length, *m_interval) : 0;
        DriveFigures f = m_drive;
        f.length = length;
        f.driving = m_drive.driving * times;
        f.fuel = m_drive.fuel * times;
        f.wear_share = m_drive.wear_share * times;
        f.lubrications = m_starts + stops;
        f.stopped = m_stop * f.lubrications;
        return drive_cost(f, m_rates).total();
    }
    [[nodiscard]] Money haul(Length length) const {
        HauledFigures f = m_haul;
        f.haul.loaded = length * m_hauled_share;
        f.haul.loaded_time = m_haul.haul.loaded_time * (f.haul.loaded / m_haul.haul.loaded);
        return hauled_cost(f, m_rates).total();
    }
    [[nodiscard]] double hauled_share() const { return m_hauled_share; }
    [[nodiscard]] Length length() const { return m_drive.length; }

private:
    const Rates& m_rates;
    DriveFigures m_drive;
    HauledFigures m_haul;
    Duration m_stop;
    double m_hauled_share;
    std::optional<Length> m_interval;
    int m_starts = 0;
};

std::optional<double> metres(const std::optional<Length>& l) {
    return l ? std::optional(l->metres()) : std::nullopt;
}

// Up to twice the length at which the costs meet, or this move's.
void add_curve(const OtherLengths& at, PlanBreakEven& out) {
    const double here = at.length().km(), meet = out.haul_from_m.value_or(0) / 1000;
    const double to = std::clamp(2 * std::max(here, meet), least_curve_km, lengths.to.km());
    const double step = std::max(0.1, std::ceil(to * 10 / curve_steps) / 10);
    for (int i = 0; i * step <= to + 1e-9; ++i) {
        const Length l = Length::from_km(i * step);
        out.curve.push_back({l.metres(), at.drive(l).units(), at.haul(l).units()});
    }
}

}  // namespace

void work_out_break_even(const Setting& setting, Plan& plan) {
    const Option* driven = cheapest_option(plan.options, Mode::drive);
    const Option* hauled = cheapest_option(plan.options, Mode::haul);
    const auto has_length = [](Length l) { return l.metres() > 0; };
    if (driven == nullptr || hauled == nullptr || !has_length(driven->figures->driven.front().drive.length) ||
        !has_length(hauled->figures->hauled.front().haul.loaded))
        return;
    const OtherLengths at(setting, *driven, *hauled);
    const CostOfLength drive = [&at](Length l) { return at.drive(l); };
    const CostOfLength haul = [&at](Length l) { return at.haul(l); };
    const BreakEven sweep = sweep_break_even(drive, haul, lengths);
    const CostLine drive_line = fit_line(drive, for_lines), haul_line = fit_line(haul, for_lines);
    PlanBreakEven out;
    out.drive = driven->id;
    out.haul = hauled->id;
    out.length_m = at.length().metres();
    out.hauled_share = at.hauled_share();
    for (const Length l : sweep.crossings)
        out.crossings_m.push_back(l.metres());
    out.haul_from_m = metres(sweep.haul_cheaper_from);
    out.drive_below_m = metres(sweep.drive_cheaper_below);
    out.line_m = metres(break_even(drive_line, haul_line));
    out.drive_fixed = drive_line.fixed.units();
    out.drive_per_km = drive_line.per_km.units();
    out.haul_fixed = haul_line.fixed.units();
    out.haul_per_km = haul_line.per_km.units();
    out.from_m = lengths.from.metres();
    out.to_m = lengths.to.metres();
    out.step_m = lengths.step.metres();
    add_curve(at, out);
    plan.break_even = std::move(out);
}

}  // namespace loamway
