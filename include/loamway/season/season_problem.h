// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_PROBLEM_H
#define LOAMWAY_SEASON_SEASON_PROBLEM_H

// Which machine does which job, in which order, how each move is made and when: the bare question, in whole
// numbers, without maps. What it means:
//
// - Time counts working minutes: the hours of the day in which there is work, one day joined to the next.
//   A job may go over the end of a day. A move (loading, hauling and unloading among it) and an empty run of
//   a low-bed lie in one day each; when a day is too short for it, it waits for the next.
// - A machine starts at `start`, at `free_at`, does its jobs one after the other and, where it has a `home`
//   and has done a job at all, goes there. It leaves as soon as it can.
// - A job begins when the machine is there, not before `earliest`, and ends by `latest`. A job that nobody
//   does costs `left_out`, which is chosen so large that a job is left out only where it cannot be done.
// - A way of a move takes the machine `minutes` without a break. Hauled and mixed ways are made with one
//   low-bed, which must be at `pick_up` when `load_after` minutes have gone by, is busy for
//   `low_bed_minutes`, and is then at `drop`. The machine leaves late enough not to wait for it on the way.
// - A low-bed starts at its base, runs empty to each pick-up from where it stands, as soon as it is free,
//   stays where it unloaded until its next trip (nights too), and goes back to its base after its last one.
//   A trip costs max(minimum, low_bed_cost + its empty run); the run back costs what an empty run costs.
// - The least sum of all this is asked for. Times matter only for what can be done.
//
// Plain values; safe to read from several threads.

#include <cstdint>
#include <span>
#include <vector>

namespace loamway {

using WorkMinute = std::int32_t;
using Cents = std::int64_t;  // hundredths of the currency

constexpr int most_machines = 12, most_low_beds = 8;

enum class WayKind : std::uint8_t { driven, hauled, mixed };
constexpr std::uint8_t all_kinds = 7;
[[nodiscard]] constexpr std::uint8_t bit_of(WayKind k) {
    return static_cast<std::uint8_t>(1u << static_cast<unsigned>(k));
}

struct SeasonWay {
    WayKind kind = WayKind::driven;
    Cents cost = 0;  // without the low-bed
    WorkMinute minutes = 0;
    int low_bed = -1;
    Cents low_bed_cost = 0;
    WorkMinute load_after = 0, low_bed_minutes = 0;
    int pick_up = -1, drop = -1;
};

struct EmptyRun {
    bool there = false;  // false: no way
    Cents cost = 0;
    WorkMinute minutes = 0;
};

/// A job as one machine does it.
struct SeasonWork {
    bool can = false;
    Cents cost = 0;
    WorkMinute minutes = 0;
};

enum class JobTurn : std::uint8_t { any, first, last };  // among the jobs of its machine

struct SeasonJob {
    int place = 0;
    WorkMinute earliest = 0, latest = 0;
    Cents left_out = 0;
    std::vector<SeasonWork> on;      // by machine
    std::uint8_t kinds = all_kinds;  // of the move to it
    std::uint32_t low_beds = ~0u;    // that may make that move
    JobTurn turn = JobTurn::any;
};

struct SeasonMachine {
    int start = 0;
    int home = -1;  // -1: it may stay where its last job was
    WorkMinute free_at = 0;
};

struct SeasonLowBed {
    int base = 0;
    WorkMinute free_at = 0;
    Cents minimum = 0;  // of a trip
};

class SeasonProblem {
public:
    std::vector<SeasonMachine> machines;
    std::vector<SeasonLowBed> low_beds;
    std::vector<SeasonJob> jobs;

    /// `day_ends`: working minutes from the beginning to the end of each day, rising. A limit Error for more
    /// machines or low-beds than can be held.
    SeasonProblem(std::vector<SeasonMachine> the_machines, std::vector<SeasonLowBed> the_low_beds,
                  std::vector<SeasonJob> the_jobs, int places, std::vector<WorkMinute> day_ends);

    [[nodiscard]] int places() const { return m_places; }
    [[nodiscard]] int machine_count() const { return static_cast<int>(machines.size()); }
    [[nodiscard]] int low_bed_count() const { return static_cast<int>(low_beds.size()); }
    [[nodiscard]] int job_count() const { return static_cast<int>(jobs.size()); }
    [[nodiscard]] WorkMinute end() const { return m_day_ends.empty() ? 0 : m_day_ends.back(); }

    [[nodiscard]] std::vector<SeasonWay>& ways(int machine, int from, int to) {
        return m_ways[way_index(machine, from, to)];
    }
    [[nodiscard]] const std::vector<SeasonWay>& ways(int machine, int from, int to) const {
        return m_ways[way_index(machine, from, to)];
    }
    [[nodiscard]] EmptyRun& run(int low_bed, int from, int to) {
        return m_runs[way_index(low_bed, from, to)];
    }
    [[nodiscard]] const EmptyRun& run(int low_bed, int from, int to) const {
        return m_runs[way_index(low_bed, from, to)];
    }

    /// The first minute from `t` at which something that takes so long can begin and end on one day; -1 when
    /// no day is left. What begins later never begins earlier: fit(t) <= fit(t + 1).
    [[nodiscard]] WorkMinute fit(WorkMinute t, WorkMinute minutes) const;
    /// The first day on which minute `t` can be the beginning of something; -1 when none is left.
    [[nodiscard]] int day_beginning(WorkMinute t) const;

private:
    [[nodiscard]] std::size_t way_index(int who, int from, int to) const {
        return (static_cast<std::size_t>(who) * static_cast<std::size_t>(m_places) +
                static_cast<std::size_t>(from)) *
                   static_cast<std::size_t>(m_places) +
               static_cast<std::size_t>(to);
    }

    int m_places;
    std::vector<WorkMinute> m_day_ends;
    std::vector<std::vector<SeasonWay>> m_ways;  // by machine, from, to
    std::vector<EmptyRun> m_runs;                // by low-bed, from, to
    std::vector<std::int32_t> m_day_of;          // by sixteenth minute: the day it lies in, or one before
};

}  // namespace loamway

#endif
