// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/budget.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "belts_on_the_way.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/belt/motion.h"
#include "loamway/desk/correction_book.h"
#include "loamway/plan/inputs.h"
#include "work_day.h"

namespace loamway {

namespace {

constexpr std::size_t largest_rates = std::size_t{1} << 20;

double worth_of_a_set(const Rates& r) {
    return (r.belt_set + r.belt_fitting - r.belt_residual).units();
}

/// What the move itself takes.
void add_road(const PlanInputs& in, const Option& o, JobBudget& job) {
    BudgetSum& s = job.sum;
    const auto known = [](const std::optional<double>& v) { return v.value_or(0.0); };
    const OptionCost& c = o.cost;
    const double total = known(c.total);
    s.road_cost = total;
    s.cost += {total, std::min(total, c.low.value_or(total)), std::max(total, c.high.value_or(total))};
    s.fuel_l += known(o.fuel_l);
    s.fuel_high_l += o.fuel_high_l.value_or(known(o.fuel_l));
    s.road = Duration::from_seconds(known(o.duration_s));
    s.driven_m = known(o.length_m);
    s.paved_m = known(o.hard_m);
    s.hauled_m = known(o.hauled_m);
    for (const PlanStop& stop : o.stops)
        s.stops += stop.at_m > 0 ? 1 : 0;
    CostCauses& why = s.causes;
    why.labour += known(c.labour);
    why.fuel += known(c.fuel);
    why.belts += known(c.belts);
    why.machine += known(c.machine);
    why.low_bed += known(c.truck) + known(c.permit);
    why.other += total - (known(c.labour) + known(c.fuel) + known(c.belts) + known(c.machine) +
                          known(c.truck) + known(c.permit));
    const double mm = known(o.wear.mm),
                 whole = (in.machine.belts.bar_height - in.machine.belts.worn_height).mm();
    const double low = known(o.wear.low), high = known(o.wear.high), worth = worth_of_a_set(in.rates);
    s.wear_mm += {mm, low * whole, high * whole};
    s.wear_share += {known(o.wear.share), low, high};
    s.belt_money += {known(c.belts), low * worth, high * worth};
    WearCauses& wear = s.wear_causes;
    wear.paved = known(o.wear.weighted_km[0]) * in.wear.rates.hard_mm_per_km;
    wear.gravel = known(o.wear.weighted_km[1]) * in.wear.rates.gravel_mm_per_km;
    wear.earth = known(o.wear.weighted_km[2]) * in.wear.rates.earth_mm_per_km;
    wear.turns = std::max(0.0, mm - wear.paved - wear.gravel - wear.earth);
    if (o.heat) {
        job.bar_peak_c = o.heat->bar_peak_c;
        job.bar_high_c = o.heat->bar_high_c;
        job.limit_c = o.heat->limit_c;
        job.heat_calibrated = o.heat->calibrated;
    }
}

/// What the work in the field takes, at the rates of the move.
void add_field(const PlanInputs& in, const FieldJob& job, BudgetSum& s) {
    const Rates& r = in.rates;
    const double hours = job.work.hours();
    s.field = job.work;
    const FuelRate rate = fuel_rate(in.machine.engine, job.load, r.speed_reduction_pct);
    const double litres = hours * (job.fuel_per_h ? job.fuel_per_h->litres() : rate.litres_per_hour);
    const double litres_high = job.fuel_per_h ? litres : hours * rate.upper_litres_per_hour;
    const double per_litre = r.fuel_per_l.units() * (1 + r.oil_share);
    const double mm = hours * in.wear.rates.field_mm_per_h;
    const double share = wear_share(mm, in.machine.belts), off = in.wear.field_sd_share;
    const double belts = share * worth_of_a_set(r);
    const double labour = hours * r.wage_per_h.units() * r.labour_factor;
    const double machine = hours * (r.ownership_per_h() + r.repair_per_h).units();
    s.fuel_l += litres;
    s.fuel_high_l += std::max(litres, litres_high);
    s.wear_mm += {mm, mm * (1 - off), mm * (1 + off)};
    s.wear_share += {share, share * (1 - off), share * (1 + off)};
    s.belt_money += {belts, belts * (1 - off), belts * (1 + off)};
    s.wear_causes.field += mm;
    s.causes.labour += labour;
    s.causes.fuel += litres * per_litre;
    s.causes.belts += belts;
    s.causes.machine += machine;
    s.field_cost = labour + litres * per_litre + belts + machine;
    s.cost += {s.field_cost, s.field_cost - belts * off,
               s.field_cost + belts * off + std::max(0.0, litres_high - litres) * per_litre};
}

bool concerns_all_jobs(const std::string& key) {
    constexpr std::array<std::string_view, 9> of_one_move{
        "state", "modes", "units", "snap_km", "air_at_departure", "sun", "cloud", "depart", "air_course"};
    return std::find(of_one_move.begin(), of_one_move.end(), key) == of_one_move.end();
}

/// Goes through one list; the what-ifs are lists of their own.
class BudgetWalk {
public:
    BudgetWalk(const JobList& list, Instant at, const std::function<void()>& tick)
        : m_list(list), m_at(at), m_tick(tick) {}

