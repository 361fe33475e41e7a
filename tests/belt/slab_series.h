// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BELT_SLAB_SERIES_H
#define LOAMWAY_TESTS_BELT_SLAB_SERIES_H

// The exact series for a slab with films on both faces, independent of the solvers:
//   T = steady + sum c_n phi_n(x) exp(-(alpha mu_n^2 + sink / rho c) t),  phi = cos mu x + (h0/k mu) sin mu x
//   tan(mu H) = mu (h0 + h1) / (mu^2 - h0 h1), with h0, h1 divided by k

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

namespace loamway::test {

struct Slab {
    double k, rho_c, height;
    double h0, h1;      // films at x = 0 and x = H
    double sink = 0.0;  // W/(m3 K)
};

class SlabSeries {
public:
    SlabSeries(const Slab& slab, const std::function<double(double)>& steady, double start, int terms = 200)
        : m_slab(slab), m_steady(steady) {
        const double a = slab.h0 / slab.k, b = slab.h1 / slab.k;
        const auto f = [&](double mu) {
            return (mu * mu - a * b) * std::sin(mu * slab.height) - mu * (a + b) * std::cos(mu * slab.height);
        };
        const double stride = std::numbers::pi / slab.height / 400.0;
        double from = stride * 1e-3;
        while (static_cast<int>(m_mu.size()) < terms) {
            if ((f(from) < 0) != (f(from + stride) < 0))
                m_mu.push_back(root(f, from, from + stride));
            from += stride;
        }
        for (const double mu : m_mu)
            m_c.push_back(coefficient(mu, start));
    }

    [[nodiscard]] double at(double x, double t) const {
        double sum = m_steady(x);
        for (std::size_t n = 0; n < m_mu.size(); ++n)
            sum += m_c[n] * phi(m_mu[n], x) * std::exp(-rate(m_mu[n]) * t);
        return sum;
    }
    [[nodiscard]] double first_root() const { return m_mu.front(); }

private:
    static double root(const std::function<double(double)>& f, double low, double high) {
        const bool sign = f(low) < 0;
        for (int i = 0; i < 80; ++i) {
            const double middle = (low + high) / 2;
            ((f(middle) < 0) == sign ? low : high) = middle;
        }
        return low;
    }
    [[nodiscard]] double rate(double mu) const { return (m_slab.k * mu * mu + m_slab.sink) / m_slab.rho_c; }
    [[nodiscard]] double phi(double mu, double x) const {
        return std::cos(mu * x) + m_slab.h0 / m_slab.k / mu * std::sin(mu * x);
    }
    /// Projection of what is missing to the steady state, by Simpson's rule.
    [[nodiscard]] double coefficient(double mu, double start) const {
        const int n = 8000;
        double top = 0, below = 0;
        for (int i = 0; i <= n; ++i) {
            const double x = m_slab.height * i / n, p = phi(mu, x);
            const double w = i == 0 || i == n ? 1 : i % 2 == 1 ? 4 : 2;
            top += w * (start - m_steady(x)) * p;
            below += w * p * p;
        }
        return top / below;
    }

    Slab m_slab;
    std::function<double(double)> m_steady;
    std::vector<double> m_mu, m_c;
};

}  // namespace loamway::test

#endif
