// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/load_words.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/unit_words.h"
#include "loamway/haul/bridge_formula.h"

namespace loamway {
namespace {

constexpr double metres_per_inch = 0.0254;
// International foot and pound, standard gravity.
constexpr double newtons_per_lbf = 4.4482216152605;
constexpr double joules_per_ft_lbf = newtons_per_lbf * 0.3048;
constexpr double pascals_per_psi = newtons_per_lbf / (metres_per_inch * metres_per_inch);

// What both speak of looks the same.
UnitWords in_plans(bool imperial) {
    return UnitWords(imperial ? "imperial" : "metric");
}

double to_step(double value, double step) {
    return std::round(value / step) * step;
}
double lbf(Force f) {
    return f.kilonewtons() * 1000 / newtons_per_lbf;
}

}  // namespace

std::string LoadWords::size(Length l) const {
    return in_plans(m_imperial).size(l.metres());
}
std::string LoadWords::range(Length a, Length b) const {
    return m_imperial ? fmt::format("{} to {}", size(a), size(b))
                      : fmt::format("{:.2f} to {}", a.metres(), size(b));
}
std::string LoadWords::small_number(Length l) const {
    return m_imperial ? fmt::format("{:.1f}", l.metres() / metres_per_inch) : fmt::format("{:.0f}", l.mm());
}
std::string LoadWords::small(Length l) const {
    return fmt::format("{} {}", small_number(l), m_imperial ? "in" : "mm");
}
std::string LoadWords::bend(Length l) const {
    return m_imperial ? fmt::format("{:.2f} in", l.metres() / metres_per_inch)
                      : fmt::format("{:.1f} mm", l.mm());
}
std::string LoadWords::mass(Mass m) const {
    return in_plans(m_imperial).mass(m.tonnes());
}
std::string LoadWords::mass_of(Mass m, Mass limit) const {
    return m_imperial ? fmt::format("{:.0f} of {}", m.kg() / kg_per_lb, mass(limit))
                      : fmt::format("{:.1f} of {}", m.tonnes(), mass(limit));
}
std::string LoadWords::chain(Mass m) const {
    return m_imperial ? mass(m) : fmt::format("{:.0f} kg", m.kg());
}
std::string LoadWords::force_number(Force f) const {
    return fmt::format("{:.0f}", m_imperial ? to_step(lbf(f), 100) : f.kilonewtons());
}
std::string LoadWords::force(Force f) const {
    return fmt::format("{} {}", force_number(f), m_imperial ? "lbf" : "kN");
}
std::string LoadWords::small_force(Force f) const {
    return m_imperial ? fmt::format("{:.0f} lbf", to_step(lbf(f), 10))
                      : fmt::format("{:.1f} kN", f.kilonewtons());
}
std::string LoadWords::energy(Energy e) const {
    return m_imperial ? fmt::format("{:.0f} ft lbf", to_step(e.kilojoules() * 1000 / joules_per_ft_lbf, 10))
                      : fmt::format("{:.1f} kJ", e.kilojoules());
}
std::string LoadWords::stress_number(Stress s, int decimals) const {
    return m_imperial ? fmt::format("{:.0f}", to_step(s.megapascals() * 1e6 / pascals_per_psi, 10))
                      : fmt::format("{:.{}f}", s.megapascals(), decimals);
}
std::string LoadWords::stress(Stress s, int decimals) const {
    return fmt::format("{} {}", stress_number(s, decimals), m_imperial ? "psi" : "MPa");
}

}  // namespace loamway
