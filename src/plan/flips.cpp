// SPDX-License-Identifier: Apache-2.0
#include "flips.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "loamway/base/unit_words.h"
#include "loamway/costs/random.h"

namespace loamway {

namespace {

constexpr std::size_t most_flips = 3;
constexpr double widths_followed = 2;  // of an input's range, assumption
constexpr int halvings = 14;
constexpr std::size_t draws = 100;

std::string_view to_do(Mode m) {
    return m == Mode::drive ? "drive it" : m == Mode::haul ? "haul it" : "drive part of it";
}

class FlipFinder {
public:
    FlipFinder(const Setting& setting, std::span<const Spread> spreads, const Difference& difference,
               double mean, const FlipPair& pair)
        : m_setting(setting),
          m_words(setting.in().units),
          m_spreads(spreads),
          m_difference(difference),
          m_pair(pair) {
        std::vector<Quantiles> inputs(spreads.begin(), spreads.end());
        SplitMix64 random(setting.in().seed);
        for (std::size_t t = 0; t < draws; ++t) {
            std::vector<double>& draw = m_draws.emplace_back();
            for (const Quantiles& q : inputs)
                draw.push_back(q.at(random.uniform()));
        }
        m_offset = mean - with(0, spreads[0].mode);
    }

    std::vector<CostFlip> find() {
        std::vector<CostFlip> all;
        for (std::size_t n = 0; n < m_spreads.size(); ++n)
            for (const bool up : {true, false})
                if (const auto x = turning_point(n, up))
                    add(static_cast<MoveInput>(n), *x, up, all);
        std::stable_sort(all.begin(), all.end(),
                         [](const CostFlip& a, const CostFlip& b) { return a.reach < b.reach; });
        if (all.size() > most_flips)
            all.resize(most_flips);
        return all;
    }

private:
    // Mean of the difference when the input's likeliest value is x.
    double with(std::size_t input, double x) const {
        const bool times = is_multiplier(static_cast<MoveInput>(input));
        const double mode = m_spreads[input].mode;
        double sum = 0;
        std::vector<double> at;
        for (const std::vector<double>& draw : m_draws) {
            at = draw;
            at[input] = times ? at[input] * x / mode : at[input] + x - mode;
            sum += m_difference(at);
        }
        return sum / static_cast<double>(m_draws.size()) + m_offset;
    }

    // Where the other option becomes the cheaper one on the way up or down.
    std::optional<double> turning_point(std::size_t input, bool up) const {
        const Spread& s = m_spreads[input];
        const double end = s.mode + widths_followed * ((up ? s.high : s.low) - s.mode);
        double stays = s.mode, turns = end;
        if (is_multiplier(static_cast<MoveInput>(input)))
            turns = std::max(turns, 0.05);
        if (turns == stays || with(input, turns) < 0)
            return std::nullopt;
        for (int i = 0; i < halvings; ++i) {
            const double middle = (stays + turns) / 2;
            (with(input, middle) < 0 ? stays : turns) = middle;
        }
        return turns;
    }

    static bool is_multiplier(MoveInput i) {
        return i != MoveInput::assumed_surface && i != MoveInput::bar_heat && i != MoveInput::fuel_use;
    }

    // A figure somebody knows, times what is drawn.
    struct Known {
        std::string name;
        double value = 0;
        std::string unit;
    };

    [[nodiscard]] std::optional<Known> known(MoveInput i) const {
        const Rates& r = m_setting.in().rates;
        const std::string& cu = r.currency;
        switch (i) {
            case MoveInput::wage:
                return Known{"wage", r.wage_per_h.units(), cu + "/h"};
            case MoveInput::fuel_price:
                return Known{"fuel price", m_words.per_volume_unit(r.fuel_per_l.units()),
                             fmt::format("{}/{}", cu, m_words.volume_unit())};
            case MoveInput::belt_price:
                return Known{"price of a belt set", r.belt_set.units(), cu};
            case MoveInput::machine_hour:
                return Known{"an hour of the machine", r.ownership_per_h().units(), cu + "/h"};
            case MoveInput::truck_hour:
                return Known{"low-bed", r.truck_per_h.units(), cu + "/h"};
            case MoveInput::truck_km:
                return Known{"low-bed", m_words.per_long_unit(r.truck_per_km.units()),
                             fmt::format("{}/{}", cu, m_words.long_unit())};
            case MoveInput::permit:
                return known_permit();
            case MoveInput::loading_time:
                return Known{"loading and unloading", (r.load_time + r.unload_time).minutes(), "min"};
            case MoveInput::stop_time:
                return Known{"a re-lube stop", r.stop_time(m_setting.in().machine.belts.count).minutes(),
                             "min"};
            case MoveInput::empty_runs:
                return Known{"the low-bed's empty runs", m_words.long_units(empty_metres()),
                             std::string(m_words.long_unit())};
            default:
                return std::nullopt;
        }
    }
    // One input moves both permits: named is the one that is paid, nothing where both are.
    [[nodiscard]] std::optional<Known> known_permit() const {
        const Rates& r = m_setting.in().rates;
        bool hauled = false, driven = false;
        for (const Option* o : {&m_pair.advised, &m_pair.next}) {
            for (const HauledFigures& h : o->figures->hauled)
                hauled = hauled || h.haul.permit;
            for (const DrivenFigures& d : o->figures->driven)
                driven = driven || d.drive.wide_permit;
        }
        hauled = hauled && r.permit > Money();
        driven = driven && r.drive_permit > Money();
        if (hauled == driven)
            return std::nullopt;
        return hauled ? Known{"permit for the low-bed", r.permit.units(), r.currency}
                      : Known{"permit for driving", r.drive_permit.units(), r.currency};
    }
    [[nodiscard]] double empty_metres() const {
        for (const Option* o : {&m_pair.advised, &m_pair.next})
            for (const HauledFigures& h : o->figures->hauled)
                return (h.haul.to_pickup + h.haul.back).metres();
        return 0;
    }

