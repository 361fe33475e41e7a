// SPDX-License-Identifier: Apache-2.0
// A season as JSON.
#include "json_values.h"
#include "loamway/base/version.h"
#include "season_hours.h"

namespace loamway {

namespace {

using Object = Value::Object;

class Writer {
public:
    explicit Writer(const Season& s) : m_s(s), m_zone(zone_of_season(s)) {}

    Value write() const {
        const CostCauses& c = m_s.causes;
        Value::Array machines, low_beds, left_out;
        for (std::size_t m = 0; m < m_s.list.machines.size(); ++m)
            machines.push_back(machine(m));
        for (std::size_t b = 0; b < m_s.list.low_beds.size(); ++b)
            low_beds.push_back(low_bed(b));
        for (const JobLeftOut& j : m_s.left_out)
            left_out.push_back(
                Object{{"job", m_s.list.jobs[j.job].field.name}, {"reasons", texts(j.reasons)}});
        return Object{{"schema", "loamway.season/1"},
                      {"loamway_version", std::string(program_version())},
                      {"title", m_s.list.title.empty() ? Value() : Value(m_s.list.title)},
                      {"currency", m_s.currency},
                      {"basis", m_s.basis},
                      {"begins", time(m_s.begins)},
                      {"ends", time(m_s.ends)},
                      {"cost", Object{{"total", rounded(m_s.total, 100)},
                                      {"field", rounded(m_s.field, 100)},
                                      {"moves", rounded(m_s.moves, 100)},
                                      {"low_beds", rounded(m_s.low_beds, 100)},
                                      {"causes", Object{{"labour", rounded(c.labour, 100)},
                                                        {"fuel", rounded(c.fuel, 100)},
                                                        {"belts", rounded(c.belts, 100)},
                                                        {"machine", rounded(c.machine, 100)},
                                                        {"low_bed", rounded(c.low_bed, 100)},
                                                        {"other", rounded(c.other, 100)}}}}},
                      {"bound", maybe(m_s.bound, 100)},
                      {"gap_share", maybe(m_s.gap, 1e5)},
                      {"exact", m_s.exact},
                      {"without_rules", maybe(m_s.without_rules, 100)},
                      {"wear_share", rounded(m_s.wear_share, 1e5)},
                      {"fuel_l", rounded(m_s.fuel_l, 10)},
                      {"machines", machines},
                      {"low_beds", low_beds},
                      {"left_out", left_out},
                      {"moves_planned", static_cast<std::int64_t>(m_s.moves_planned)},
                      {"pairs_left_out", static_cast<std::int64_t>(m_s.pairs_left_out)},
                      {"rounds", m_s.rounds},
                      {"warnings", texts(m_s.warnings)},
                      {"to_confirm", texts(m_s.to_confirm)},
                      {"region", Object{{"name", m_s.region_name},
                                        {"map_date", m_s.map_date.empty() ? Value() : Value(m_s.map_date)},
                                        {"time_zone", m_s.time_zone},
                                        {"attribution", m_s.attribution}}},
                      {"basis_words", texts(season_basis(m_s))},
                      {"cautions", texts(season_cautions(m_s))}};
    }

private:
    Value time(Instant t) const { return format_rfc3339(t, m_zone); }

    Value machine(std::size_t number) const {
        Value::Array entries;
        for (const SeasonEntry& e : m_s.entries)
            if (e.machine == number)
                entries.push_back(entry(e));
        return Object{{"name", m_s.list.machines[number].name}, {"entries", entries}};
    }
    Value entry(const SeasonEntry& e) const {
        const SeasonMove& m = e.move;
        const Value move =
            m.plan == nullptr
                ? Value()
                : Value(Object{{"mode", std::string(name_of(m.mode))},
                               {"from", m.from},
                               {"to", m.to},
                               {"leave", time(m.leave)},
                               {"arrive", time(m.arrive)},
                               {"cost", rounded(m.cost, 100)},
                               {"low_bed_cost", rounded(m.low_bed_cost, 100)},
                               {"low_bed",
                                e.trip ? Value(m_s.list.low_beds[m_s.trips[*e.trip].low_bed].name) : Value()},
                               {"driven_m", rounded(m.driven_m, 1)},
                               {"paved_m", rounded(m.paved_m, 1)},
                               {"hauled_m", rounded(m.hauled_m, 1)},
                               {"stops", m.stops},
                               {"powder_first", m.powder_first},
                               {"bar_high_c", maybe(m.bar_high_c, 10)},
                               {"limit_c", maybe(m.limit_c, 10)}});
        return Object{{"job", e.job ? Value(m_s.list.jobs[*e.job].field.name) : Value()},
                      {"field", e.job ? Value(m.to) : Value()},
                      {"begin", e.job ? time(e.begin) : Value()},
                      {"end", e.job ? time(e.end) : Value()},
                      {"field_cost", e.job ? rounded(e.field_cost, 100) : Value()},
                      {"move", move}};
    }
    Value low_bed(std::size_t number) const {
        Value::Array trips;
        for (const LowBedTrip& t : m_s.trips)
            if (t.low_bed == number)
                trips.push_back(
                    Object{{"machine",
                            t.entry ? Value(m_s.list.machines[m_s.entries[*t.entry].machine].name) : Value()},
                           {"from", t.from},
                           {"leaves", time(t.leaves)},
                           {"there", time(t.there)},
                           {"pick_up", t.entry ? Value(t.pick_up) : Value()},
                           {"drop", t.drop},
                           {"loads", t.entry ? time(t.busy_from) : Value()},
                           {"free", time(t.free)},
                           {"cost", rounded(t.cost, 100)}});
        return Object{{"name", m_s.list.low_beds[number].name}, {"trips", trips}};
    }

    const Season& m_s;
    TimeZone m_zone;
};

}  // namespace

Value season_to_json(const Season& season) {
    return Writer(season).write();
}

}  // namespace loamway
