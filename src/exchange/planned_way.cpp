// SPDX-License-Identifier: Apache-2.0
#include "planned_way.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

// Metres and seconds are rounded in plan files.
constexpr double same_place_m = 1.0;

}  // namespace

PlannedWay::PlannedWay(const Option& option) : m_option(&option), m_at(option.geometry_at_m) {
    if (m_at.size() != option.geometry.size()) {
        m_at.assign(1, 0.0);
        for (std::size_t i = 1; i < option.geometry.size(); ++i)
            m_at.push_back(m_at.back() + distance(option.geometry[i - 1], option.geometry[i]).metres());
    }
    if (option.depart && option.arrive)
        set_anchors();
}

// What stands, at its stops.
void PlannedWay::add_standing() {
    for (const PlanStop& s : m_option->stops)
        if (s.arrive && s.leave) {
            const double at = std::clamp(s.at_m, 0.0, length_m());
            m_anchors.push_back({at, *s.arrive, std::max(*s.arrive, *s.leave)});
        }
}

// Every change of pace away from the stops, which have their own times.
void PlannedWay::add_clock() {
    const std::size_t stops = m_anchors.size();
    const auto at_a_stop = [&](double at) {
        return std::any_of(m_anchors.begin(), m_anchors.begin() + static_cast<std::ptrdiff_t>(stops),
                           [&](const Anchor& a) { return std::abs(a.at_m - at) <= same_place_m; });
    };
    for (const auto& [at_m, after_s] : m_option->clock) {
        const double at = std::clamp(at_m, 0.0, length_m());
        if (at_a_stop(at))
            continue;
        const Instant then = *m_option->depart + Duration::from_seconds(after_s);
        if (m_anchors.size() > stops && at - m_anchors.back().at_m < 1e-9)
            m_anchors.back().leave = then;
        else
            m_anchors.push_back({at, then, then});
    }
}

// Where no stop says when the way begins and ends.
void PlannedWay::add_ends() {
    const Option& o = *m_option;
    const bool timed = !o.clock.empty();
    double standing_s = 0;
    for (const PlanStop& s : o.stops)
        if (s.arrive && s.leave)
            standing_s += std::max(0.0, (*s.leave - *s.arrive).seconds());
    if (m_anchors.empty() || m_anchors.front().at_m > same_place_m) {
        // A low-bed is loaded before it moves: standing that no stop explains comes before the way.
        const bool unexplained = !timed && m_anchors.empty() && o.stopped_s && *o.stopped_s > standing_s;
        const Instant leave = unexplained ? *o.depart + Duration::from_seconds(*o.stopped_s) : *o.depart;
        m_anchors.insert(m_anchors.begin(),
                         {0.0, *o.depart, std::clamp(leave, *o.depart, std::max(*o.depart, *o.arrive))});
    } else if (timed) {
        m_anchors.front().arrive = std::min(m_anchors.front().arrive, *o.depart);
    }
    if (m_anchors.back().at_m < length_m() - same_place_m)
        m_anchors.push_back({length_m(), *o.arrive, *o.arrive});
}

void PlannedWay::set_anchors() {
    add_standing();
    add_clock();
    std::stable_sort(m_anchors.begin(), m_anchors.end(),
                     [](const Anchor& a, const Anchor& b) { return a.at_m < b.at_m; });
    add_ends();
    // Whatever a plan file says, times never run back along the way.
    for (std::size_t i = 1; i < m_anchors.size(); ++i) {
        m_anchors[i].arrive = std::max(m_anchors[i].arrive, m_anchors[i - 1].leave);
        m_anchors[i].leave = std::max(m_anchors[i].leave, m_anchors[i].arrive);
    }
}

GeoPoint PlannedWay::point(double at_m) const {
    const auto next = std::upper_bound(m_at.begin(), m_at.end(), at_m);
    if (next == m_at.begin())
        return points().front();
    if (next == m_at.end())
        return points().back();
    const auto i = static_cast<std::size_t>(next - m_at.begin());
    const double piece = m_at[i] - m_at[i - 1];
    return piece > 0 ? interpolate(points()[i - 1], points()[i], (at_m - m_at[i - 1]) / piece) : points()[i];
}

std::vector<GeoPoint> PlannedWay::cut(double from_m, double to_m) const {
    std::vector<GeoPoint> out{point(from_m)};
    for (std::size_t i = 0; i < m_at.size(); ++i)
        if (m_at[i] > from_m && m_at[i] < to_m)
            out.push_back(points()[i]);
    out.push_back(point(to_m));
    return out;
}

std::optional<Instant> PlannedWay::between(double at_m) const {
    if (m_anchors.empty())
        return std::nullopt;
    const auto next = std::upper_bound(m_anchors.begin(), m_anchors.end(), at_m,
                                       [](double m, const Anchor& a) { return m < a.at_m; });
    if (next == m_anchors.begin())
        return m_anchors.front().arrive;
    if (next == m_anchors.end())
        return m_anchors.back().leave;
    const Anchor& before = *(next - 1);
    const double share = (at_m - before.at_m) / (next->at_m - before.at_m);
    return before.leave + (next->arrive - before.leave) * share;
}

std::optional<Instant> PlannedWay::leaves(double at_m) const {
    return between(at_m);
}

std::optional<Instant> PlannedWay::arrives(double at_m) const {
    for (const Anchor& a : m_anchors)
        if (std::abs(a.at_m - at_m) < 1e-9)
            return a.arrive;
    return between(at_m);
}

std::optional<double> PlannedWay::elevation(double at_m) const {
    if (!m_option->elevation || m_option->elevation->empty())
        return std::nullopt;
    const auto& e = *m_option->elevation;
    const auto next =
        std::upper_bound(e.begin(), e.end(), at_m, [](double m, const auto& point) { return m < point[0]; });
    if (next == e.begin())
        return e.front()[1];
    if (next == e.end())
        return e.back()[1];
    const auto& before = *(next - 1);
    return before[1] + ((*next)[1] - before[1]) * (at_m - before[0]) / ((*next)[0] - before[0]);
}

const Option& option_with_way(const Plan& plan, const std::string& option) {
    const Option& o = plan.option_for_output(option);
    if (o.geometry.size() < 2)
        throw Error(ErrorKind::not_found, fmt::format("the option {} has no way to write", option_name(o.id)),
                    "choose another with --option");
    return o;
}

}  // namespace loamway
