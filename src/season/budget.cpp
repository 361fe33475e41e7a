// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/budget.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "belts_on_the_way.h"
#include "budget_sums.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/desk/correction_book.h"
#include "loamway/plan/inputs.h"
#include "loamway/plan/plan_words.h"
#include "loamway/text/document_kind.h"
#include "work_day.h"

namespace loamway {

namespace {

constexpr std::size_t largest_rates = std::size_t{1} << 20;

bool concerns_all_jobs(const std::string& key) {
    constexpr std::array<std::string_view, 9> of_one_move{
        "state", "modes", "units", "snap_km", "air_at_departure", "sun", "cloud", "depart", "air_course"};
    return std::find(of_one_move.begin(), of_one_move.end(), key) == of_one_move.end();
}

/// Goes through one list; the what-ifs are lists of their own.
class BudgetWalk {
public:
    BudgetWalk(const JobList& list, const KeptOpen& kept, Instant at, const std::function<void()>& tick)
        : m_list(list), m_kept(kept), m_at(at), m_tick(tick) {}

    Budget run() {
        Stand here{m_list.start, m_list.start_at};
        for (const FieldJob& job : m_list.jobs) {
            add(job, here);
            if (!job.field.empty())
                here = {job.field, job.field_at};
        }
        if (!m_list.finish.empty() && m_list.finish != here.name) {
            FieldJob home;
            home.name = "to " + m_list.finish;
            home.field = m_list.finish;
            home.field_at = m_list.finish_at;
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
    /// Where the machine stands, and who says so.
    struct Stand {
        std::string name;
        ErrorPlace said_at;
    };

    void add(const FieldJob& job, const Stand& here) {
        try {
            add_one(job, here);
        } catch (const Error& e) {
            throw Error(e.kind(), fmt::format("job \"{}\": {}", printable(job.name), in_own_words(e)),
                        e.what_to_do(), e.place());
        }
        m_tick();
    }
    /// The planner speaks of a move's from and to, which in a list are start, field and finish.
    static std::string in_own_words(const Error& e) {
        for (const std::string end : {"from", "to"})
            if (e.message().starts_with(end + " \"") && !e.place().item.empty())
                return e.place().item + e.message().substr(end.size());
        return e.message();
    }

    void add_one(const FieldJob& job, const Stand& here) {
        MoveRequest r = m_list.move;
        r.from = here.name;
        r.to = job.field.empty() ? here.name : job.field;
        r.said_at["from"] = here.said_at;
        r.said_at["to"] = job.field.empty() ? here.said_at : job.field_at;
        if (job.depart)
            r.said_at["depart"] = job.depart_at;
        if (job.state)
            r.state = job.state;
        if (job.depart)
            r.depart = job.depart;
        else if (m_leave)
            r.depart = format_rfc3339(*m_leave, TimeZone());
        Prepared prepared = prepare(r, m_kept, m_at);
        const TimeZone zone = zone_of(prepared.region->meta());
        const WorkDay day(zone, m_list.day_from_min, m_list.day_to_min);
        if (const Instant begins = day.next_begin(m_at); !r.depart && begins != m_at) {
            r.depart = format_rfc3339(begins, TimeZone());
            prepared = prepare(r, m_kept, m_at);
        }
        PlanInputs& in = prepared.inputs;
        if (m_next && in.depart < *m_next)
            throw Error(ErrorKind::input, "it departs before the job before it has ended",
                        fmt::format("which is {}", format_rfc3339(*m_next, zone)), job.depart_at);
        if (m_belts)
            in.belts = m_belts->now();
        else
            begin(prepared);
        for (const NamedPoint* end : {&in.from, &in.to})
            if (!end->to_confirm.empty() && std::find(m_out.to_confirm.begin(), m_out.to_confirm.end(),
                                                      end->to_confirm) == m_out.to_confirm.end())
                m_out.to_confirm.push_back(end->to_confirm);
        JobBudget out;
        out.name = job.name;
        out.from = in.from.name;
        out.to = in.to.name;
        out.hectares = job.hectares;
        out.depart = in.depart;
        out.moves = in.from.point != in.to.point;
        out.works = job.work.hours() > 0;
        if (out.moves)
            move(in, out);
        else
            out.arrive = in.depart;
        // After a move that cannot be done the machine is taken to be there all the same.
        const Instant there = out.arrive.value_or(in.depart);
        if (out.works) {
            add_field(in, job, out.sum);
            m_belts->work(job.work, job.work.hours() * in.wear.rates.field_mm_per_h);
        }
        out.ends = out.works ? day.after(there, job.work) : there;
        m_next = out.ends;
        m_leave = day.next_begin(*out.ends);
        m_out.jobs.push_back(std::move(out));
    }

    void move(PlanInputs in, JobBudget& out) {
        in.powder_first = PowderFirst::if_cheaper;
        const Plan plan = make_plan(in);
        out.sentence = plan.verdict.sentence;
        out.mode = plan.verdict.mode;
        out.option = plan.verdict.option;
        const Option* o = plan.find_option(plan.verdict.option);
        out.can_be_done = o != nullptr && o->feasible;
        if (!out.can_be_done) {
            for (const Option& option : plan.options)
                for (const std::string& why : option.why_not)
                    out.why_not.push_back(fmt::format("{}: {}", option_name(option.id), why));
            return;
        }
        out.powder_first = powders_early(in, *o);
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
        m_out.basis = name_of(in.rates.basis);
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
                m_out.assumed.push_back(fmt::format("{}: {}", field_words(f.key), f.value));
        }
        const auto guessed = std::find_if(m_list.jobs.begin(), m_list.jobs.end(), [](const FieldJob& j) {
            return j.load_assumed && !j.fuel_per_h && j.work.hours() > 0;
        });
        if (guessed != m_list.jobs.end())
            m_out.assumed.push_back(
                fmt::format("{}: {:g} of the rated power", field_words("field_load"), guessed->load));
    }

    const JobList& m_list;
    const KeptOpen& m_kept;
    Instant m_at;
    const std::function<void()>& m_tick;
    Budget m_out;
    std::optional<BeltsOnTheWay> m_belts;
    std::optional<Instant> m_next, m_leave;  // when the last work ended; when the next move can begin
};

/// Every move reads the files anew: what comes through a pipe would be gone after the first.
void require_files(const MoveRequest& r) {
    const std::array<std::pair<const char*, const std::optional<std::string>*>, 7> files{
        {{"region", &r.region},
         {"machine", &r.machine},
         {"trailer", &r.low_bed},
         {"rates", &r.rates},
         {"places", &r.places},
         {"corrections", &r.corrections},
         {"air_csv", &r.air_csv}}};
    for (const auto& [key, file] : files)
        if (*file == "-")
            throw Error(
                ErrorKind::input,
                fmt::format("{} cannot come from standard input: each move of a budget reads it", key),
                "name a file");
}

JobList changed(const JobList& list, const WhatIf& what) {
    JobList out = list;
    out.move = merge(list.move, what.over);
    if (!what.rates)
        return out;
    Value base{Value::Object{}};
    if (out.move.rates_table)
        base = *out.move.rates_table;
    else if (out.move.rates)
        base = parse_document(read_text_file(*out.move.rates, largest_rates), *out.move.rates,
                              DocumentKind::rates);
    out.move.rates_table = laid_over(base, *what.rates);
    out.move.rates.reset();
    return out;
}

}  // namespace

int Budget::not_done() const {
    return static_cast<int>(
        std::count_if(jobs.begin(), jobs.end(), [](const JobBudget& j) { return !j.can_be_done; }));
}

Budget make_budget(const JobList& list, Instant at, const std::function<void(double)>& tick,
                   const KeptOpen& kept) {
    require_files(list.move);
    for (const WhatIf& what : list.what_ifs)
        require_files(what.over);
    const double all =
        static_cast<double>((list.jobs.size() + (list.finish.empty() ? 0 : 1)) * (1 + list.what_ifs.size()));
    double done = 0;
    const std::function<void()> one = [&] {
        if (tick)
            tick(std::min(1.0, ++done / all));
    };
    Budget out = BudgetWalk(list, kept, at, one).run();
    for (const WhatIf& what : list.what_ifs) {
        try {
            const Budget other = BudgetWalk(changed(list, what), kept, at, one).run();
            out.what_ifs.push_back({what.name, other.sum, other.not_done()});
        } catch (const Error& e) {
            throw Error(e.kind(), fmt::format("what_if \"{}\": {}", printable(what.name), e.message()),
                        e.what_to_do(), e.place());
        }
    }
    return out;
}

}  // namespace loamway
