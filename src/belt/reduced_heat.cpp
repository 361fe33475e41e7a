// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/reduced_heat.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "lag.h"

namespace loamway {
namespace {

constexpr double longest_lag_step_s = 300.0;
constexpr std::size_t look_at = 21;  // places along the bar where the hottest is looked for

template <std::size_t N>
using Vector = std::array<double, N>;
template <std::size_t N>
using Matrix = std::array<Vector<N>, N>;

/// P_n at `look_at` places from root to tip, by Bonnet's recursion.
template <std::size_t N>
constexpr std::array<Vector<look_at>, N> legendre_table() {
    std::array<Vector<look_at>, N> out{};
    for (std::size_t j = 0; j < look_at; ++j) {
        const double x = -1.0 + 2.0 * static_cast<double>(j) / (look_at - 1);
        out[0][j] = 1.0;
        out[1][j] = x;
        for (std::size_t n = 2; n < N; ++n) {
            const auto k = static_cast<double>(n - 1);
            out[n][j] = ((2.0 * k + 1.0) * x * out[n - 1][j] - k * out[n - 2][j]) / (k + 1.0);
        }
    }
    return out;
}

template <std::size_t N>
double hottest_of(const Vector<N>& a) {
    static constexpr std::array<Vector<look_at>, N> table = legendre_table<N>();
    Vector<look_at> t{};
    t.fill(a[0]);
    for (std::size_t n = 1; n < N; ++n)
        for (std::size_t j = 0; j < look_at; ++j)
            t[j] += a[n] * table[n][j];
    double best = t[0];
    for (std::size_t j = 1; j < look_at; ++j)
        best = t[j] > best ? t[j] : best;
    return best;
}

/// One Jacobi rotation that makes a[p][q] zero.
template <std::size_t N>
void rotate(Matrix<N>& a, Matrix<N>& vectors, std::size_t p, std::size_t q) {
    if (a[p][q] == 0.0)
        return;
    const double theta = (a[q][q] - a[p][p]) / (2.0 * a[p][q]);
    const double t = std::copysign(1.0, theta) / (std::abs(theta) + std::hypot(theta, 1.0));
    const double c = 1.0 / std::hypot(t, 1.0), s = t * c;
    for (std::size_t k = 0; k < N; ++k) {
        const double kp = a[k][p], kq = a[k][q];
        a[k][p] = c * kp - s * kq;
        a[k][q] = s * kp + c * kq;
        const double vp = vectors[k][p], vq = vectors[k][q];
        vectors[k][p] = c * vp - s * vq;
        vectors[k][q] = s * vp + c * vq;
    }
    for (std::size_t k = 0; k < N; ++k) {
        const double pk = a[p][k], qk = a[q][k];
        a[p][k] = c * pk - s * qk;
        a[q][k] = s * pk + c * qk;
    }
}

/// Turns the symmetric `a` into its eigenvalues on the diagonal; returns the eigenvectors as columns.
template <std::size_t N>
Matrix<N> diagonalise(Matrix<N>& a) {
    Matrix<N> vectors{};
    for (std::size_t i = 0; i < N; ++i)
        vectors[i][i] = 1.0;
    constexpr int enough_sweeps = 30;  // each one squares the error; six are common
    for (int sweep = 0; sweep < enough_sweeps; ++sweep) {
        double beside = 0.0, on = 0.0;
        for (std::size_t i = 0; i < N; ++i) {
            on += a[i][i] * a[i][i];
            for (std::size_t j = 0; j < i; ++j)
                beside += a[i][j] * a[i][j];
        }
        if (beside <= 1e-32 * on)
            break;
        for (std::size_t p = 0; p < N; ++p)
            for (std::size_t q = p + 1; q < N; ++q)
                rotate<N>(a, vectors, p, q);
    }
    return vectors;
}

/// S of the Galerkin equations.
template <std::size_t N>
Matrix<N> stiffness(double k, double height, double sink, const HeatRegime& r) {
    Matrix<N> s{};
    for (std::size_t i = 0; i < N; ++i) {
        for (std::size_t j = 0; j < N; ++j) {
            const bool even = (i + j) % 2 == 0;
            const auto low = static_cast<double>(std::min(i, j));
            s[i][j] = r.h_o + (even ? r.u_c : -r.u_c);
            if (even)
                s[i][j] += 2.0 * k / height * low * (low + 1.0);
        }
        s[i][i] += sink * height / (2.0 * static_cast<double>(i) + 1.0);
    }
    return s;
}

template <std::size_t N>
Vector<N> load(double height, double source, const HeatRegime& r) {
    Vector<N> f{};
    for (std::size_t i = 0; i < N; ++i)
        f[i] = r.h_o * r.t_o + r.q_tip + (i % 2 == 0 ? 1.0 : -1.0) * r.u_c * r.t_c;
    f[0] += height * source;
    return f;
}

}  // namespace

template <int N>
ReducedHeat<N>::ReducedHeat(const BeltLoad& belt, const RubberData& rubber, const HeatRegime& r) {
    constexpr auto n = static_cast<std::size_t>(N);
    const double height = belt.bar_height.metres(), thickness = belt.bar_thickness.metres();
    const double to_flank = 2.0 * r.u_f / thickness;
    const double sink = to_flank + rubber.beta * r.q0;
    const double source = r.q0 * (1.0 + rubber.beta * rubber.reference_c) + to_flank * r.t_f;

    Vector scale{};  // M^-1/2
    for (std::size_t i = 0; i < n; ++i)
        scale[i] = std::sqrt((2.0 * static_cast<double>(i) + 1.0) / (rubber.rho * rubber.c * height));
    Matrix s = stiffness<n>(rubber.k, height, sink, r);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            s[i][j] *= scale[i] * scale[j];
    const Matrix vectors = diagonalise<n>(s);
    const Vector f = load<n>(height, source, r);

    std::array<std::size_t, n> order{};
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) { return s[x][x] < s[y][y]; });
    for (std::size_t mode = 0; mode < n; ++mode) {
        const std::size_t column = order[mode];
        m_rates[mode] = s[column][column];
        double pull = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            m_to_modes[mode][i] = vectors[i][column] / scale[i];
            m_from_modes[i][mode] = vectors[i][column] * scale[i];
            pull += m_from_modes[i][mode] * f[i];
        }
        for (std::size_t i = 0; i < n; ++i)
            m_settled[i] += m_from_modes[i][mode] * pull / m_rates[mode];
    }
    m_lag_time = lag_time_s(rubber, thickness);
    m_lag_per_kelvin = lag_per_kelvin(r, rubber, thickness);
    m_lag_sink = r.t_f;
}

