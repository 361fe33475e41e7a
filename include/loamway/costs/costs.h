// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_COSTS_H
#define LOAMWAY_COSTS_COSTS_H

// What a move costs, driven or hauled, from its lengths, times and wear. Sums are in the rates' currency.
//
// Driven:  wage k_lab T + fuel (F_move + q_idle (T_stops + T_slow + T_prep + T_wash)) (1 + oil)
//          + wear share (belts + fitting - residual) + lubricant n + (ownership + repair) T_move
//          + escorts [per_h (T + L / v_car) + per_km 2 L] + delay T + shuttle (2 L / v_car per_h + 2 L
//          per_km)
// Hauled:  max(minimum, per_h T_billed + per_km all km) + permit + toll
//          + escorts [per_h (T_loaded + L_loaded / v_car) + per_km 2 L_loaded]
//          + wage (wait + load + loaded run + unload + making narrow) + machine running while loaded + delay
//          T
// A mixed move is the sum of its legs. Fuel coefficients: Grisso, Kocher and Vaughan 2004, from memory. Pure
// functions, safe to call from any thread.

#include "loamway/base/units.h"
#include "loamway/profile/machine.h"
#include "loamway/profile/rates.h"

namespace loamway {

struct CostParts {
    Money labour, fuel, oil, belts, ownership, repair, lubricant, escort, truck, permit, toll, delay, shuttle;
    [[nodiscard]] Money total() const;
    CostParts& operator+=(const CostParts& other);
};

struct DriveFigures {
    Length length;             // driven
    Duration driving;          // wheels turning (belts moving)
    Duration stopped;          // all stops together
    Duration slow_extra;       // the slow quarter of an hour, where it falls due
    int lubrications = 1;      // times powder is put on, the start counted when it happens
    bool prepare = true;       // rates.prepare before leaving counts for this leg
    bool wash = true;          // rates.wash counts for this leg; a mixed move washes once
    bool expect_delay = true;  // rates.expected_delay counts for this leg
    double wear_share = 0;     // of a belt set
    bool shuttle = true;       // the driver or his van has to be fetched
    Volume fuel;               // used while driving
    int wide_escorts = 0;      // cars that the width asks for; the rates may say more
    bool wide_permit = false;  // as wide as asks for a permit: rates.drive_permit counts
};
/// Time of the driver: driving, stops, slow start, preparation, washing, expected delay.
[[nodiscard]] Duration drive_time(const DriveFigures& f, const Rates& r);
[[nodiscard]] CostParts drive_cost(const DriveFigures& f, const Rates& r);
/// Litres used while driving plus idling at stops, preparation and wash. What the slow start takes longer
/// counts as idling: the way and the work are the same, only the engine runs on.
[[nodiscard]] Volume drive_fuel(const DriveFigures& f, const Rates& r);
/// Litres an hour at a share X of rated power P and N % engine-speed reduction; not meant for X below 0.15:
/// Q = (0.22 X + 0.096)(1 - (-0.0045 X N + 0.00877 N)) P.
[[nodiscard]] Volume fuel_per_hour(Power rated, double load_fraction, double speed_reduction_pct);
/// Stops that an interval asks for on a length: ceil(length / interval) - 1, never below zero. A length of
/// exactly n intervals needs n - 1; the end point is no stop. Lubrications are one more: the start.
[[nodiscard]] int stops_needed(Length length, Length interval);

struct HaulFigures {
    Length to_pickup, loaded, back;  // the low-bed's three runs
    Duration to_pickup_time, loaded_time, back_time;
    Power engine;          // of the machine, which runs while it goes on and off the deck
    int wide_escorts = 0;  // cars that the loaded width asks for; the rates may say more
    bool permit = true;    // over a limit, or nobody knows: rates.permit counts
};
[[nodiscard]] Duration haul_time(const HaulFigures& f, const Rates& r);    // of the low-bed, all told
[[nodiscard]] Duration billed_time(const HaulFigures& f, const Rates& r);  // rounded up to the billing step
[[nodiscard]] CostParts haul_cost(const HaulFigures& f, const Rates& r);

}  // namespace loamway

#endif
