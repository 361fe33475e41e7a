// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/heat_reading.h"

#include <array>
#include <utility>

namespace loamway {
namespace {

constexpr std::array<std::string_view, 5> surfaces{"asphalt", "concrete", "gravel", "earth", "field"};
constexpr Range surface_temperature{-40, 200};

NotedReading read_reading(Table& t) {
    NotedReading r;
    r.run = Length::from_km(t.require_number("km", {0.1, 500}));
    r.speed = Speed::from_kmh(t.require_number("speed_kmh", {0.5, 80}));
    r.air = Temperature::from_celsius(t.require_number("air_c", {-50, 60}));
    if (const auto surface = t.word("surface", {surfaces.begin(), surfaces.end()}))
        r.surface = surfaces[*surface];
    r.sun = t.number_or("sun", r.sun, {0, 1});
    r.state = t.text("state").value_or("");
    if (const auto mm = t.number("bar_mm", {2, 200}))
        r.bar_height = Length::from_mm(*mm);
    r.after_stop = Duration::from_minutes(t.require_number("minutes_after_stop", {0, 24 * 60}));
    const std::optional<double> flank = t.number("flank_c", surface_temperature);
    const std::optional<double> tip = t.number("tip_c", surface_temperature);
    if (flank.has_value() == tip.has_value())
        throw t.error_at(flank ? "tip_c" : "flank_c", "a reading is of the flank or of the tip",
                         "give one of flank_c and tip_c");
    r.tip = tip.has_value();
    r.value = Temperature::from_celsius(flank ? *flank : *tip);
    r.sd_k = t.number_or("sd_c", r.sd_k, {0.1, 50});
    r.place = {t.document(), {}, t.path()};
    if (t.line() > 0)
        r.place.line = t.line();
    t.finish();
    return r;
}

}  // namespace

std::vector<NotedReading> read_readings(Table& document) {
    std::vector<NotedReading> out;
    for (Table& entry : document.tables("reading"))
        out.push_back(read_reading(entry));
    return out;
}

}  // namespace loamway
