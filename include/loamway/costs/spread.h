// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_SPREAD_H
#define LOAMWAY_COSTS_SPREAD_H

// How far an input may be off: least, likeliest and greatest value, mostly as multipliers about 1.
// Values, safe to share between threads.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace loamway {

enum class SpreadShape { triangular, pert };

struct Spread {
    std::string name;
    double low = 1, mode = 1, high = 1;
    SpreadShape shape = SpreadShape::triangular;
};

/// Spreads of the money and time inputs as multipliers; every number an assumption of this project.
[[nodiscard]] std::vector<Spread> assumed_spreads();

/// Place of a spread by name; an internal Error when it is not there.
[[nodiscard]] std::size_t spread_index(std::span<const Spread> spreads, std::string_view name);

/// Value below which a share `u` of a triangular distribution lies.
[[nodiscard]] double triangular_quantile(double low, double mode, double high, double u);

/// The beta distribution that PERT lays between low and high: alpha = 1 + 4 (m - a) / (b - a),
/// beta = 1 + 4 (b - m) / (b - a), mean (a + 4 m + b) / 6, variance (mean - a)(b - mean) / 7.
struct PertShape {
    double alpha, beta, mean, variance;
};
[[nodiscard]] PertShape pert_shape(double low, double mode, double high);

/// A spread made ready for many quantiles. PERT is inverted through a table of 1024 cells, good to 1e-8 of
/// the range.
class Quantiles {
public:
    /// Input Error unless low <= mode <= high, all finite.
    explicit Quantiles(Spread spread);
    [[nodiscard]] double at(double u) const;
    [[nodiscard]] const Spread& spread() const { return m_spread; }

private:
    [[nodiscard]] double pert_at(double u) const;
    Spread m_spread;
    std::vector<double> m_density;     // at the edges of the cells, not normalised
    std::vector<double> m_cumulative;  // mass up to each edge; the last entry is the whole
};

}  // namespace loamway

#endif