    Budget run() {
        std::string here = m_list.start;
        for (const FieldJob& job : m_list.jobs) {
            add(job, here);
            if (!job.field.empty())
                here = job.field;
        }
        if (!m_list.finish.empty() && m_list.finish != here) {
            FieldJob home;
            home.name = "to " + m_list.finish;
            home.field = m_list.finish;
            add(home, here);
            m_out.jobs.back().way_home = true;
        }
        for (JobBudget& j : m_out.jobs) {
            j.price = j.sum.cost.value * (1 + m_list.margin);
            m_out.sum += j.sum;
        }
        m_out.title = m_list.title;
        m_out.margin = m_list.margin;
        m_out.price = m_out.sum.cost.value * (1 + m_list.margin);
        return std::move(m_out);
    }

private:
    void add(const FieldJob& job, const std::string& here) {
        try {
            add_one(job, here);
        } catch (const Error& e) {
            throw Error(e.kind(), fmt::format("job \"{}\": {}", printable(job.name), e.message()),
                        e.what_to_do(), e.place());
        }
        m_tick();
    }

    void add_one(const FieldJob& job, const std::string& here) {
        MoveRequest r = m_list.move;
        r.from = here;
        r.to = job.field.empty() ? here : job.field;
        if (job.state)
            r.state = job.state;
        if (job.depart)
            r.depart = job.depart;
        else if (m_leave)
            r.depart = format_rfc3339(*m_leave, TimeZone());
        Prepared prepared = prepare(r, m_at);
        PlanInputs& in = prepared.inputs;
        if (m_next && in.depart < *m_next)
            throw Error(ErrorKind::input, "it departs before the job before it has ended",
                        fmt::format("which is {}", format_rfc3339(*m_next, TimeZone())));
        in.rates.basis = m_list.basis;
        if (m_belts)
            in.belts = m_belts->now();
        else
            begin(prepared);
        JobBudget out;
        out.name = job.name;
        out.from = in.from.name;
        out.to = in.to.name;
        out.hectares = job.hectares;
        out.depart = out.arrive = in.depart;
        out.moves = in.from.point != in.to.point;
        out.works = job.work.hours() > 0;
        if (out.moves)
            move(in, out);
        if (out.works) {
            add_field(in, job, out.sum);
            m_belts->work(job.work, job.work.hours() * in.wear.rates.field_mm_per_h);
        }
        const TimeZone zone = zone_of(prepared.region->meta());
        const WorkDay day(zone, m_list.day_from_min, m_list.day_to_min);
        out.ends = out.works ? day.after(*out.arrive, job.work) : *out.arrive;
        m_next = out.ends;
        m_leave = day.next_begin(*out.ends);
        m_out.jobs.push_back(std::move(out));
    }

    static std::optional<double> cost_of(const Plan& plan) {
        const Option* o = plan.find_option(plan.verdict.option);
        return o != nullptr && o->feasible ? o->cost.total : std::nullopt;
    }

    /// As the belts are, or with powder before leaving where that is cheaper or the only way: where the
    /// machine has worked there is time for it, on the road places are few.
    static Plan plan_of(const PlanInputs& in, JobBudget& out) {
        Plan plan = make_plan(in);
        if (!(in.belts.since_lube > Length()) || in.belts.since_lube >= in.rates.relube_interval)
            return plan;
        PlanInputs powdered = in;
        powdered.powder_first = PowderFirst::yes;
        Plan other = make_plan(powdered);
        const std::optional<double> as_is = cost_of(plan), then = cost_of(other);
        out.powder_first = then && (!as_is || *then < *as_is) && other.verdict.mode != Mode::haul;
        return out.powder_first ? std::move(other) : std::move(plan);
    }

