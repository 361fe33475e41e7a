// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/axle_statics.h"

#include <algorithm>

#include "loamway/base/error.h"

namespace loamway {
namespace {

double greatest_share(const TruckAxles& t, Mass load, Length x) {
    const AxleLoads l = axle_loads(t, load, x);
    return std::max({l.trailer / t.trailer_limit, l.kingpin / t.kingpin_limit, l.drive / t.drive_limit,
                     l.steer / t.steer_limit});
}

void add_group(std::vector<AxleAt>& out, int count, Length middle, Length spacing, Mass load) {
    for (int i = 0; i < count; ++i)
        out.push_back({middle + spacing * (i - (count - 1) / 2.0), load / count});
}

}  // namespace

std::string_view name_of(Binding b) {
    switch (b) {
        case Binding::none:
            return "nothing";
        case Binding::trailer:
            return "trailer axles";
        case Binding::kingpin:
            return "kingpin";
        case Binding::drive:
            return "drive axles";
        case Binding::steer:
            return "steering axle";
    }
    throw Error(ErrorKind::internal, "a binding limit without a name");
}

AxleLoads axle_loads(const TruckAxles& t, Mass load, Length behind_kingpin) {
    AxleLoads l;
    l.trailer = load * (behind_kingpin / t.trailer_at) + t.trailer * (t.trailer_centre / t.trailer_at);
    l.kingpin = load + t.trailer - l.trailer;
    const double forward = t.kingpin_ahead / t.wheelbase;
    l.steer = t.steer + l.kingpin * forward;
    l.drive = t.drive + l.kingpin * (1.0 - forward);
    return l;
}

DeckWindow deck_window(const TruckAxles& t, Mass load) {
    if (load <= Mass())
        throw Error(ErrorKind::internal, "a deck window without a load");
    const double forward = t.kingpin_ahead / t.wheelbase;
    DeckWindow w;
    w.kingpin_cap = t.kingpin_limit;
    w.front = Binding::kingpin;
    const auto cap = [&w](Mass at_kingpin, Binding b) {
        if (at_kingpin < w.kingpin_cap) {
            w.kingpin_cap = at_kingpin;
            w.front = b;
        }
    };
    cap((t.drive_limit - t.drive) / (1.0 - forward), Binding::drive);
    if (forward > 0)
        cap((t.steer_limit - t.steer) / forward, Binding::steer);
    w.rear = Binding::trailer;
    const auto place_of_trailer_load = [&](Mass trailer) {
        return (t.trailer_at * (trailer / load)) - t.trailer_centre * (t.trailer / load);
    };
    w.to = place_of_trailer_load(t.trailer_limit);
    w.from = place_of_trailer_load(load + t.trailer - w.kingpin_cap);
    return w;
}

Length best_place(const TruckAxles& t, Mass load, Length from, Length to) {
    // The greatest of straight lines is convex: thirds close in on its least value.
    double a = from.metres(), b = std::max(from.metres(), to.metres());
    for (int i = 0; i < 100; ++i) {
        const double left = a + (b - a) / 3, right = b - (b - a) / 3;
        if (greatest_share(t, load, Length::from_metres(left)) <=
            greatest_share(t, load, Length::from_metres(right)))
            b = right;
        else
            a = left;
    }
    return Length::from_metres((a + b) / 2);
}

std::vector<AxleAt> single_axles(const TruckAxles& t, const AxleLoads& loads) {
    std::vector<AxleAt> out{{t.kingpin_ahead - t.wheelbase, loads.steer}};
    add_group(out, t.drive_axles, t.kingpin_ahead, t.drive_spacing, loads.drive);
    add_group(out, t.trailer_axles, t.trailer_at, t.trailer_spacing, loads.trailer);
    return out;
}

}  // namespace loamway
