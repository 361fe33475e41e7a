// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/guide_lug.h"

#include <algorithm>
#include <cmath>

namespace loamway {
namespace {

constexpr double longest_piece_s = 10.0;

}  // namespace

GuideLug::GuideLug(const BeltLoad& belt, const GuideLugParameters& parameters)
    : m_parameters(parameters),
      m_weight_n(belt.weight_n),
      m_scale(belt.length / parameters.reference_length) {}

double GuideLug::dry_friction(const GuideLugState& state) const {
    const GuideLugParameters& p = m_parameters;
    double mu = p.mu_dry;
    if (state.belt_hours)
        mu *= 1.0 + p.new_gain * std::exp(-*state.belt_hours / p.break_in_h);
    return state.ground == Ground::dusty ? std::min(mu, p.mu_dust) : mu;
}

double GuideLug::friction(const GuideLugState& state) const {
    if (state.ground == Ground::wet)
        return m_parameters.mu_wet;
    const double dry = dry_friction(state);
    if (!state.since_lube)
        return dry;
    const double left = std::exp2(-(*state.since_lube / m_parameters.half_gone));
    return dry - (dry - m_parameters.mu_lubricated) * left;
}

double GuideLug::heat_w(double mu, RoadSurface surface, Speed v) const {
    const GuideLugParameters& p = m_parameters;
    return p.into_rubber * mu * p.lateral[static_cast<std::size_t>(surface)] * m_weight_n * p.sliding *
           v.mps();
}

double GuideLug::loss_w_per_k(Speed v) const {
    return m_scale * (m_parameters.loss_w_per_k + m_parameters.loss_per_mps * v.mps());
}

Duration GuideLug::time_constant(Speed v) const {
    return Duration::from_seconds(m_scale * m_parameters.capacity_j_per_k / loss_w_per_k(v));
}

Temperature GuideLug::settled(double mu, const Driving& d) const {
    return d.air + Temperature::from_celsius(heat_w(mu, d.surface, d.speed) / loss_w_per_k(d.speed));
}

Temperature GuideLug::advance(Temperature from, double mu, const Driving& d, Duration time) const {
    const Temperature end = settled(mu, d);
    return end + (from - end) * std::exp(-(time / time_constant(d.speed)));
}

Temperature GuideLug::drive(Temperature from, GuideLugState& state, const Driving& d, Duration time) const {
    if (!(time.seconds() > 0.0))
        return from;
    const double pieces = std::max(1.0, std::ceil(time.seconds() / longest_piece_s - 1e-9));
    const Duration piece = time / pieces;
    const Length half = d.speed * piece / 2.0;
    Temperature t = from;
    for (auto left = static_cast<long>(pieces); left > 0; --left) {
        if (state.since_lube)
            *state.since_lube += half;
        t = advance(t, friction(state), d, piece);
        if (state.since_lube)
            *state.since_lube += half;
    }
    return t;
}

Length GuideLug::next_lube(const GuideLugState& state, const Driving& d) const {
    const GuideLugParameters& p = m_parameters;
    const double per_mu = heat_w(1.0, d.surface, d.speed) / loss_w_per_k(d.speed);  // kelvin
    const double dry = dry_friction(state);
    // On a wet road powder turns to paste, so only the longest interval counts; nothing rubs while standing.
    if (state.ground == Ground::wet || per_mu <= 0.0)
        return p.longest_interval;
    const double most = (p.caution - d.air).celsius() / per_mu;
    if (most >= dry)
        return p.longest_interval;
    if (most <= p.mu_lubricated)
        return {};
    const double halvings = -std::log2((dry - most) / (dry - p.mu_lubricated));
    return std::min(p.longest_interval, p.half_gone * halvings);
}

}  // namespace loamway