template <int N>
void ReducedHeat<N>::advance(ReducedBar<N>& bar, Duration time) const {
    constexpr auto n = static_cast<std::size_t>(N);
    const double seconds = time.seconds();
    if (!(seconds > 0.0))
        return;
    const double pieces = std::max(1.0, std::ceil(seconds / longest_lag_step_s - 1e-9));
    const double step = seconds / pieces;
    Vector left{};
    for (std::size_t i = 0; i < n; ++i)
        left[i] = std::exp(-m_rates[i] * step);
    const double lag_left = std::exp(-step / m_lag_time);

    for (auto piece = static_cast<long>(pieces); piece > 0; --piece) {
        Vector modes{};
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j)
                modes[i] += m_to_modes[i][j] * (bar.a[j] - m_settled[j]);
            modes[i] *= left[i];
        }
        for (std::size_t i = 0; i < n; ++i) {
            double sum = m_settled[i];
            for (std::size_t j = 0; j < n; ++j)
                sum += m_from_modes[i][j] * modes[j];
            bar.a[i] = sum;
        }
        const double before = m_lag_per_kelvin * (bar.hottest - m_lag_sink);
        bar.hottest = hottest_of<n>(bar.a);
        const double after = m_lag_per_kelvin * (bar.hottest - m_lag_sink);
        bar.lag = follow(bar.lag, before, after, m_lag_time / step, lag_left);
    }
}

template <int N>
ReducedBar<N> ReducedHeat<N>::settled() const {
    ReducedBar<N> out;
    out.a = m_settled;
    out.hottest = hottest_of<static_cast<std::size_t>(N)>(out.a);
    out.lag = m_lag_per_kelvin * (out.hottest - m_lag_sink);
    return out;
}

template class ReducedHeat<2>;
template class ReducedHeat<3>;
template class ReducedHeat<4>;
template class ReducedHeat<5>;
template class ReducedHeat<6>;

}  // namespace loamway
