// SPDX-License-Identifier: Apache-2.0
// Heat for a search: one edge of the reduced model, setting up a regime, and the full solver beside them; how
// far the reduced models are from the full one on a thousand random trips, in K: at the ends of legs (over,
// under, rms) and at each trip's peak.
#include <benchmark/benchmark.h>

#include "belt/random_trips.h"
#include "loamway/belt/bar_heat.h"
#include "loamway/belt/reduced_heat.h"

namespace loamway {
namespace {

Machine medium() {
    Machine m;
    m.engine = Power::from_kw(240);
    m.top = Speed::from_kmh(40);
    BeltGeometry& b = m.belts;
    b.belt_length = Length::from_mm(7100);
    b.width = Length::from_mm(550);
    b.bar_height = b.bar_thickness = Length::from_mm(55);
    b.carcass = Length::from_mm(30);
    b.ground_run = Length::from_metres(2);
    b.contact = Length::from_mm(150);
    WorkingState s;
    s.mass = Mass::from_tonnes(16);
    s.axles = {s.mass};
    s.tracked = {true};
    s.width = Length::from_metres(2.75);
    s.height = Length::from_metres(3.4);
    m.states = {s};
    return m;
}

const HeatModel& model() {
    static const Machine machine = medium();
    static const HeatModel out(machine, machine.states.front());
    return out;
}

Driving on(RoadSurface surface, double kmh) {
    return {surface, Speed::from_kmh(kmh), Temperature::from_celsius(25), 0.5, 0.0};
}

template <int N>
void reduced_edge(benchmark::State& state) {
    const ReducedHeat<N> hard(model().belt(), RubberData{}, model().regime(on(RoadSurface::asphalt, 40)));
    const ReducedHeat<N> soft(model().belt(), RubberData{}, model().regime(on(RoadSurface::earth, 15)));
    ReducedBar<N> bar = ReducedBar<N>::at(Temperature::from_celsius(25));
    double seconds = 20;
    const ReducedHeat<N>* now = &hard;
    for (auto _ : state) {
        // Edges of many lengths, on road and earth in turn, so that nothing can be worked out once.
        seconds = seconds > 90 ? 20 : seconds + 1.25;
        now->advance(bar, Duration::from_seconds(seconds));
        now = now == &hard ? &soft : &hard;
        benchmark::DoNotOptimize(bar);
    }
}
BENCHMARK(reduced_edge<3>);
BENCHMARK(reduced_edge<5>);

void regime_coefficients(benchmark::State& state) {
    double kmh = 10;
    for (auto _ : state) {
        kmh = kmh > 39 ? 10 : kmh + 0.5;
        benchmark::DoNotOptimize(model().regime(on(RoadSurface::asphalt, kmh)));
    }
}
BENCHMARK(regime_coefficients);

template <int N>
void reduced_regime(benchmark::State& state) {
    double kmh = 10;
    for (auto _ : state) {
        kmh = kmh > 39 ? 10 : kmh + 0.5;
        const HeatRegime regime = model().regime(on(RoadSurface::asphalt, kmh));
        benchmark::DoNotOptimize(ReducedHeat<N>(model().belt(), RubberData{}, regime));
    }
}
BENCHMARK(reduced_regime<3>);
BENCHMARK(reduced_regime<5>);

void full_minute(benchmark::State& state) {
    const HeatRegime regime = model().regime(on(RoadSurface::asphalt, 40));
    BarHeat bar(model().belt(), RubberData{}, Temperature::from_celsius(25));
    for (auto _ : state) {
        bar.run(regime, Duration::from_minutes(1));
        benchmark::DoNotOptimize(bar.core());
    }
}
BENCHMARK(full_minute);

template <int N>
void errors_on_trips(benchmark::State& state) {
    const std::vector<test::RandomTrip> trips = test::random_trips(1000, 7);
    test::Errors e;
    for (auto _ : state)
        e = test::reduced_errors<N>(trips);
    state.counters["legs"] = e.ends;
    state.counters["over"] = e.over;
    state.counters["under"] = e.under;
    state.counters["rms"] = e.rms();
    state.counters["peak_over"] = e.peak_over;
    state.counters["peak_under"] = e.peak_under;
}
BENCHMARK(errors_on_trips<3>)->Iterations(1)->Unit(benchmark::kMillisecond);
BENCHMARK(errors_on_trips<5>)->Iterations(1)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace loamway

BENCHMARK_MAIN();
