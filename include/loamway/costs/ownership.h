// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_OWNERSHIP_H
#define LOAMWAY_COSTS_OWNERSHIP_H

// What an hour of the machine itself costs, on both bases: where the three default rates of Rates come from.
//   capital recovery  (P - S) i (1 + i)^n / ((1 + i)^n - 1) + S i; without interest (P - S) / n
//                     (Iowa State University Extension, Ag Decision Maker A3-29)
//   remaining value   PL (C1 - C2 sqrt(n) - C3 sqrt(h))^2, n years, h mean hours a year; the bracket never
//                     below zero (form: ASABE D497, as named in Herranz-Matey and Ruiz-Garcia 2024;
//                     coefficients from memory)
//   repair so far     PL RF1 (H / 1000)^RF2 (form as above; factors from memory)
// Marginal figures are the derivatives by the hour. Repair of D497 includes track parts: where belts are
// charged by their wear, a share of it (0.30, assumption) has to go. Pure functions, safe to call from any
// thread.

#include "loamway/base/units.h"

namespace loamway {

/// i (1 + i)^n / ((1 + i)^n - 1), for interest as a fraction; 1 / n without interest. Needs years > 0.
[[nodiscard]] double capital_recovery_factor(double interest, double years);

struct ValueCoefficients {
    double c1 = 0.9756, c2 = 0.1187, c3 = 0.0019;  // engines of 150 hp and more
};
/// From memory: by rated power, 150 hp and more, 80 to 150 hp, less.
[[nodiscard]] ValueCoefficients value_coefficients(Power rated);
[[nodiscard]] Money remaining_value(Money list_price, double years, double hours_per_year,
                                    const ValueCoefficients& c = {});
/// Value lost by one more hour of work.
[[nodiscard]] Money marginal_depreciation_per_h(Money list_price, double years, double hours_per_year,
                                                const ValueCoefficients& c = {});

struct RepairFactors {
    double rf1 = 0.003, rf2 = 2.0;  // four-wheel drive and crawler; two-wheel drive 0.007, 2.0
};
[[nodiscard]] Money marginal_repair_per_h(Money list_price, Duration worked, const RepairFactors& f = {});

struct OwnedMachine {
    Money list_price = Money::from_units(400000), purchase_price = Money::from_units(360000);
    double years = 10, hours_per_year = 500;
    Duration worked = Duration::from_hours(5000);  // on the hour counter now
    double interest = 0.06;
    double insurance_share = 0.01;  // taxes, insurance and housing, of the mean value a year
    double belt_share_of_repair = 0.30;
    ValueCoefficients value;
    RepairFactors repair;
};

[[nodiscard]] Money capital_recovery_per_year(Money purchase, Money salvage, double interest, double years);
/// Taxes, insurance and housing: share (P + S) / 2 a year.
[[nodiscard]] Money insurance_per_year(Money purchase, Money salvage, double share);

struct HourOfMachine {
    Money ownership_full;      // capital, taxes, insurance, housing over the hours of a year
    Money ownership_marginal;  // only what one more hour takes from its value
    Money repair_without_belts;
    Money salvage;  // at the end of the years
};
[[nodiscard]] HourOfMachine hour_of_machine(const OwnedMachine& m);

}  // namespace loamway

#endif
