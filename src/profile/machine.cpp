// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/machine.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

std::string_view name_of(Steering s) {
    switch (s) {
        case Steering::differential:
            return "differential";
        case Steering::articulated:
            return "articulated";
        case Steering::rear_wheel:
            return "rear-wheel";
    }
    throw Error(ErrorKind::internal, "a steering kind without a name");
}

std::string_view name_of(BeltsNow::Condition c) {
    switch (c) {
        case BeltsNow::Condition::not_run_in:
            return "new";
        case BeltsNow::Condition::run_in:
            return "run-in";
        case BeltsNow::Condition::washed:
            return "washed";
    }
    throw Error(ErrorKind::internal, "a belt condition without a name");
}

Mass WorkingState::heaviest_track_axle() const {
    Mass heaviest;
    for (std::size_t i = 0; i < axles.size(); ++i) {
        const bool on_belts = i >= tracked.size() || tracked[i];
        if (on_belts)
            heaviest = std::max(heaviest, axles[i]);
    }
    return heaviest;
}

Speed Machine::speed_on(SurfaceClass c) const {
    switch (c) {
        case SurfaceClass::hard:
            return hard;
        case SurfaceClass::gravel:
            return gravel;
        case SurfaceClass::earth:
            return earth;
    }
    throw Error(ErrorKind::internal, "a surface class without a speed");
}

const WorkingState& Machine::state(const std::string& wanted) const {
    if (wanted.empty())
        return states.front();
    std::vector<std::string_view> known;
    for (const WorkingState& s : states) {
        if (s.name == wanted)
            return s;
        known.emplace_back(s.name);
    }
    const std::string nearest = nearest_name(wanted, known);
    throw Error(ErrorKind::input,
                fmt::format("machine \"{}\" has no working state \"{}\"", printable(name), printable(wanted)),
                nearest.empty()
                    ? fmt::format("known states: {}", printable(fmt::format("{}", fmt::join(known, ", "))))
                    : fmt::format("did you mean \"{}\"? known states: {}", printable(nearest),
                                  printable(fmt::format("{}", fmt::join(known, ", ")))),
                ErrorPlace{file, std::nullopt, "state"});
}

Length Machine::standing_length(const WorkingState& s) const {
    const auto run = [&](std::size_t axle) { return s.tracked[axle] ? belts.ground_run : Length(); };
    if (s.axles.size() < 2)
        return belts.ground_run;
    return wheelbase + (run(0) + run(s.axles.size() - 1)) * 0.5;
}

VehicleView Machine::vehicle(const WorkingState& s) const {
    VehicleView view;
    view.kind = VehicleKind::machine;
    view.agricultural = agricultural;
    view.width = s.width;
    view.height = s.height;
    view.length = s.combination_length();
    view.mass = s.combination_mass();
    view.axle = s.heaviest_track_axle();
    view.top_speed = top;
    return view;
}

bool BeltsNow::needs_start_lube() const {
    return condition != Condition::run_in || (hours && *hours < 100.0);
}

}  // namespace loamway
