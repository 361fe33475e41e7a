// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/rates.h"

#include <utility>

#include "loamway/base/error.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

constexpr Range money_range{0, 1e7};
constexpr Range minutes_range{0, 24 * 60};

/// One section of the document; a key that is left out keeps what the struct has.
class Section {
public:
    explicit Section(Table table) : m_table(std::move(table)) {}

    void money(std::string_view key, Money& m) {
        m = Money::from_units(m_table.number_or(key, m.units(), money_range));
    }
    void minutes(std::string_view key, Duration& d, Range range = minutes_range) {
        if (const auto v = m_table.number(key, range))
            d = Duration::from_minutes(*v);
    }
    void speed(std::string_view key, Speed& s, Range range) {
        if (const auto v = m_table.number(key, range))
            s = Speed::from_kmh(*v);
    }
    void plain(std::string_view key, double& d, Range range) { d = m_table.number_or(key, d, range); }
    void count(std::string_view key, int& n, Range range) {
        if (const auto v = m_table.integer(key, range))
            n = static_cast<int>(*v);
    }
    void flag(std::string_view key, bool& b) { b = m_table.boolean(key).value_or(b); }
    Table& table() { return m_table; }

private:
    Table m_table;
};

/// Runs `read` on a section that is there, then complains about keys it did not ask for.
template <class Read>
void section(Table& document, std::string_view name, Read read) {
    std::optional<Table> table = document.table(name);
    if (!table)
        return;
    Section s(std::move(*table));
    read(s);
    s.table().finish();
}

void read_own_costs(Table& t, Rates& r) {
    section(t, "labour", [&r](Section& s) {
        s.money("wage_per_h", r.wage_per_h);
        s.plain("factor", r.labour_factor, {0.5, 3});
    });
    section(t, "fuel", [&r](Section& s) {
        s.money("price_per_l", r.fuel_per_l);
        s.plain("speed_reduction_pct", r.speed_reduction_pct, {0, 60});
        double idle = r.idle_per_h.litres();
        s.plain("idle_l_per_h", idle, {0, 100});
        r.idle_per_h = Volume::from_litres(idle);
        s.plain("oil_share", r.oil_share, {0, 1});
    });
    section(t, "belts", [&r](Section& s) {
        s.money("price_per_set", r.belt_set);
        s.money("fitting_per_set", r.belt_fitting);
        s.money("residual_per_set", r.belt_residual);
        s.money("lubricant_per_stop", r.lubricant_per_stop);
        double km = r.relube_interval.km();
        s.plain("relube_interval_km", km, {1, 15});  // at the latest every 15 km: common practice, no source
        r.relube_interval = Length::from_km(km);
        if (r.belt_residual > r.belt_set + r.belt_fitting)
            throw s.table().error_at("residual_per_set", "worn belts are worth more than new ones",
                                     "residual_per_set is what a worn-out set still fetches");
    });
    section(t, "machine", [&r](Section& s) {
        s.money("ownership_full_per_h", r.ownership_full_per_h);
        s.money("ownership_marginal_per_h", r.ownership_marginal_per_h);
        s.money("repair_per_h", r.repair_per_h);
        s.money("drive_permit_per_trip", r.drive_permit);
    });
}

void read_cars_and_times(Table& t, Rates& r) {
    section(t, "escort", [&r](Section& s) {
        s.count("cars", r.escorts, {0, 10});
        s.money("per_h", r.escort_per_h);
        s.money("per_km", r.escort_per_km);
    });
    section(t, "shuttle", [&r](Section& s) {
        s.flag("counted", r.shuttle);
        s.money("per_h", r.shuttle_per_h);
        s.money("per_km", r.shuttle_per_km);
        s.speed("car_kmh", r.car_speed, {10, 130});
    });
    section(t, "times", [&r](Section& s) {
        s.minutes("stop_two_belts_min", r.stop_two_belts);
        s.minutes("stop_four_belts_min", r.stop_four_belts);
        s.minutes("turn_out_min", r.turn_out);
        s.minutes("prepare_min", r.prepare);
        s.minutes("wash_min", r.wash);
        s.minutes("slow_start_min", r.slow_start);
        s.speed("slow_start_kmh", r.slow_start_speed, {1, 80});
        s.minutes("expected_delay_min", r.expected_delay);
        s.money("delay_per_h", r.delay_per_h);
    });
}

void read_haulage(Table& t, Rates& r) {
    section(t, "low_bed", [&r](Section& s) {
        s.money("per_h", r.truck_per_h);
        s.money("per_km", r.truck_per_km);
        s.money("minimum_per_trip", r.truck_minimum);
        s.minutes("billing_step_min", r.billing_step, {1, 24 * 60});
        s.minutes("load_min", r.load_time);
        s.minutes("unload_min", r.unload_time);
        s.minutes("wait_min", r.wait_time);
        s.minutes("make_narrow_min", r.make_narrow_time);
        s.plain("machine_running_h", r.machine_running_load_h, {0, 24});
        s.plain("machine_load_fraction", r.loading_load_fraction, {0.05, 1});
        s.money("permit_per_trip", r.permit);
        s.money("toll_per_trip", r.toll);
        s.count("escort_cars", r.haul_escorts, {0, 10});
    });
}

}  // namespace

std::string_view name_of(CostBasis b) {
    switch (b) {
        case CostBasis::marginal:
            return "marginal";
        case CostBasis::full:
            return "full";
    }
    throw Error(ErrorKind::internal, "a cost basis without a name");
}

Rates read_rates(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::rates);
    Table t(document, file);
    Rates r;
    r.currency = t.text("currency").value_or(r.currency);
    if (r.currency.empty() || r.currency.size() > 16)
        throw t.error_at("currency", "the currency is a label of 1 to 16 bytes", "currency = \"CU\"");
    if (const auto basis = t.word("basis", {"marginal", "full"}))
        r.basis = static_cast<CostBasis>(*basis);
    read_own_costs(t, r);
    read_cars_and_times(t, r);
    read_haulage(t, r);
    t.finish();
    r.all_assumed = false;
    return r;
}

}  // namespace loamway
