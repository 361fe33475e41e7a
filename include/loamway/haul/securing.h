// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_SECURING_H
#define LOAMWAY_HAUL_SECURING_H

// How many tie-downs a load asks for and how strong they must be, after two families of rules:
//   49 CFR 393.102, 393.106, 393.110, 393.130 (United States; read second-hand, see each function)
//   the direct-lashing equation of EN 12195-1 (from memory; c_y and the part of friction seen in extract)
// The figures are a starting point for the person who secures the load; the local code and the makers'
// marks on chains and anchors decide. Pure functions.

#include "loamway/base/mechanics.h"

namespace loamway {

struct Article {
    Length length;
    Mass mass;
    bool blocked_forward = false;
    bool machine = false;  // on wheels or tracks
};
/// 393.110(b): not blocked forward 1 (up to 5 ft and 1100 lb), 2 (up to 5 ft and heavier, or up to 10 ft),
/// then one more for each further 10 ft or part; (c) blocked forward: one for each 10 ft or part (rule page
/// quoted second-hand). 393.130: a machine of 10 000 lb and more never fewer than 4 (seen in extract).
[[nodiscard]] int us_tiedowns(const Article& a);

/// How a tie-down runs: from the vehicle to the load, or over, through or around it to another anchor.
enum class TieDownRun { direct, over };
struct UsStrength {
    Mass aggregate;           // half of each limit for direct tie-downs, the whole for others
    Mass required;            // half the load
    bool each_enough = true;  // every one at least 5000 lb, asked of machines from 10 000 lb (handbook text)
    [[nodiscard]] bool enough() const { return aggregate >= required; }
};
/// 393.106(d), seen second-hand. `limit` is the working load limit marked on each tie-down.
[[nodiscard]] UsStrength us_strength(const Article& a, int count, Mass limit, TieDownRun run);
/// The least number that meets count and strength; `limit` above zero.
[[nodiscard]] int us_tiedowns_needed(const Article& a, Mass limit, TieDownRun run);

/// Directions the load may move in, with the acceleration EN 12195-1 takes for each, in g: 0.8, 0.5, 0.5.
enum class Push { forward, rearward, sideways };
struct DirectLashing {
    int chains = 2;                         // that hold in this direction
    Angle rise = Angle::from_degrees(35);   // alpha: chain over the deck
    Angle aside = Angle::from_degrees(25);  // beta: chain out of the direction held, seen from above
    double friction = 0.6;                  // between belt and deck
    double friction_share = 0.75;           // f_mu, from memory
};
/// F = m g (c - mu f_mu) / (n (cos alpha cos beta + mu f_mu sin alpha)) for each chain; never below zero.
[[nodiscard]] Force direct_lashing_force(Mass mass, Push push, const DirectLashing& lashing);
[[nodiscard]] double acceleration_of(Push push);

/// Assumptions of this project: clean dry rubber on wood; freshly lubricated, wet or muddy.
constexpr double friction_dry = 0.6;
constexpr double friction_slippery = 0.3;

}  // namespace loamway

#endif
