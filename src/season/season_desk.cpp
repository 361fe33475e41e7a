// SPDX-License-Identifier: Apache-2.0
#include "season_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/desk/correction_book.h"

namespace loamway {

namespace {

constexpr int most_days = 800;

bool is_whole_day(const std::string& text) {
    return text.size() == 10;
}

}  // namespace

SeasonDesk::SeasonDesk(const SeasonList& list, Instant at, const KeptOpen& kept)
    : m_list(list), m_at(at), m_kept(kept) {
    if (!list.move.region)
        throw Error(ErrorKind::input, "the region is missing",
                    "give --region FILE.region; make one with: loamway region build", {list.file, {}, {}});
    if (!m_kept.region)
        m_kept.region = std::make_shared<const Region>(Region::open(*list.move.region));
    if (!m_kept.places && list.move.places)
        m_kept.places = std::make_shared<const std::vector<PlaceEntry>>(read_places(*list.move.places));
    m_zone = zone_of(m_kept.region->meta());
    for (const ListedMachine& m : list.machines) {
        if (m.stands.empty())
            add_place(m.base, m.base_at);
        else
            add_place(m.stands, m.stands_at);
        add_place(m.base, m.base_at);
    }
    for (const ListedLowBed& b : list.low_beds)
        add_place(b.base, b.base_at);
    for (const ListedJob& j : list.jobs)
        add_place(j.field.field, j.field.field_at);
    lay_out_days();
}

/// The place is looked up as the start of a move is, by the first machine.
void SeasonDesk::add_place(const std::string& name, const ErrorPlace& at) {
    for (std::size_t i = 0; i < m_said.size(); ++i)
        if (m_said[i].first == name) {
            m_places.push_back(NamedPoint(m_places[i]));
            m_said.emplace_back(name, at);
            return;
        }
    MoveRequest r = merge(m_list.move, m_list.machines.front().move);
    r.from = r.to = name;
    r.said_at["from"] = r.said_at["to"] = at;
    if (r.depart && is_whole_day(*r.depart))
        r.depart = *r.depart + "T00:00";
    try {
        m_places.push_back(prepare(r, m_kept, m_at).inputs.from);
        m_said.emplace_back(name, at);
    } catch (const Error& e) {
        std::string text = e.message();
        if (text.starts_with("from \""))
            text = at.item + text.substr(4);
        throw Error(e.kind(), text, e.what_to_do(), e.place());
    }
}

// Far enough that whatever can be done is done: all work one after the other, twice, after the last day
// named.
void SeasonDesk::lay_out_days() {
    const WorkDay day(m_zone, m_list.day_from_min, m_list.day_to_min);
    m_begins = day.next_begin(
        m_list.move.depart ? time_of({*m_list.move.depart, {m_list.file, {}, "depart"}}, false) : m_at);
    Instant last = m_begins;
    double hours = 0;
    for (std::size_t j = 0; j < m_list.jobs.size(); ++j) {
        const ListedJob& job = m_list.jobs[j];
        for (const std::optional<SaidTime>* said : {&job.earliest, &job.latest})
            if (*said)
                last = std::max(last, time_of(**said, said == &job.latest));
        double longest = 0;
        for (std::size_t m = 0; m < m_list.machines.size(); ++m)
            if (can(m, j))
                longest = std::max(longest, work(m, j).hours());
        hours += longest + 3;
    }
    const double day_hours = (m_list.day_to_min - m_list.day_from_min) / 60.0;
    const double days = (last - m_begins).hours() / 24 + 2 * hours / day_hours + 10;
    if (days > most_days)
        throw Error(ErrorKind::limit, fmt::format("the season is {:.0f} days long", days),
                    fmt::format("at most {}", most_days), {m_list.file, {}, {}});
    m_calendar = std::make_unique<SeasonCalendar>(day, m_begins, static_cast<int>(days));
}

Instant SeasonDesk::time_of(const SaidTime& said, bool end) const {
    try {
        const Instant t = parse_time(is_whole_day(said.text) ? said.text + "T00:00" : said.text, m_zone);
        if (!is_whole_day(said.text) || !end)
            return t;
        LocalTime local = m_zone.local(t);
        local.hour = 23;
        local.minute = 59;
        return m_zone.instant(local);
    } catch (const Error& e) {
        throw Error(e.kind(), e.message(), e.what_to_do(), said.at);
    }
}

WorkMinute SeasonDesk::earliest(const std::optional<SaidTime>& said) const {
    return said ? m_calendar->from(time_of(*said, false)) : 0;
}

WorkMinute SeasonDesk::latest(const std::optional<SaidTime>& said) const {
    return said ? m_calendar->until(time_of(*said, true)) : m_calendar->day_ends().back();
}

bool SeasonDesk::can(std::size_t machine, std::size_t job) const {
    const std::vector<std::size_t>& those = m_list.jobs[job].machines;
    return those.empty() || std::find(those.begin(), those.end(), machine) != those.end();
}

Duration SeasonDesk::work(std::size_t machine, std::size_t job) const {
    const ListedJob& j = m_list.jobs[job];
    if (j.hours)
        return Duration::from_hours(*j.hours);
    return Duration::from_hours(*j.field.hectares /
                                j.ha_per_h.value_or(m_list.machines[machine].ha_per_h.value_or(1)));
}

FieldJob SeasonDesk::field_job(std::size_t machine, std::size_t job) const {
    FieldJob f = m_list.jobs[job].field;
    f.work = work(machine, job);
    return f;
}

MoveRequest SeasonDesk::request(std::size_t machine, std::optional<std::size_t> job,
                                std::optional<std::size_t> bed) const {
    MoveRequest r = merge(m_list.move, m_list.machines[machine].move);
    if (bed)
        r = merge(r, m_list.low_beds[*bed].move);
    if (job && m_list.jobs[*job].field.state)
        r.state = m_list.jobs[*job].field.state;
    return r;
}

std::string SeasonDesk::class_of(std::size_t machine, std::optional<std::size_t> job) const {
    const MoveRequest& m = m_list.machines[machine].move;
    const std::string state = request(machine, job, std::nullopt).state.value_or("");
    // What is written out at a machine is its own.
    if (m.machine_table || !m.readings.empty() || m_list.move.ledger)
        return fmt::format("{}\n{}", machine, state);
    const auto number = [](const std::optional<double>& v) { return v ? fmt::format("{}", *v) : "-"; };
    return fmt::format("{}\n{}\n{}\n{} {} {} {} {}", m.machine.value_or(""), m.belts.value_or(""), state,
                       number(m.belt_hours), number(m.since_lube_km), number(m.bar_mm),
                       m.preconditioned.value_or(false), m.washed.value_or(false));
}

std::string SeasonDesk::class_of_low_bed(std::size_t bed) const {
    const MoveRequest& b = m_list.low_beds[bed].move;
    return b.low_bed_table ? fmt::format("#{}", bed) : b.low_bed.value_or("");
}

const PlanInputs& SeasonDesk::inputs(std::size_t machine, std::optional<std::size_t> job,
                                     std::optional<std::size_t> bed) {
    const std::string key =
        fmt::format("{}\n{}", class_of(machine, job), bed ? class_of_low_bed(*bed) : std::string("none"));
    const auto known = m_prepared.find(key);
    if (known != m_prepared.end())
        return known->second.inputs;
    MoveRequest r = request(machine, job, bed);
    r.from = r.to = m_list.machines[machine].base;
    r.depart = format_rfc3339(m_calendar->beginning(0), TimeZone());
    Prepared p = prepare(r, m_kept, m_at);
    p.inputs.low_bed_base.reset();
    if (bed)
        p.inputs.low_bed_base = m_places[static_cast<std::size_t>(low_bed_base(*bed))];
    return m_prepared.emplace(key, std::move(p)).first->second.inputs;
}

Prepared SeasonDesk::prepare_move(std::size_t machine, std::optional<std::size_t> job,
                                  std::optional<std::size_t> bed, int from, int to, Instant depart,
                                  Mode mode) const {
    MoveRequest r = request(machine, job, bed);
    r.from = m_said[static_cast<std::size_t>(from)].first;
    r.said_at["from"] = m_said[static_cast<std::size_t>(from)].second;
    r.to = m_said[static_cast<std::size_t>(to)].first;
    r.said_at["to"] = m_said[static_cast<std::size_t>(to)].second;
    r.depart = format_rfc3339(depart, TimeZone());
    r.modes = std::vector<std::string>{std::string(name_of(mode))};
    Prepared p = prepare(r, m_kept, m_at);
    p.inputs.front = p.inputs.other_hours = false;
    return p;
}

}  // namespace loamway
