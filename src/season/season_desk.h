// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_DESK_H
#define LOAMWAY_SRC_SEASON_SEASON_DESK_H

// What a season names, found: places, machines with their belts, low-beds, the days; and its moves put
// together as any other move is.

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "loamway/season/season_list.h"
#include "season_calendar.h"

namespace loamway {

class SeasonDesk {
public:
    /// Opens the region, finds every place and reads every profile once; every fault is an Error.
    SeasonDesk(const SeasonList& list, Instant at, const KeptOpen& kept);

    [[nodiscard]] const SeasonList& list() const { return m_list; }
    [[nodiscard]] const TimeZone& zone() const { return m_zone; }
    [[nodiscard]] const SeasonCalendar& calendar() const { return *m_calendar; }
    [[nodiscard]] const RegionMeta& meta() const { return m_kept.region->meta(); }
    [[nodiscard]] Instant begins() const { return m_begins; }

    // Places of the problem: where machines stand and belong, where low-beds belong, jobs. Loading places
    // come after them.
    [[nodiscard]] int stand(std::size_t machine) const { return static_cast<int>(2 * machine); }
    [[nodiscard]] int base(std::size_t machine) const { return static_cast<int>(2 * machine + 1); }
    [[nodiscard]] int low_bed_base(std::size_t bed) const {
        return static_cast<int>(2 * m_list.machines.size() + bed);
    }
    [[nodiscard]] int place_of_job(std::size_t job) const {
        return static_cast<int>(2 * m_list.machines.size() + m_list.low_beds.size() + job);
    }
    [[nodiscard]] const std::vector<NamedPoint>& places() const { return m_places; }

    /// As first read: of the machine, in the state its moves to the job (or home) have, with the low-bed.
    [[nodiscard]] const PlanInputs& inputs(std::size_t machine, std::optional<std::size_t> job,
                                           std::optional<std::size_t> bed);
    /// A move of the final season, prepared anew for its hour.
    [[nodiscard]] Prepared prepare_move(std::size_t machine, std::optional<std::size_t> job,
                                        std::optional<std::size_t> bed, int from, int to, Instant depart,
                                        Mode mode) const;
    /// Machines and low-beds of one class have the same figures for the same move.
    [[nodiscard]] std::string class_of(std::size_t machine, std::optional<std::size_t> job) const;
    [[nodiscard]] std::string class_of_low_bed(std::size_t bed) const;

    [[nodiscard]] bool can(std::size_t machine, std::size_t job) const;
    [[nodiscard]] Duration work(std::size_t machine, std::size_t job) const;
    [[nodiscard]] FieldJob field_job(std::size_t machine, std::size_t job) const;
    /// In working minutes; of a day as `latest` its evening.
    [[nodiscard]] WorkMinute earliest(const std::optional<SaidTime>& said) const;
    [[nodiscard]] WorkMinute latest(const std::optional<SaidTime>& said) const;

private:
    [[nodiscard]] Instant time_of(const SaidTime& said, bool end) const;
    void add_place(const std::string& name, const ErrorPlace& at);
    [[nodiscard]] MoveRequest request(std::size_t machine, std::optional<std::size_t> job,
                                      std::optional<std::size_t> bed) const;
    void lay_out_days();

    const SeasonList& m_list;
    Instant m_at, m_begins;
    KeptOpen m_kept;
    TimeZone m_zone;
    std::unique_ptr<SeasonCalendar> m_calendar;
    std::vector<NamedPoint> m_places;
    std::vector<std::pair<std::string, ErrorPlace>> m_said;  // beside the places
    std::map<std::string, Prepared> m_prepared;
};

}  // namespace loamway

#endif
