// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/ownership.h"

#include <algorithm>
#include <cmath>

namespace loamway {
namespace {

constexpr double kw_per_hp = 0.7457;

double value_bracket(double years, double hours_per_year, const ValueCoefficients& c) {
    return std::max(0.0, c.c1 - c.c2 * std::sqrt(years) - c.c3 * std::sqrt(hours_per_year));
}

}  // namespace

double capital_recovery_factor(double interest, double years) {
    if (interest == 0.0)
        return 1.0 / years;
    const double growth = std::pow(1.0 + interest, years);
    return interest * growth / (growth - 1.0);
}

ValueCoefficients value_coefficients(Power rated) {
    const double hp = rated.kw() / kw_per_hp;
    if (hp >= 150.0)
        return {};
    return hp >= 80.0 ? ValueCoefficients{0.9421, 0.0997, 0.0008} : ValueCoefficients{0.9809, 0.0934, 0.0058};
}

Money remaining_value(Money list_price, double years, double hours_per_year, const ValueCoefficients& c) {
    const double b = value_bracket(years, hours_per_year, c);
    return list_price * (b * b);
}

Money marginal_depreciation_per_h(Money list_price, double years, double hours_per_year,
                                  const ValueCoefficients& c) {
    // d/dH of the remaining value, where an hour more raises the yearly mean by 1 / years.
    const double b = value_bracket(years, hours_per_year, c);
    return list_price * (2.0 * b * c.c3 / (2.0 * std::sqrt(hours_per_year)) / years);
}

Money marginal_repair_per_h(Money list_price, Duration worked, const RepairFactors& f) {
    return list_price * (f.rf1 * f.rf2 * std::pow(worked.hours() / 1000.0, f.rf2 - 1.0) / 1000.0);
}

Money capital_recovery_per_year(Money purchase, Money salvage, double interest, double years) {
    return (purchase - salvage) * capital_recovery_factor(interest, years) + salvage * interest;
}

Money insurance_per_year(Money purchase, Money salvage, double share) {
    return (purchase + salvage) * (share / 2.0);
}

HourOfMachine hour_of_machine(const OwnedMachine& m) {
    HourOfMachine h;
    h.salvage = remaining_value(m.list_price, m.years, m.hours_per_year, m.value);
    const Money per_year = capital_recovery_per_year(m.purchase_price, h.salvage, m.interest, m.years) +
                           insurance_per_year(m.purchase_price, h.salvage, m.insurance_share);
    h.ownership_full = per_year / m.hours_per_year;
    h.ownership_marginal = marginal_depreciation_per_h(m.list_price, m.years, m.hours_per_year, m.value);
    h.repair_without_belts =
        marginal_repair_per_h(m.list_price, m.worked, m.repair) * (1.0 - m.belt_share_of_repair);
    return h;
}

}  // namespace loamway
