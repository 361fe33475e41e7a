// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_AXLE_STATICS_H
#define LOAMWAY_HAUL_AXLE_STATICS_H

// Loads on kingpin and axles of a truck with a semitrailer, and where on the deck a load may stand. Lever
// rule; positions in metres behind the kingpin, an axle group stands for its middle:
//   trailer = (M x + m_t x_t) / x_a     kingpin = M + m_t - trailer
//   steer = steer_0 + kingpin d / wb    drive = drive_0 + kingpin (1 - d / wb)
// Pure functions.

#include <string_view>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/haul/bridge_formula.h"
#include "loamway/profile/low_bed.h"

namespace loamway {

struct AxleLoads {
    Mass kingpin, trailer, steer, drive;
    [[nodiscard]] Mass gross() const { return trailer + steer + drive; }
};
/// Loads with a mass whose centre stands `behind_kingpin`; an empty low-bed with no mass.
[[nodiscard]] AxleLoads axle_loads(const TruckAxles& t, Mass load, Length behind_kingpin);

enum class Binding { none, trailer, kingpin, drive, steer };
[[nodiscard]] std::string_view name_of(
    Binding b);  // "trailer axles", "kingpin", "drive axles", "steering axle"

/// Where the centre of mass may stand so that no limit is passed.
struct DeckWindow {
    Length from, to;      // behind the kingpin; `from` > `to`: nowhere
    Binding front, rear;  // the limit that ends the window there
    Mass kingpin_cap;     // the least kingpin load that a limit allows
    [[nodiscard]] bool open() const { return from <= to; }
};
/// With no mass on the deck the window is not defined: internal Error.
[[nodiscard]] DeckWindow deck_window(const TruckAxles& t, Mass load);
/// The place within `from`..`to` where the greatest share of any limit is least.
[[nodiscard]] Length best_place(const TruckAxles& t, Mass load, Length from, Length to);

/// Each axle of the combination with its share of its group, front to rear.
[[nodiscard]] std::vector<AxleAt> single_axles(const TruckAxles& t, const AxleLoads& loads);

}  // namespace loamway

#endif
