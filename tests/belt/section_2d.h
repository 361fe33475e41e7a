// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BELT_SECTION_2D_H
#define LOAMWAY_TESTS_BELT_SECTION_2D_H

// A bar's section in two dimensions (height and half the thickness) by explicit finite volumes, with the
// films and sources of a HeatRegime but none of the shortcuts for the thickness: what the one-dimensional
// model is compared with.

#include <algorithm>
#include <cmath>
#include <vector>

#include "loamway/belt/heat_model.h"

namespace loamway::test {

class Section2d {
public:
    Section2d(const BeltLoad& belt, const RubberData& rubber, double start, int high = 40, int wide = 20)
        : m_rubber(rubber),
          m_high(high),
          m_wide(wide),
          m_dx(belt.bar_height.metres() / high),
          m_dy(belt.bar_thickness.metres() / 2 / wide),
          m_t(static_cast<std::size_t>(high * wide), start) {}

    void run(const HeatRegime& r, double seconds) {
        const double a = m_rubber.diffusivity();
        const double stable = 0.4 / (2 * a * (1 / (m_dx * m_dx) + 1 / (m_dy * m_dy)));
        const int steps = static_cast<int>(std::ceil(seconds / stable));
        for (int i = 0; i < steps; ++i)
            step(r, seconds / steps);
    }
    [[nodiscard]] double hottest() const { return *std::max_element(m_t.begin(), m_t.end()); }

private:
    [[nodiscard]] double& at(std::vector<double>& t, int i, int j) const {
        return t[static_cast<std::size_t>(i * m_wide + j)];
    }
    void step(const HeatRegime& r, double dt) {
        std::vector<double> next = m_t;
        const double k = m_rubber.k, rho_c = m_rubber.rho * m_rubber.c;
        const double root = 1 / (1 / r.u_c + m_dx / 2 / k), tip = 1 / (1 / r.h_o + m_dx / 2 / k);
        const double flank = 1 / (1 / r.h_f + m_dy / 2 / k);
        for (int i = 0; i < m_high; ++i)
            for (int j = 0; j < m_wide; ++j) {
                const double here = at(m_t, i, j);
                const double below = i == 0 ? root * (r.t_c - here) : k / m_dx * (at(m_t, i - 1, j) - here);
                const double above = i + 1 == m_high ? tip * (r.t_o + r.q_tip / r.h_o - here)
                                                     : k / m_dx * (at(m_t, i + 1, j) - here);
                const double inside = j == 0 ? 0 : k / m_dy * (at(m_t, i, j - 1) - here);
                const double outside =
                    j + 1 == m_wide ? flank * (r.t_f - here) : k / m_dy * (at(m_t, i, j + 1) - here);
                const double q = r.q0 * (1 - m_rubber.beta * (here - m_rubber.reference_c));
                at(next, i, j) = here + dt / rho_c * ((below + above) / m_dx + (inside + outside) / m_dy + q);
            }
        m_t.swap(next);
    }

    RubberData m_rubber;
    int m_high, m_wide;
    double m_dx, m_dy;
    std::vector<double> m_t;
};

}  // namespace loamway::test

#endif
