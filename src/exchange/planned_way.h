// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_PLANNED_WAY_H
#define LOAMWAY_SRC_EXCHANGE_PLANNED_WAY_H

// An option's way as a line with metres, and the planned time at any of them.

#include <optional>
#include <string>
#include <vector>

#include "loamway/plan/plan.h"

namespace loamway {

class PlannedWay {
public:
    /// `option` must outlive the way and have a geometry (see option_with_way).
    explicit PlannedWay(const Option& option);

    [[nodiscard]] double length_m() const { return m_at.back(); }
    [[nodiscard]] const std::vector<GeoPoint>& points() const { return m_option->geometry; }
    [[nodiscard]] const std::vector<double>& at_m() const { return m_at; }
    [[nodiscard]] GeoPoint point(double at_m) const;
    /// The line between two places on the way, both ends included; at least two points.
    [[nodiscard]] std::vector<GeoPoint> cut(double from_m, double to_m) const;

    /// When the way is planned to be there: the time of leaving where it stands still. Each piece of the way
    /// has its own pace, as the plan says; in plans of older programs even speed is taken between two
    /// standing places. Nothing for an option without times.
    [[nodiscard]] std::optional<Instant> leaves(double at_m) const;
    /// The same, but the time of arriving where it stands still.
    [[nodiscard]] std::optional<Instant> arrives(double at_m) const;
    [[nodiscard]] std::optional<double> elevation(double at_m) const;

private:
    struct Anchor {
        double at_m;
        Instant arrive, leave;
    };
    void add_standing();
    void add_clock();
    void add_ends();
    void set_anchors();
    [[nodiscard]] std::optional<Instant> between(double at_m) const;

    const Option* m_option;
    std::vector<double> m_at;
    std::vector<Anchor> m_anchors;
};

/// The option to write. Errors: those of Plan::option_for_output, and not_found without a way.
[[nodiscard]] const Option& option_with_way(const Plan& plan, const std::string& option);

}  // namespace loamway

#endif
