// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_COSTS_H
#define LOAMWAY_COSTS_COSTS_H

// What a move costs, driven or hauled, from its lengths, times and wear. Sums are in the rates' currency.

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
    Length length;          // driven
    Duration driving;       // wheels turning (belts moving)
    Duration stopped;       // all stops together
    Duration slow_extra;    // the slow quarter of an hour, where it falls due
    int lubrications = 1;   // times powder is put on, the start counted when it happens
    bool prepare = true;    // rates.prepare before leaving counts for this leg
    double wear_share = 0;  // of a belt set
    bool shuttle = true;    // the driver or his van has to be fetched
    Power engine;
};
/// Time of the driver: driving, stops, slow start, preparation, washing.
[[nodiscard]] Duration drive_time(const DriveFigures& f, const Rates& r);
[[nodiscard]] CostParts drive_cost(const DriveFigures& f, const Rates& r);
/// Litres used while driving plus idling at stops, preparation and wash.
[[nodiscard]] Volume drive_fuel(const DriveFigures& f, const Rates& r);
/// Litres an hour at a share of rated power: Q = (0.22 X + 0.096)(1 - (-0.0045 X N + 0.00877 N)) P.
[[nodiscard]] Volume fuel_per_hour(Power rated, double load_fraction, double speed_reduction_pct);
/// Stops that an interval asks for on a length: ceil(length / interval) - 1, never below zero.
[[nodiscard]] int stops_needed(Length length, Length interval);

struct HaulFigures {
    Length to_pickup, loaded, back;   // the low-bed's three runs
    Duration to_pickup_time, loaded_time, back_time;
    Power engine;                     // of the machine, which runs while it is loaded
};
[[nodiscard]] Duration haul_time(const HaulFigures& f, const Rates& r);      // of the low-bed, all told
[[nodiscard]] Duration billed_time(const HaulFigures& f, const Rates& r);    // rounded up to the billing step
[[nodiscard]] CostParts haul_cost(const HaulFigures& f, const Rates& r);

}  // namespace loamway

#endif
