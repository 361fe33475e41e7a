// SPDX-License-Identifier: Apache-2.0
// MoveRequest -> PlanInputs: reads the files a request names, cheapest first, so that a slip of the pen is
// found before a large map is opened.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "belts_known.h"
#include "ledger_desk.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/desk/correction_book.h"
#include "loamway/desk/desk.h"
#include "move_words.h"
#include "place_lookup.h"
#include "profile_files.h"
#include "understood.h"
#include "when_window.h"

namespace loamway {

namespace {

constexpr std::size_t largest_air_table = std::size_t{1} << 20;

Error missing(const std::string& what, std::string what_to_do) {
    return {ErrorKind::input, fmt::format("{} is missing", what), std::move(what_to_do)};
}

void check_number(const std::optional<double>& v, Range range, const std::string& what,
                  const std::string& what_to_do = {}) {
    // The comparison is written so that a value that is no number fails it too.
    if (v && !(*v >= range.low && *v <= range.high))
        throw Error(ErrorKind::input,
                    fmt::format("{} = {} is outside {}..{}", what, *v, range.low, range.high), what_to_do);
}

std::string as_celsius(const std::optional<double>& fahrenheit) {
    if (!fahrenheit || !(*fahrenheit > 60 && *fahrenheit < 140))
        return {};
    return fmt::format("{:g} °F are {:.0f} °C", *fahrenheit, (*fahrenheit - 32) / 1.8);
}

void check_values(const MoveRequest& r) {
    check_number(r.air_c, desk_limits::air_c, "air temperature in °C", as_celsius(r.air_c));
    check_number(r.air_min_c, desk_limits::air_c, "least air temperature in °C");
    check_number(r.air_max_c, desk_limits::air_c, "greatest air temperature in °C");
    check_number(r.sun, desk_limits::sun, "sun");
    check_number(r.cloud, desk_limits::cloud, "cloud");
    check_number(r.since_lube_km, desk_limits::since_lube_km, "km since the last powder");
    check_number(r.belt_hours, desk_limits::belt_hours, "belt hours");
    check_number(r.bar_mm, desk_limits::bar_mm, "bar height in mm");
    check_number(r.detour_cap, desk_limits::detour_cap, "detour cap",
                 "as a share of the shortest way: 0.6 is up to 60 % longer");
    check_number(r.trials ? std::optional<double>(*r.trials) : std::nullopt, desk_limits::trials, "trials");
    check_number(r.seed ? std::optional<double>(static_cast<double>(*r.seed)) : std::nullopt,
                 desk_limits::seed, "seed");
    check_number(r.snap_limit_km, desk_limits::snap_km, "snap distance in km");
}

void check_complete(const MoveRequest& r) {
    if (!r.from)
        throw missing("the start of the move", "give --from LAT,LON or a name");
    if (!r.to)
        throw missing("the end of the move", "give --to LAT,LON or a name");
    if (!r.machine && !r.machine_table && !r.ledger)
        throw missing("the machine", "give --machine FILE.toml; examples/profiles has some to copy");
    if (!r.region)
        throw missing("the region", "give --region FILE.region; make one with: loamway region build");
}

// read_move finds these where the line is known; a request may also come from elsewhere.
void check_one_air(const MoveRequest& r) {
    const int said = (r.air_c ? 1 : 0) + (r.air_min_c || r.air_max_c ? 1 : 0) + (r.air_csv ? 1 : 0);
    if (said > 1)
        throw Error(ErrorKind::input, "the air is given in more than one way",
                    "give air_c, or air_min_c and air_max_c, or air_csv");
    if (r.air_min_c.has_value() != r.air_max_c.has_value())
        throw Error(ErrorKind::input, "the air's course through the day needs both air_min_c and air_max_c");
    if (r.air_min_c && *r.air_min_c > *r.air_max_c)
        throw Error(ErrorKind::input, "air_min_c is above air_max_c");
    if (r.sun && r.cloud)
        throw Error(ErrorKind::input, "both sun and cloud are given",
                    "sun replaces what the clouds and the sun's position give");
}

Conditions conditions(const MoveRequest& r) {
    check_one_air(r);
    Conditions c;
    if (r.air_c)
        c.air = Temperature::from_celsius(*r.air_c);
    if (r.air_min_c)
        c.air_range =
            AirRange{Temperature::from_celsius(*r.air_min_c), Temperature::from_celsius(*r.air_max_c)};
    c.air_assumed = !r.air_c && !r.air_min_c && !r.air_csv;
    c.cloud = r.cloud.value_or(c.cloud);
    c.cloud_assumed = !r.cloud;
    if (r.ground) {
        constexpr std::array<Ground, 5> grounds{Ground::dry, Ground::dusty, Ground::moist, Ground::wet,
                                                Ground::frozen};
        c.ground = grounds[check_word(*r.ground, desk_words::grounds(), "ground")];
        c.ground_assumed = false;
    }
    if (r.sun) {
        c.sun = *r.sun;
        c.sun_assumed = false;
    }
    return c;
}

void set_belts(const MoveRequest& r, const LedgerDesk& ledger, PlanInputs& in, Learnt& learnt) {
    const std::optional<BeltRecord> record = ledger.belts(in.depart);
    in.belts = belts_now(r, in.machine, record);
    in.heat = known_heat(r, in.machine, record);
    learnt.ledger_says = r.ledger ? ledger_words(r, record) : std::string();
    if (record)
        take_record(*record, in, learnt);
    in.powder_first = PowderFirst::if_needed;
}

/// The table of the air is read when the region is open: its times are in the region's zone.
void read_air_table(const MoveRequest& r, const TimeZone& zone, PlanInputs& in) {
    if (!r.air_csv)
        return;
    Conditions& c = in.conditions;
    c.air_file = *r.air_csv;
    c.air_table = parse_air_csv(read_text_file(*r.air_csv, largest_air_table), *r.air_csv, zone);
    // With only a day said, each hour is looked at by itself.
    const bool hour_said = !in.when || in.depart_said == DepartSaid::hour;
    if (hour_said && !Weather(c, in.from.point).covers(in.depart))
        throw Error(ErrorKind::input,
                    fmt::format("the table of the air covers {} to {}, not the departure at {}",
                                format_rfc3339(c.air_table.front().at, zone),
                                format_rfc3339(c.air_table.back().at, zone), format_rfc3339(in.depart, zone)),
                    "give a table of that day, or depart within it", {*r.air_csv, {}, {}});
}

void set_modes(const MoveRequest& r, PlanInputs& in) {
    const std::array<bool*, 3> wanted{&in.drive, &in.haul, &in.mixed};
    for (bool* mode : wanted)
        *mode = !r.modes;
    if (!r.modes)
        return;
    for (const std::string& mode : *r.modes)
        *wanted[check_word(mode, desk_words::modes(), "mode")] = true;
    if (r.modes->empty())
        throw Error(ErrorKind::input, "no mode is asked for", "any of drive, haul and mixed");
}

/// Whether the rates document itself says something of the belts.
bool says_of_belts(const Value& rates, std::string_view key) {
    const Value* belts = rates.find("belts");
    return belts != nullptr && belts->find(key) != nullptr;
}

void read_profiles(const MoveRequest& r, const LedgerDesk& ledger, PlanInputs& in, Learnt& learnt) {
    in.machine = ledger.machine();
    in.state = r.state.value_or("");
    (void)in.machine.state(in.state);
    in.low_bed =
        profile_or(r.low_bed_table, r.low_bed, DocumentKind::low_bed, place_of(r, "trailer"),
                   "name a low-bed profile, or leave it out for the assumed one", LowBed{}, read_low_bed);
    learnt.interval_assumed = learnt.belts_price_open = true;
    in.rates = profile_or(r.rates_table, r.rates, DocumentKind::rates, place_of(r, "rates"),
                          "name a file of rates, or leave it out for the defaults", Rates{},
                          [&learnt](const Value& document, const std::string& file) {
                              learnt.interval_assumed = !says_of_belts(document, "relube_interval_km");
                              learnt.belts_price_open = !says_of_belts(document, "price_per_set");
                              learnt.currency_open = document.find("currency") == nullptr;
                              return read_rates(document, file);
                          });
    if (r.basis)
        in.rates.basis = *r.basis == "full" ? CostBasis::full : CostBasis::marginal;
    learnt.rates_from = r.rates_table ? "given in the move" : r.rates.value_or("");
}

void set_departure(const MoveRequest& r, const TimeZone& zone, Instant at, PlanInputs& in) {
    in.depart = at;
    in.depart_said = !r.depart ? DepartSaid::nothing : is_day(*r.depart) ? DepartSaid::day : DepartSaid::hour;
    if (!r.depart)
        return;
    if (in.depart_said == DepartSaid::day && !in.when)
        throw Error(ErrorKind::input, fmt::format("depart: \"{}\" has no hour", *r.depart),
                    "write 2026-07-14T14:00, or say with \"when\" which hours to look at",
                    place_of(r, "depart"));
    try {
        in.depart = parse_departure(*r.depart, zone);
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("depart: {}", e.message()), e.what_to_do(), place_of(r, "depart"));
    }
}

void set_haul_from(const MoveRequest& r, const TimeZone& zone, PlanInputs& in) {
    if (!r.haul_from)
        return;
    try {
        in.haul_from = parse_time(*r.haul_from, zone);
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("haul_from: {}", e.message()), e.what_to_do(),
                    place_of(r, "haul_from"));
    }
}

