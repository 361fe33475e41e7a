// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BELT_RANDOM_TRIPS_H
#define LOAMWAY_TESTS_BELT_RANDOM_TRIPS_H

// Random trips of the three generic machines, and how far another model of the bars is from the full one on
// them.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "belt_checks.h"
#include "loamway/belt/bar_heat.h"
#include "loamway/belt/reduced_heat.h"

namespace loamway::test {

/// A leg of a random trip: one way of moving kept up for a while.
struct Leg {
    Driving way;
    Duration time;
};
struct RandomTrip {
    std::string machine;
    double air_c;
    std::vector<Leg> legs;
};

// Moves as they are: warm or cold days, stretches of 1-10 km, stops of up to 25 minutes.
inline std::vector<RandomTrip> random_trips(int count, std::uint64_t seed = 20240517) {
    std::mt19937_64 random(seed);
    const auto between = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
    };
    std::vector<RandomTrip> out;
    for (int i = 0; i < count; ++i) {
        RandomTrip trip{std::string(1, "SML"[random() % 3]), std::round(between(-5, 38)), {}};
        const double top = trip.machine == "S" ? 30 : 40;
        const int legs = 8 + static_cast<int>(random() % 12);
        for (int leg = 0; leg < legs; ++leg) {
            const auto surface = static_cast<RoadSurface>(random() % road_surface_count);
            const bool stop = random() % 5 == 0;
            const double kmh = stop                                       ? 0
                               : surface == RoadSurface::field            ? between(5, 12)
                               : class_of(surface) == SurfaceClass::earth ? between(8, 20)
                                                                          : between(15, top);
            const Duration time =
                stop ? Duration::from_minutes(between(3, 25)) : time_for(between(1, 10), kmh);
            trip.legs.push_back({driving(surface, kmh, trip.air_c, between(0, 1)), time});
        }
        out.push_back(trip);
    }
    return out;
}

struct Errors {
    double over = 0, under = 0, squares = 0, peak_over = -99, peak_under = 99;
    int ends = 0;
    [[nodiscard]] double rms() const { return std::sqrt(squares / ends); }
};

/// `step(regime, time)` of another model against the full one, at the end of each leg and at the trip's peak.
template <class Start>
Errors compare(const std::vector<RandomTrip>& trips, const Start& start) {
    Errors e;
    for (const RandomTrip& trip : trips) {
        const HeatModel model = check_model(trip.machine);
        const Temperature cold = Temperature::from_celsius(trip.air_c);
        BarHeat full(model.belt(), RubberData{}, cold);
        auto other = start(model, cold);
        double full_peak = -99, other_peak = -99;
        for (const Leg& leg : trip.legs) {
            const HeatRegime g = model.regime(leg.way);
            full.run(g, leg.time);
            const double f = full.core().celsius(), o = other(g, leg.time).celsius();
            e.over = std::max(e.over, o - f);
            e.under = std::min(e.under, o - f);
            e.squares += (o - f) * (o - f);
            ++e.ends;
            full_peak = std::max(full_peak, f);
            other_peak = std::max(other_peak, o);
        }
        e.peak_over = std::max(e.peak_over, other_peak - full_peak);
        e.peak_under = std::min(e.peak_under, other_peak - full_peak);
    }
    return e;
}

template <int N>
Errors reduced_errors(const std::vector<RandomTrip>& trips) {
    return compare(trips, [](const HeatModel& model, Temperature cold) {
        return [&model, bar = ReducedBar<N>::at(cold)](const HeatRegime& g, Duration t) mutable {
            ReducedHeat<N>(model.belt(), RubberData{}, g).advance(bar, t);
            return bar.core();
        };
    });
}

}  // namespace loamway::test

#endif
