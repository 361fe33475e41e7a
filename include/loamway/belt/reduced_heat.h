// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_REDUCED_HEAT_H
#define LOAMWAY_BELT_REDUCED_HEAT_H

// The tread-bar heat equation with a few numbers of state, for searching over many roads.
//   T(xi) = sum a_n P_n(xi), x = H (1 + xi) / 2, n = 0..N-1 (Legendre), Galerkin in space: M a' = -S a + F
// S with M^-1/2 on both sides is symmetric; its eigenvectors (Jacobi) are found once per regime, and the step
// is then exact for any length of time: a -> a_inf + P exp(-lambda t) Q (a - a_inf). The state means the same
// in every regime. The lag follows in pieces of at most 300 s. Against the full solver, three states stand
// within 3 K for the trips of real moves: use a planning margin of 3 K. Two runs with N = 3 and N = 5 beside
// each other tell how far off it is on a given route. Nearly keeps order: prune with 0.5 K of tolerance.
// Immutable after construction: share between threads.

#include <array>
#include <cstddef>

#include "loamway/base/units.h"
#include "loamway/belt/heat_model.h"

namespace loamway {

template <int N>
struct ReducedBar {
    std::array<double, static_cast<std::size_t>(N)> a{};
    double lag = 0.0;
    double hottest = 0.0;  // of the profile, kept so that no step has to look for it twice
    [[nodiscard]] static ReducedBar at(Temperature start) {
        ReducedBar out;
        out.a[0] = start.celsius();
        out.hottest = start.celsius();
        return out;
    }
    [[nodiscard]] Temperature core() const { return Temperature::from_celsius(hottest + lag); }
    [[nodiscard]] Temperature mean() const { return Temperature::from_celsius(a[0]); }
    friend bool operator==(const ReducedBar&, const ReducedBar&) = default;
};

/// One regime, ready to be applied to any number of states. N from 2 to 6; one state alone is 33 K off.
template <int N>
class ReducedHeat {
public:
    ReducedHeat(const BeltLoad& belt, const RubberData& rubber, const HeatRegime& regime);

    void advance(ReducedBar<N>& bar, Duration time) const;
    /// Rates of decay, 1/s, slowest first.
    [[nodiscard]] std::array<double, static_cast<std::size_t>(N)> rates() const { return m_rates; }
    /// What the bar tends to.
    [[nodiscard]] ReducedBar<N> settled() const;

private:
    using Vector = std::array<double, static_cast<std::size_t>(N)>;
    using Matrix = std::array<Vector, static_cast<std::size_t>(N)>;
    Vector m_rates{}, m_settled{};
    Matrix m_to_modes{}, m_from_modes{};
    double m_lag_time = 0.0, m_lag_per_kelvin = 0.0, m_lag_sink = 0.0;
};

extern template class ReducedHeat<2>;
extern template class ReducedHeat<3>;
extern template class ReducedHeat<4>;
extern template class ReducedHeat<5>;
extern template class ReducedHeat<6>;

}  // namespace loamway

#endif