    void add(MoveInput i, double x, bool up, std::vector<CostFlip>& all) const {
        const Spread& s = m_spreads[static_cast<std::size_t>(i)];
        CostFlip f;
        f.input = name_of(i);
        f.reach = (x - s.mode) / ((up ? s.high : s.low) - s.mode);
        if (const auto k = known(i)) {
            f.now = k->value;
            f.at = k->value * x;
            f.unit = k->unit;
            const int decimals = std::max(f.at, f.now) < 10 ? 2 : 0;
            f.text = fmt::format("{} {} {:.{}f} {} ({:.{}f} now)", k->name, up ? "above" : "below", f.at,
                                 decimals, f.unit, f.now, decimals);
        } else if (!describe_estimate(i, x, up, f)) {
            return;
        }
        f.text += fmt::format(": then {}", to_do(m_pair.next.mode));
        all.push_back(std::move(f));
    }

    // Inputs that are only known beside the estimate. Assumed surfaces have a line of their own, by stretch.
    [[nodiscard]] bool describe_estimate(MoveInput i, double x, bool up, CostFlip& f) const {
        f.now = 1;
        f.at = x;
        f.unit = "times";
        const char* side = up ? "above" : "below";
        switch (i) {
            case MoveInput::wear_paved:
            case MoveInput::wear_soft:
                f.text =
                    fmt::format("belt wear on {} {} {:.1f} times the estimate",
                                i == MoveInput::wear_paved ? "paved roads" : "gravel and earth", side, x);
                return true;
            case MoveInput::permit:
                f.text = fmt::format("permits {} {:.1f} times what they cost now", side, x);
                return true;
            case MoveInput::driving_speed:
            case MoveInput::truck_speed:
                f.text = fmt::format("{} {:.0f} % {} than planned",
                                     i == MoveInput::driving_speed ? "driving" : "the loaded low-bed",
                                     100 * std::abs(x - 1), up ? "faster" : "slower");
                return true;
            case MoveInput::bar_heat:
                f.at = std::exp(x * m_setting.in().heat.log_sd);
                f.text = fmt::format("bars making {} {:.1f} times the heat estimated",
                                     up ? "more than" : "less than", f.at);
                return true;
            default:
                return false;
        }
    }

    const Setting& m_setting;
    UnitWords m_words;
    std::span<const Spread> m_spreads;
    const Difference& m_difference;
    FlipPair m_pair;
    std::vector<std::vector<double>> m_draws;
    double m_offset = 0;
};

}  // namespace

std::string_view words_of(MoveInput i) {
    constexpr std::array<std::string_view, move_input_count> words{"wage",
                                                                   "price of fuel",
                                                                   "price of the belts",
                                                                   "belt wear on paved roads",
                                                                   "belt wear on gravel and earth",
                                                                   "hour of the machine",
                                                                   "time at the stops",
                                                                   "driving speed",
                                                                   "hour of the low-bed",
                                                                   "km of the low-bed",
                                                                   "time to load and unload",
                                                                   "permit",
                                                                   "speed of the loaded low-bed",
                                                                   "empty runs of the low-bed",
                                                                   "roads of assumed surface",
                                                                   "heat made in the bars",
                                                                   "fuel use"};
    return words.at(static_cast<std::size_t>(i));
}

std::vector<CostFlip> find_flips(const Setting& setting, std::span<const Spread> spreads,
                                 const Difference& difference, double mean, const FlipPair& pair) {
    return FlipFinder(setting, spreads, difference, mean, pair).find();
}

}  // namespace loamway
