// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_RANDOM_INPUTS_H
#define LOAMWAY_TESTS_SUPPORT_RANDOM_INPUTS_H

// Machines, rates, low-beds, conditions and belts drawn from all that their readers allow, ends of the ranges
// often among them. Drawn as documents and read, so that what is refused is never used. Fixed by a seed.

#include <fmt/format.h>

#include <cmath>
#include <string>

#include "loamway/base/error.h"
#include "loamway/plan/inputs.h"
#include "support/test_random.h"

namespace loamway::test {

class RandomInputs {
public:
    explicit RandomInputs(std::uint64_t seed) : m_random(seed) {}
    TestRandom& random() { return m_random; }

    /// An end of the range one time in four, else spread over its orders of magnitude or evenly.
    double number(double low, double high) {
        if (m_random.chance(25))
            return m_random.chance(50) ? low : high;
        const double share = static_cast<double>(m_random.below(1000001)) / 1e6;
        if (low > 0 && high / low > 20 && m_random.chance(60))
            return low * std::pow(high / low, share);
        return low + share * (high - low);
    }
    /// A line "key = number", or nothing one time in three.
    std::string maybe(const char* key, double low, double high) {
        return m_random.chance(33) ? std::string() : fmt::format("{} = {}\n", key, number(low, high));
    }
    std::string maybe_count(const char* key, int low, int high) {
        return m_random.chance(33) ? std::string()
                                   : fmt::format("{} = {}\n", key, std::lround(number(low, high)));
    }

    Machine machine() {
        return drawn([this] { return machine_text(); }, read_machine);
    }
    Rates rates() {
        return drawn([this] { return rates_text(); }, read_rates);
    }
    LowBed low_bed() {
        return drawn([this] { return low_bed_text(); }, read_low_bed);
    }
    Conditions conditions() {
        Conditions c;
        c.ground = static_cast<Ground>(m_random.below(5));
        c.air = Temperature::from_celsius(number(-50, 60));
        if (m_random.chance(30)) {
            const double a = number(-50, 60), b = number(-50, 60);
            c.air_range = AirRange{Temperature::from_celsius(std::min(a, b)),
                                   Temperature::from_celsius(std::max(a, b))};
        }
        c.cloud = number(0, 1);
        c.sun = number(0, 1);
        c.sun_assumed = m_random.chance(50);
        return c;
    }
    BeltsNow belts(const Machine& m) {
        BeltsNow b;
        b.condition = static_cast<BeltsNow::Condition>(m_random.below(3));
        if (m_random.chance(50))
            b.hours = number(0, 30000);
        b.since_lube = Length::from_km(m_random.chance(50) ? 0 : number(0, 40));
        b.preconditioned = m_random.chance(50);
        if (m_random.chance(30))
            b.bar_height = m.belts.bar_height * number(0.1, 1);
        return b;
    }

private:
    template <class Text, class Read>
    auto drawn(const Text& text, const Read& read) -> decltype(read(Value{}, std::string())) {
        for (;;)
            try {
                return read(parse_toml(text(), "drawn.toml"), "drawn.toml");
            } catch (const Error& e) {
                // Figures that do not fit each other; anything else is for the test to see.
                if (e.kind() != ErrorKind::input)
                    throw;
            }
    }
    std::string machine_text() {
        const int count = m_random.chance(50) ? 2 : 4;
        const double length_mm = number(1000, 20000);
        std::string t = maybe("engine_kw", 10, 2000);
        t += fmt::format("steering = \"{}\"\n", m_random.chance(50) ? "differential" : "articulated");
        t += fmt::format("agricultural = {}\n[speed_kmh]\ntop = {}\n", m_random.chance(50), number(1, 80));
        t += fmt::format("[belts]\ncount = {}\nlength_mm = {}\nwidth_mm = {}\n", count, length_mm,
                         number(100, 1200));
        t += fmt::format("bar_mm = {}\n", m_random.chance(90) ? number(10, 120) : number(5, 200));
        t += maybe("bar_thickness_mm", 5, 200) + maybe("worn_mm", 0, 60) + maybe("carcass_mm", 5, 100) +
             maybe("fill", 0.1, 0.9) + maybe("ground_run_mm", 300, std::max(301.0, 0.49 * length_mm)) +
             maybe_count("mid_rollers", 0, 20) + maybe("contact_mm", 20, 500);
        t += "[[state]]\nname = \"one\"\n";
        t += fmt::format("mass_kg = {}\nwidth_m = {}\nheight_m = {}\nlength_m = {}\n", number(500, 200000),
                         number(0.5, 12), number(0.5, 8), number(1, 40));
        if (m_random.chance(30))
            t += fmt::format("towed_kg = {}\ntowed_length_m = {}\n", number(0, 100000), number(0, 40));
        return t;
    }
    std::string rates_text() {
        const double most = m_random.chance(70) ? 100 : m_random.chance(70) ? 1e4 : 1e7;
        const auto money = [&](const char* key) { return maybe(key, 0, most); };
        std::string t = m_random.chance(50) ? "basis = \"full\"\n" : "";
        t += "[labour]\n" + money("wage_per_h") + maybe("factor", 0.5, 3);
        t += "[fuel]\n" + money("price_per_l") + maybe("speed_reduction_pct", 0, 60) +
             maybe("idle_l_per_h", 0, 100) + maybe("oil_share", 0, 1);
        t += "[belts]\n" + money("price_per_set") + money("fitting_per_set") + money("residual_per_set") +
             money("lubricant_per_stop") + maybe("relube_interval_km", 1, 200);
        t += "[machine]\n" + money("ownership_full_per_h") + money("ownership_marginal_per_h") +
             money("repair_per_h") + money("drive_permit_per_trip");
        t += "[escort]\n" + maybe_count("cars", 0, 10) + money("per_h") + money("per_km");
        t += "[shuttle]\n" + money("per_h") + money("per_km") + maybe("car_kmh", 10, 130);
        t += "[times]\n" + maybe("stop_two_belts_min", 0, 1440) + maybe("stop_four_belts_min", 0, 1440) +
             maybe("turn_out_min", 0, 1440) + maybe("prepare_min", 0, 1440) + maybe("wash_min", 0, 1440) +
             maybe("slow_start_min", 0, 1440) + maybe("slow_start_kmh", 1, 80) +
             maybe("expected_delay_min", 0, 1440) + money("delay_per_h");
        t += "[low_bed]\n" + money("per_h") + money("per_km") + money("minimum_per_trip") +
             maybe("billing_step_min", 1, 1440) + maybe("load_min", 0, 1440) + maybe("unload_min", 0, 1440) +
             maybe("wait_min", 0, 1440) + maybe("make_narrow_min", 0, 1440) +
             maybe("machine_running_h", 0, 24) + maybe("machine_load_fraction", 0.05, 1) +
             money("permit_per_trip") + money("toll_per_trip") + maybe_count("escort_cars", 0, 10);
        return t;
    }
    std::string low_bed_text() {
        std::string t = maybe("max_load_kg", 1000, 150000) + maybe("axle_limit_kg", 2000, 30000) +
                        maybe("length_m", 4, 40) + maybe("width_m", 1.5, 5) + maybe("height_m", 1.5, 5) +
                        maybe("deck_height_m", 0.1, 2) + maybe("empty_run_km", 0, 1000);
        return t + "[speed_kmh]\n" + maybe("empty", 5, 130) + maybe("loaded", 5, 130);
    }
    TestRandom m_random;
};

}  // namespace loamway::test

#endif
