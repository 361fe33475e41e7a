// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEASON_COUNTY_SEASON_H
#define LOAMWAY_TESTS_SEASON_COUNTY_SEASON_H

// Seasons as a contractor has them, drawn at random: fields on a square of 40 km around few yards, days of 14
// hours, driving dearer by the km, hauling dearer to begin with, half of the jobs bound to some days.

#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "loamway/season/season_problem.h"

namespace loamway::test {

class CountySeason {
public:
    CountySeason(std::uint64_t seed, int jobs, int machines, int low_beds)
        : m_random(seed), m_jobs(jobs), m_machines(machines), m_low_beds(low_beds) {}

    SeasonProblem make() {
        constexpr WorkMinute day = 14 * 60;
        const int days = 6 + 2 * m_jobs / m_machines;
        std::vector<WorkMinute> ends;
        for (int d = 1; d <= days; ++d)
            ends.push_back(d * day);
        // One yard for two machines, a haulier each.
        const int bases = m_machines + m_low_beds, places = bases + m_jobs;
        for (int i = 0; i < places; ++i)
            m_at.push_back({share() * 40, share() * 40});
        std::vector<SeasonMachine> machines;
        for (int m = 0; m < m_machines; ++m)
            machines.push_back({m - m % 2, m - m % 2, 0});
        std::vector<SeasonLowBed> beds;
        for (int b = 0; b < m_low_beds; ++b)
            beds.push_back({m_machines + b, 0, 40'000});
        std::vector<SeasonJob> jobs;
        for (int j = 0; j < m_jobs; ++j)
            jobs.push_back(job(bases + j, day, days));
        SeasonProblem p(machines, beds, jobs, places, ends);
        for (int from = 0; from < places; ++from)
            for (int to = 0; to < places; ++to) {
                const double km = 1.3 * apart(from, to);
                for (int b = 0; b < m_low_beds; ++b)
                    p.run(b, from, to) = {true, cents(3.1 * km), static_cast<WorkMinute>(km / 65 * 60) + 1};
                for (int m = 0; m < m_machines && from != to; ++m)
                    p.ways(m, from, to) = ways(from, to, km);
            }
        return p;
    }

private:
    static Cents cents(double units) { return std::llround(100 * units); }
    double share() { return static_cast<double>(m_random() >> 11) * 0x1.0p-53; }
    double apart(int a, int b) const {
        const auto& x = m_at[static_cast<std::size_t>(a)];
        const auto& y = m_at[static_cast<std::size_t>(b)];
        return std::hypot(x.first - y.first, x.second - y.second);
    }
    SeasonJob job(int place, WorkMinute day, int days) {
        SeasonJob j;
        j.place = place;
        j.latest = day * days;
        j.left_out = 100'000'000;
        if (share() < 0.5) {
            const int first = static_cast<int>(share() * (days - 6));
            j.earliest = first * day;
            j.latest = (first + 4 + static_cast<int>(3 * share())) * day;
        }
        const double hours = 3 + 9 * share();
        for (int m = 0; m < m_machines; ++m) {
            const double slower = 1 + 0.08 * (m % 3);
            j.on.push_back({share() < 0.85 || m == 0, cents(95 * hours * slower),
                            static_cast<WorkMinute>(60 * hours * slower)});
        }
        return j;
    }
    std::vector<SeasonWay> ways(int from, int to, double km) {
        std::vector<SeasonWay> out;
        // Where the bars stand no long way, there is none.
        if (km < 35)
            out.push_back({WayKind::driven, cents(25 + (7 + 3 * share()) * km),
                           static_cast<WorkMinute>(15 + km / 22 * 60)});
        for (int b = 0; b < m_low_beds; ++b) {
            const auto run = static_cast<WorkMinute>(km / 55 * 60);
            out.push_back(
                {WayKind::hauled, cents(190), 90 + run, b, cents(140 + 3.3 * km), 0, 90 + run, from, to});
        }
        return out;
    }

    std::mt19937_64 m_random;
    int m_jobs, m_machines, m_low_beds;
    std::vector<std::pair<double, double>> m_at;
};

}  // namespace loamway::test

#endif