std::optional<WhenWindow> window(const MoveRequest& r) {
    if (!r.when)
        return std::nullopt;
    try {
        return parse_window(*r.when);
    } catch (const Error& e) {
        throw Error(e.kind(), fmt::format("when: {}", e.message()), e.what_to_do(), place_of(r, "when"));
    }
}

void resolve_places(const MoveRequest& r, std::vector<PlaceEntry> own, const Region& region, PlanInputs& in) {
    // Where a field is entered may have been answered once and kept.
    if (in.corrections != nullptr)
        for (std::size_t i = 0; i < in.corrections->corrections().size(); ++i) {
            const Correction& c = in.corrections->corrections()[i];
            if (c.kind != CorrectionKind::entrance || !in.corrections->in_force(i))
                continue;
            for (PlaceEntry& p : own)
                if (p.field && p.name == c.value) {
                    p.point = c.line.front();
                    p.entrance_known = true;
                }
        }
    const PlaceLookup lookup(std::move(own), region);
    in.from = lookup.find(*r.from, "from", place_of(r, "from"));
    in.to = lookup.find(*r.to, "to", place_of(r, "to"));
    if (in.low_bed.base)
        in.low_bed_base =
            lookup.find(*in.low_bed.base, "the low-bed's base", {r.low_bed.value_or(""), {}, "base"});
    for (const std::string& name : r.loading_places.value_or(std::vector<std::string>()))
        in.loading_places.push_back(lookup.find(name, "loading place", place_of(r, "loading_places")));
    for (const PlaceEntry& p : lookup.own())
        if (p.stop)
            in.user_stops.push_back({p.name, p.point});
}

}  // namespace

