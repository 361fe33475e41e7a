// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/profile/machine.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

// Of an empty low-bed the steered or driven axle of the truck is the heaviest; this share is an assumption.
constexpr double empty_axle_share = 0.4;

Mass empty_axle(const LowBed& bed) {
    return std::min(bed.empty_mass * empty_axle_share, bed.axle_limit);
}

}  // namespace

VehicleView LowBed::vehicle_empty() const {
    VehicleView view;
    view.kind = VehicleKind::truck;
    view.agricultural = false;
    view.width = width;
    view.height = height_empty;
    view.length = length;
    view.mass = empty_mass;
    view.axle = empty_axle(*this);
    view.top_speed = empty_speed;
    return view;
}

VehicleView LowBed::vehicle_loaded(const WorkingState& s) const {
    VehicleView view = vehicle_empty();
    view.width = std::max(width, s.width);
    view.height = std::max(height_empty, deck_height + s.height);
    view.mass = empty_mass + s.mass;
    // The heaviest axle grows evenly from empty to its limit at the full load, and beyond when overloaded.
    const Mass empty = empty_axle(*this);
    view.axle = empty + (axle_limit - empty) * (s.mass / max_load);
    view.top_speed = loaded_speed;
    return view;
}

LowBed read_low_bed(const Value& document, const std::string& file) {
    Table t(document, file);
    LowBed b;
    b.name = t.text("name").value_or(b.name);
    const auto mass = [&t](std::string_view key, Mass& m, Range range) {
        m = Mass::from_kg(t.number_or(key, m.kg(), range));
    };
    const auto metres = [&t](std::string_view key, Length& l, Range range) {
        l = Length::from_metres(t.number_or(key, l.metres(), range));
    };
    mass("empty_kg", b.empty_mass, {2000, 80000});
    mass("max_load_kg", b.max_load, {1000, 150000});
    mass("axle_limit_kg", b.axle_limit, {2000, 30000});
    metres("length_m", b.length, {4, 40});
    metres("width_m", b.width, {1.5, 5});
    metres("height_m", b.height_empty, {1.5, 5});
    metres("deck_height_m", b.deck_height, {0.1, 2});
    b.base = t.text("base");
    if (const auto km = t.number("empty_run_km", {0, 1000})) {
        if (b.base)
            throw t.error_at("empty_run_km", "both base and empty_run_km are given",
                             "leave out empty_run_km: the empty run is routed from the base");
        b.empty_run = Length::from_km(*km);
    }
    if (std::optional<Table> speed = t.table("speed_kmh")) {
        b.empty_speed = Speed::from_kmh(speed->number_or("empty", b.empty_speed.kmh(), {5, 130}));
        b.loaded_speed = Speed::from_kmh(speed->number_or("loaded", b.loaded_speed.kmh(), {5, 130}));
        speed->finish();
    }
    t.finish();
    b.assumed = false;
    return b;
}

}  // namespace loamway
