// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/spread.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {
namespace {

constexpr std::size_t cells = 1024;

/// Edges of the cells on [0, 1], close together at both ends, where the density may rise steeply.
double edge(std::size_t i) {
    const double t = static_cast<double>(i) / static_cast<double>(cells);
    return t * t * (3.0 - 2.0 * t);
}

/// Five-point Gauss-Legendre rule on [-1, 1].
constexpr std::array<double, 5> gauss_points{-0.9061798459386640, -0.5384693101056831, 0.0,
                                             0.5384693101056831, 0.9061798459386640};
constexpr std::array<double, 5> gauss_weights{0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                                              0.4786286704993665, 0.2369268850561891};

double beta_density(const PertShape& s, double x) {
    return std::pow(x, s.alpha - 1.0) * std::pow(1.0 - x, s.beta - 1.0);
}

double mass_between(const PertShape& s, double left, double right) {
    const double half = (right - left) / 2.0;
    double sum = 0;
    for (std::size_t i = 0; i < gauss_points.size(); ++i)
        sum += gauss_weights[i] * beta_density(s, left + half * (gauss_points[i] + 1.0));
    return sum * half;
}

/// Part of a cell, 0 to 1, that holds `share` of its mass when the density runs straight from p0 to p1.
double part_of_cell(double p0, double p1, double share) {
    // Root of p0 t + (p1 - p0) t^2 / 2 = share (p0 + p1) / 2, in the form that does not cancel.
    const double wanted = share * (p0 + p1);
    const double root = std::sqrt(p0 * p0 + (p1 - p0) * wanted);
    return wanted == 0.0 ? 0.0 : std::min(1.0, wanted / (p0 + root));
}

}  // namespace

std::vector<Spread> assumed_spreads() {
    return {{"wage", 0.8, 1, 1.3},   {"fuel_price", 0.8, 1, 1.3}, {"belt_price", 0.85, 1, 1.25},
            {"w_hard", 0.4, 1, 2.5}, {"w_gravel", 0.5, 1, 2.0},   {"own_h", 0.3, 1, 1.3},
            {"t_stop", 0.6, 1, 2.0}, {"v", 0.8, 1, 1.1},          {"tr_h", 0.8, 1, 1.35},
            {"tr_km", 0.8, 1, 1.25}, {"t_load", 0.7, 1, 2.0},     {"permit", 0.5, 1, 2.0},
            {"v_load", 0.8, 1, 1.1}, {"dead", 0.5, 1, 1.6}};
}

std::size_t spread_index(std::span<const Spread> spreads, std::string_view name) {
    const auto found =
        std::find_if(spreads.begin(), spreads.end(), [name](const Spread& s) { return s.name == name; });
    if (found == spreads.end())
        throw Error(ErrorKind::internal, fmt::format("no spread is called \"{}\"", printable(name)));
    return static_cast<std::size_t>(found - spreads.begin());
}

double triangular_quantile(double low, double mode, double high, double u) {
    if (low == high)
        return low;
    const double split = (mode - low) / (high - low);
    return u < split ? low + std::sqrt(u * (high - low) * (mode - low))
                     : high - std::sqrt((1.0 - u) * (high - low) * (high - mode));
}

PertShape pert_shape(double low, double mode, double high) {
    const double range = high - low;
    const double mean = (low + 4.0 * mode + high) / 6.0;
    return {1.0 + 4.0 * (mode - low) / range, 1.0 + 4.0 * (high - mode) / range, mean,
            (mean - low) * (high - mean) / 7.0};
}

Quantiles::Quantiles(Spread spread) : m_spread(std::move(spread)) {
    const Spread& s = m_spread;
    const bool ordered = s.low <= s.mode && s.mode <= s.high;
    if (!ordered || !std::isfinite(s.low) || !std::isfinite(s.high))
        throw Error(
            ErrorKind::input,
            fmt::format("the spread of \"{}\" runs {}, {}, {}", printable(s.name), s.low, s.mode, s.high),
            "give the least, the likeliest and the greatest value in this order");
    if (s.shape != SpreadShape::pert || s.low == s.high)
        return;
    const PertShape shape = pert_shape(s.low, s.mode, s.high);
    m_density.reserve(cells + 1);
    m_cumulative.reserve(cells + 1);
    m_density.push_back(beta_density(shape, 0.0));
    m_cumulative.push_back(0.0);
    for (std::size_t i = 0; i < cells; ++i) {
        m_cumulative.push_back(m_cumulative.back() + mass_between(shape, edge(i), edge(i + 1)));
        m_density.push_back(beta_density(shape, edge(i + 1)));
    }
}

double Quantiles::pert_at(double u) const {
    const double wanted = u * m_cumulative.back();
    const auto above = std::upper_bound(m_cumulative.begin(), m_cumulative.end(), wanted);
    const auto i = static_cast<std::size_t>(above - m_cumulative.begin());
    if (i == m_cumulative.size())
        return m_spread.high;
    const double mass = m_cumulative[i] - m_cumulative[i - 1];
    const double share = (wanted - m_cumulative[i - 1]) / mass;
    const double left = edge(i - 1);
    const double x = left + (edge(i) - left) * part_of_cell(m_density[i - 1], m_density[i], share);
    return m_spread.low + (m_spread.high - m_spread.low) * x;
}

double Quantiles::at(double u) const {
    if (m_cumulative.empty())
        return triangular_quantile(m_spread.low, m_spread.mode, m_spread.high, u);
    return pert_at(u);
}

}  // namespace loamway
