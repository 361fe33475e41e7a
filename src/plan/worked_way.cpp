// SPDX-License-Identifier: Apache-2.0
#include "worked_way.h"

#include <fmt/format.h>

#include <algorithm>

namespace loamway {

namespace {

void explain_what_stands_against_it(const Setting& setting, const PlanHeat& heat, WorkedWay& w) {
    const PlanInputs& in = setting.in();
    const UnitWords words = setting.words();
    if (!w.chosen.stops.answer_needed.empty())
        w.why_not.emplace_back("no fit place to re-lube in time");
    if (in.belts.condition == BeltsNow::Condition::not_run_in && !in.belts.preconditioned)
        w.why_not.emplace_back(
            "the belts are not run in: precondition them before they see a road (powder, slow work on soil)");
    if (!w.driven.holds)
        w.why_not.push_back(
            fmt::format("tread bars too hot however slowly it is driven and however long it pauses: they "
                        "may reach {} ({}), the limit is {}",
                        words.temperature(w.driven.acted_on_c), acted_on_is(in.heat.calibrated(), words),
                        words.temperature(heat.limits().limit.celsius())));
}

}  // namespace

WorkedWay work_out(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                   const PlanHeat& heat, RoutePlan chosen) {
    WorkedWay w;
    w.chosen = std::move(chosen);
    MannerSearch search(setting, roads, places, heat, w.chosen);
    w.driven = search.choose();
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        w.caps[static_cast<std::size_t>(c)] = search.cap_on(c, w.driven.manner);
    w.plain_cost = search.plain().cost.total().units();
    w.plain_holds = search.plain().holds;
    w.lower_bound = search.lower_bound();
    w.tried = search.tried();
    w.heat_record = search.record();
    explain_what_stands_against_it(setting, heat, w);
    return w;
}

int stops_on_the_way(const WorkedWay& w) {
    return static_cast<int>(std::count_if(w.driven.stops.begin(), w.driven.stops.end(),
                                          [](const ChosenStop& s) { return s.kind != "start"; }));
}

std::string manner_text(const Driven& d, const UnitWords& words) {
    std::string text;
    const auto add = [&](const std::string& piece) { text += (text.empty() ? "" : ", ") + piece; };
    if (d.manner.hard_cap)
        add(fmt::format("at most {} on paved roads", words.speed_cap(d.manner.hard_cap->kmh())));
    if (d.manner.gravel_cap)
        add(fmt::format("{} on gravel", words.speed_cap(d.manner.gravel_cap->kmh())));
    if (d.manner.pause.seconds() > 0)
        add(fmt::format("{:.0f} min longer at each stop", d.manner.pause.minutes()));
    for (const PathStop& s : d.path.stops)
        if (d.stops[s.stop].kind == "cooling")
            add(fmt::format("one stop of {:.0f} min to cool at {}", d.manner.cooling_time.minutes(),
                            words.at(static_cast<double>(s.at_dm) / 10.0)));
    return text;
}

}  // namespace loamway
