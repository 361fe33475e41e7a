// SPDX-License-Identifier: Apache-2.0
#include "loading_keys.h"

#include <fmt/format.h>

#include <algorithm>

#include "default_reader.h"

namespace loamway {
namespace {

constexpr double assumed_clearance_m = 0.35;
constexpr double assumed_wheelbase_share = 0.5;      // of the length
constexpr double assumed_centre_height_share = 0.4;  // of the height
constexpr double narrowest_gauge_m = 0.3;

/// What the first state fills in: a machine is measured in the state it is kept in.
void fill_from_first_state(const Table& t, Machine& m, const WorkingState& s) {
    if (m.belts.gauge == Length()) {
        m.belts.gauge = s.width - m.belts.width;
        if (m.belts.gauge < m.belts.width)
            throw t.error_at("width_m",
                             fmt::format("a width of {} m leaves no gap between belts of {:g} mm",
                                         s.width.metres(), m.belts.width.mm()),
                             "correct it, or give gauge_mm in [belts]");
    }
    if (s.axles.size() > 1 && m.wheelbase == Length()) {
        m.assumed_for_loading.emplace_back("loading.wheelbase_m");
        m.wheelbase = s.length * assumed_wheelbase_share;
    }
}

Length centre_by_axle_loads(const Machine& m, const WorkingState& s) {
    // Axles between the first and the last are taken to stand evenly apart.
    const Length first = m.belts.ground_run * (s.tracked.front() ? 0.5 : 0.0);
    const double gaps = static_cast<double>(s.axles.size() - 1);
    double moment = 0, sum = 0;
    for (std::size_t i = 0; i < s.axles.size(); ++i) {
        moment += s.axles[i].kg() * static_cast<double>(i) / gaps;
        sum += s.axles[i].kg();
    }
    return first + m.wheelbase * (sum > 0 ? moment / sum : 0.5);
}

}  // namespace

Length read_gauge(Table& belts, Length belt_width, std::vector<std::string>& assumed) {
    const auto gauge_mm = belts.number("gauge_mm", {300, 8000});
    if (!gauge_mm)
        return DefaultReader(belts, assumed).left_out("gauge_mm", Length());
    const Length gauge = Length::from_mm(*gauge_mm);
    if (gauge < belt_width)
        throw belts.error_at("gauge_mm",
                             fmt::format("belts of {:g} mm do not fit side by side at a gauge of {:g} mm",
                                         belt_width.mm(), *gauge_mm),
                             "it runs from the middle of the left belt to the middle of the right one");
    return gauge;
}

void read_loading(Machine& m, std::optional<Table> table) {
    const Value none{Value::Object{}};
    Table t = table ? std::move(*table) : Table(none, m.file, "loading");
    DefaultReader r(t, m.assumed_for_loading);
    m.ground_clearance = Length::from_metres(r.number("ground_clearance_m", {0, 2}, assumed_clearance_m));
    if (const auto metres = t.number("wheelbase_m", {narrowest_gauge_m, 20}))
        m.wheelbase = Length::from_metres(*metres);
    t.finish();
}

void read_state_loading(Table& t, Machine& m, WorkingState& s) {
    if (m.states.empty())
        fill_from_first_state(t, m, s);
    if (s.axles.size() == 1 && m.wheelbase != Length())
        throw t.error_at("axle_kg", "there is a wheelbase_m, but only one axle",
                         "give one load an axle, or leave out wheelbase_m in [loading]");
    DefaultReader r(t, m.assumed_for_loading);
    const auto metres = [&r](std::string_view key, Range range, double fallback) {
        return Length::from_metres(r.number(key, range, fallback));
    };
    const Length standing = m.standing_length(s);
    if (standing > s.length)
        throw t.error_at("length_m",
                         fmt::format("the machine is {} m long but stands on {:.2f} m", s.length.metres(),
                                     standing.metres()),
                         "correct it, ground_run_mm or wheelbase_m");
    s.centre_height = metres("centre_height_m", {0.1, 5}, assumed_centre_height_share * s.height.metres());
    if (s.axles.size() > 1 && !t.has("centre_behind_m"))
        s.centre_behind = centre_by_axle_loads(m, s);
    else
        s.centre_behind = metres("centre_behind_m", {0, 20}, standing.metres() / 2);
    if (s.centre_behind > standing)
        throw t.error_at("centre_behind_m",
                         fmt::format("a centre of mass {:.2f} m behind the front end is off the {:.2f} m the "
                                     "machine stands on",
                                     s.centre_behind.metres(), standing.metres()),
                         "it is measured from the front end of what touches the ground");
    const double over = (s.length - standing).metres();
    s.front_overhang = metres("front_overhang_m", {0, over}, over / 2);
    const auto clearance = [&](std::string_view key) {
        return Length::from_metres(t.number_or(key, m.ground_clearance.metres(), {0, 5}));
    };
    s.front_clearance = clearance("front_clearance_m");
    s.rear_clearance = clearance("rear_clearance_m");
}

}  // namespace loamway