Prepared prepare(const MoveRequest& request, Instant at) {
    return prepare(request, KeptOpen(), at);
}

Prepared prepare(const MoveRequest& request, const KeptOpen& kept, Instant at) {
    check_complete(request);
    check_values(request);
    Prepared out;
    PlanInputs& in = out.inputs;
    Learnt learnt;
    set_modes(request, in);
    in.conditions = conditions(request);
    if (request.units)
        (void)check_word(*request.units, desk_words::units(), "units");
    in.front_point = request.front_point;
    if (request.basis)
        (void)check_word(*request.basis, desk_words::bases(), "basis");
    in.trials = request.trials.value_or(in.trials);
    in.seed = static_cast<std::uint64_t>(request.seed.value_or(static_cast<std::int64_t>(in.seed)));
    in.return_trip = request.return_trip.value_or(false);
    in.when = window(request);
    in.detour_cap = request.detour_cap.value_or(in.detour_cap);
    in.snap_limit = Length::from_km(request.snap_limit_km.value_or(in.snap_limit.km()));
    const LedgerDesk ledger(request);
    read_profiles(request, ledger, in, learnt);
    std::vector<PlaceEntry> own;
    if (request.places)
        own = read_places(*request.places);
    else if (kept.places)
        own = *kept.places;
    const CorrectionBook book(*request.region, request.corrections);

    out.region = kept.region ? kept.region : std::make_shared<const Region>(Region::open(*request.region));
    const RegionMeta& meta = out.region->meta();
    in.region = out.region.get();
    in.kept_roads = kept.region ? kept.roads : nullptr;
    in.recipe = recipe_of(meta);
    in.limits = limits_of(meta);
    // Prices that somebody wrote down without a label are in the region's money; the assumed ones are in
    // nobody's.
    if (learnt.currency_open && !in.recipe.currency.empty())
        in.rates.currency = in.recipe.currency;
    learnt.units_assumed = !request.units;
    in.units = request.units.value_or(in.recipe.units);
    const TimeZone zone = zone_of(meta);
    set_departure(request, zone, at, in);
    set_haul_from(request, zone, in);
    in.also_moves = request.also_moves;
    learnt.depart_assumed = in.depart_said == DepartSaid::nothing;
    set_belts(request, ledger, in, learnt);
    if (!book.corrections().empty()) {
        out.corrections = std::make_unique<CorrectedRegion>(*out.region, book.corrections(), in.depart);
        in.corrections = out.corrections.get();
    }
    resolve_places(request, std::move(own), *out.region, in);
    read_air_table(request, zone, in);
    in.fields = understood_fields(request, in, learnt, zone, meta.time_zone_assumed);
    if (in.when && in.depart_said != DepartSaid::hour)
        in.fields_at = [request, learnt, zone, assumed = meta.time_zone_assumed](const PlanInputs& settled) {
            return understood_fields(request, settled, learnt, zone, assumed);
        };
    return out;
}

}  // namespace loamway