    void move(const PlanInputs& in, JobBudget& out) {
        const Plan plan = plan_of(in, out);
        out.sentence = plan.verdict.sentence;
        out.mode = plan.verdict.mode;
        out.option = plan.verdict.option;
        const Option* o = plan.find_option(plan.verdict.option);
        out.can_be_done = o != nullptr && o->feasible;
        if (!out.can_be_done) {
            // The machine has to be there for the next job all the same: the sums leave this move out.
            for (const Option& option : plan.options)
                for (const std::string& why : option.why_not)
                    out.why_not.push_back(fmt::format("{}: {}", option.id, why));
            return;
        }
        add_road(in, *o, out);
        out.arrive = o->arrive.value_or(in.depart);
        m_belts->move(plan, *o);
    }

    /// What all jobs have in common is taken from the first.
    void begin(const Prepared& prepared) {
        const PlanInputs& in = prepared.inputs;
        m_belts.emplace(in.belts);
        m_out.machine = in.machine.name;
        m_out.currency = in.rates.currency;
        m_out.basis = name_of(m_list.basis);
        m_out.wear_calibrated = in.wear.calibrated;
        const RegionMeta& meta = prepared.region->meta();
        m_out.time_zone = meta.time_zone;
        m_out.map_date = meta.map_date;
        m_out.region_name = meta.name;
        m_out.attribution = meta.attribution;
        for (const MoveField& f : in.fields) {
            if (f.key == "ledger")
                m_out.ledger = f.value;
            if (f.key == "belts")
                m_out.belts = f.value;
            if (f.assumed && concerns_all_jobs(f.key))
                m_out.assumed.push_back(fmt::format("{}: {}", f.key, f.value));
        }
        if (std::any_of(m_list.jobs.begin(), m_list.jobs.end(),
                        [](const FieldJob& j) { return !j.fuel_per_h && j.work.hours() > 0; }))
            m_out.assumed.push_back(
                fmt::format("field_load: {:g} of the rated power", m_list.jobs.front().load));
    }

    const JobList& m_list;
    Instant m_at;
    const std::function<void()>& m_tick;
    Budget m_out;
    std::optional<BeltsOnTheWay> m_belts;
    std::optional<Instant> m_next, m_leave;  // when the last work ended; when the next move can begin
};

JobList changed(const JobList& list, const WhatIf& what) {
    JobList out = list;
    out.move = merge(list.move, what.over);
    if (!what.rates)
        return out;
    Value base{Value::Object{}};
    if (out.move.rates_table)
        base = *out.move.rates_table;
    else if (out.move.rates)
        base = parse_toml(read_text_file(*out.move.rates, largest_rates), *out.move.rates);
    out.move.rates_table = laid_over(base, *what.rates);
    out.move.rates.reset();
    return out;
}

}  // namespace

CostCauses& CostCauses::operator+=(const CostCauses& o) {
    labour += o.labour;
    fuel += o.fuel;
    belts += o.belts;
    machine += o.machine;
    low_bed += o.low_bed;
    other += o.other;
    return *this;
}

WearCauses& WearCauses::operator+=(const WearCauses& o) {
    paved += o.paved;
    gravel += o.gravel;
    earth += o.earth;
    turns += o.turns;
    field += o.field;
    return *this;
}

BudgetSum& BudgetSum::operator+=(const BudgetSum& o) {
    cost += o.cost;
    wear_mm += o.wear_mm;
    wear_share += o.wear_share;
    belt_money += o.belt_money;
    fuel_l += o.fuel_l;
    fuel_high_l += o.fuel_high_l;
    road_cost += o.road_cost;
    field_cost += o.field_cost;
    road += o.road;
    field += o.field;
    driven_m += o.driven_m;
    paved_m += o.paved_m;
    hauled_m += o.hauled_m;
    stops += o.stops;
    causes += o.causes;
    wear_causes += o.wear_causes;
    return *this;
}

int Budget::not_done() const {
    return static_cast<int>(
        std::count_if(jobs.begin(), jobs.end(), [](const JobBudget& j) { return !j.can_be_done; }));
}

Budget make_budget(const JobList& list, Instant at, const std::function<void(double)>& tick) {
    const double all =
        static_cast<double>((list.jobs.size() + (list.finish.empty() ? 0 : 1)) * (1 + list.what_ifs.size()));
    double done = 0;
    const std::function<void()> one = [&] {
        if (tick)
            tick(std::min(1.0, ++done / all));
    };
    Budget out = BudgetWalk(list, at, one).run();
    for (const WhatIf& what : list.what_ifs) {
        try {
            const Budget other = BudgetWalk(changed(list, what), at, one).run();
            out.what_ifs.push_back({what.name, other.sum, other.not_done()});
        } catch (const Error& e) {
            throw Error(e.kind(), fmt::format("what_if \"{}\": {}", printable(what.name), e.message()),
                        e.what_to_do(), e.place());
        }
    }
    return out;
}

}  // namespace loamway
