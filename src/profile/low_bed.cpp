// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/low_bed.h"

#include <fmt/format.h>

#include <algorithm>

#include "default_reader.h"
#include "loamway/base/error.h"
#include "loamway/profile/machine.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

// Of an empty low-bed the steered or driven axle of the truck is the heaviest; this share is an assumption.
constexpr double empty_axle_share = 0.4;

Mass empty_axle(const LowBed& bed) {
    return std::min(bed.empty_mass * empty_axle_share, bed.axle_limit);
}

/// One table of the document, which may be missing; a value stays as it is where its key is left out.
class Section {
public:
    Section(Table& parent, const std::string& name, LowBed& bed)
        : m_table(open(parent, name)), m_reader(m_table, bed.assumed_keys) {}
    ~Section() = default;
    Section(const Section&) = delete;
    Section& operator=(const Section&) = delete;

    void metres(std::string_view key, Length& l, Range range) {
        l = Length::from_metres(m_reader.number(key, range, l.metres()));
    }
    void mm(std::string_view key, Length& l, Range range) {
        l = Length::from_mm(m_reader.number(key, range, l.mm()));
    }
    void kg(std::string_view key, Mass& m, Range range) {
        m = Mass::from_kg(m_reader.number(key, range, m.kg()));
    }
    void megapascals(std::string_view key, Stress& s, Range range) {
        s = Stress::from_megapascals(m_reader.number(key, range, s.megapascals()));
    }
    void count(std::string_view key, int& n, Range range) {
        n = static_cast<int>(m_reader.integer(key, range, n));
    }
    [[nodiscard]] Table& table() { return m_table; }
    void finish() const { m_table.finish(); }

private:
    static Table open(Table& parent, const std::string& name) {
        static const Value none{Value::Object{}};
        std::optional<Table> there = parent.table(name);
        return there ? std::move(*there) : Table(none, parent.document(), name);
    }
    Table m_table;
    DefaultReader m_reader;
};

void read_axles(Table& t, LowBed& b) {
    Section s(t, "axles", b);
    TruckAxles& a = b.axles;
    // Another empty mass than the assumed one is shared out alike until the document says more.
    const double size = b.empty_mass / LowBed{}.empty_mass;
    a.steer = a.steer * size;
    a.drive = a.drive * size;
    s.kg("steer_kg", a.steer, {1000, 15000});
    s.kg("drive_kg", a.drive, {1000, 25000});
    a.trailer = b.empty_mass - a.steer - a.drive;
    if (a.trailer < Mass::from_kg(500))
        throw t.error_at(
            "empty_kg",
            fmt::format("an empty mass of {:g} kg leaves {:g} kg for the trailer beside the truck's "
                        "{:g} kg",
                        b.empty_mass.kg(), a.trailer.kg(), (a.steer + a.drive).kg()),
            "empty_kg is truck and trailer; steer_kg and drive_kg in [axles] the truck alone");
    s.metres("wheelbase_m", a.wheelbase, {2, 10});
    s.metres("kingpin_ahead_m", a.kingpin_ahead, {0, 2});
    s.metres("trailer_m", a.trailer_at, {3, 30});
    s.metres("trailer_centre_m", a.trailer_centre, {0, 30});
    s.count("drive_count", a.drive_axles, {1, 4});
    s.metres("drive_spacing_m", a.drive_spacing, {0.8, 3});
    s.count("trailer_count", a.trailer_axles, {1, 8});
    s.metres("trailer_spacing_m", a.trailer_spacing, {0.8, 4});
    s.kg("steer_limit_kg", a.steer_limit, {1000, 20000});
    s.kg("drive_limit_kg", a.drive_limit, {1000, 60000});
    s.kg("trailer_limit_kg", a.trailer_limit, {1000, 150000});
    s.kg("kingpin_limit_kg", a.kingpin_limit, {1000, 60000});
    if (a.trailer_centre > a.trailer_at)
        throw s.table().error_at("trailer_centre_m", "the empty trailer would lift the truck",
                                 "its centre of mass stands ahead of its axles");
    s.finish();
}

void read_deck(Table& t, LowBed& b) {
    Section deck(t, "deck", b);
    b.deck.width = b.width;
    deck.metres("width_m", b.deck.width, {1.5, 5});
    deck.metres("start_m", b.deck.start, {-2, 20});
    deck.metres("length_m", b.deck.length, {2, 30});
    deck.mm("cover_mm", b.deck.cover, {0, 300});
    deck.finish();

    Section ramp(t, "ramp", b);
    if (const auto at = ramp.table().word("at", {"rear", "front"}))
        b.ramp.at_front = *at == 1;
    b.ramp.height = b.deck_height;
    ramp.metres("height_m", b.ramp.height, {0.05, 2});
    ramp.metres("length_m", b.ramp.length, {0.3, 15});
    ramp.metres("width_m", b.ramp.width, {0.2, 3});
    ramp.mm("plank_mm", b.ramp.plank, {10, 300});
    ramp.metres("span_m", b.ramp.span, {0.1, 3});
    ramp.mm("above_deck_mm", b.ramp.above_deck, {0, 100});
    b.ramp.head_on_beam = ramp.table().boolean("head_on_beam").value_or(b.ramp.head_on_beam);
    if (b.ramp.length <= b.ramp.height + b.ramp.above_deck)
        throw ramp.table().error_at("length_m",
                                    fmt::format("a ramp of {:g} m does not reach an edge {:g} m high",
                                                b.ramp.length.metres(), b.ramp.height.metres()),
                                    "correct length_m or height_m of [ramp]");
    ramp.finish();
}

void read_supports(Table& t, LowBed& b) {
    Section out(t, "outriggers", b);
    out.count("per_side", b.outriggers.per_side, {0, 40});
    out.metres("reach_m", b.outriggers.reach, {0, 2});
    out.metres("pitch_m", b.outriggers.pitch, {0.1, 3});
    out.mm("below_deck_mm", b.outriggers.below_deck, {0, 300});
    out.finish();
    Section boards(t, "boards", b);
    boards.mm("thickness_mm", b.boards.thickness, {10, 300});
    boards.megapascals("bending_mpa", b.boards.bending, {1, 300});
    boards.megapascals("shear_mpa", b.boards.shear, {0.1, 100});
    boards.megapascals("elasticity_mpa", b.boards.elasticity, {1000, 250000});
    boards.finish();
    Section chains(t, "chains", b);
    chains.count("count", b.chains.count, {1, 40});
    chains.kg("limit_kg", b.chains.limit, {100, 50000});
    chains.finish();
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
    view.height = std::max(height_empty, deck_height + deck.cover + s.height);
    view.mass = empty_mass + s.mass;
    // The heaviest axle grows evenly from empty to its limit at the full load, and beyond when overloaded.
    const Mass empty = empty_axle(*this);
    view.axle = empty + (axle_limit - empty) * (s.mass / max_load);
    view.top_speed = loaded_speed;
    return view;
}

LowBed read_low_bed(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::low_bed);
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
    read_axles(t, b);
    read_deck(t, b);
    read_supports(t, b);
    t.finish();
    b.assumed = false;
    return b;
}

}  // namespace loamway
