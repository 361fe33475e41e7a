// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEASON_RANDOM_SEASON_H
#define LOAMWAY_TESTS_SEASON_RANDOM_SEASON_H

// Seasons drawn at random: places on a square, driving cheap or dear by the move, low-beds with runs between
// all places.

#include <cmath>
#include <random>
#include <vector>

#include "loamway/season/season_problem.h"

namespace loamway::test {

struct RandomSeasonSize {
    int jobs = 4, machines = 1, low_beds = 1, loading_places = 1, days = 3;
    int day_minutes = 120;
    bool tight = true;  // windows and days are narrow, so that not everything can be done
    int most_work = 60;
};

class RandomSeason {
public:
    RandomSeason(std::uint64_t seed, RandomSeasonSize size) : m_random(seed), m_size(size) {}

    std::vector<WorkMinute> day_ends() {
        std::vector<WorkMinute> out;
        WorkMinute t = 0;
        for (int d = 0; d < m_size.days; ++d)
            out.push_back(t += m_size.day_minutes - (m_size.tight ? below(20) : 0));
        return out;
    }

    SeasonProblem make(const std::vector<WorkMinute>& day_ends) {
        const int bases = m_size.machines + m_size.low_beds;
        const int places = bases + m_size.jobs + m_size.loading_places;
        for (int i = 0; i < places; ++i)
            m_at.push_back({below(30), below(30)});
        std::vector<SeasonMachine> machines;
        for (int m = 0; m < m_size.machines; ++m)
            machines.push_back({m, below(3) > 0 ? m : -1, m_size.tight ? below(40) : 0});
        std::vector<SeasonLowBed> beds;
        for (int b = 0; b < m_size.low_beds; ++b)
            beds.push_back({m_size.machines + b, m_size.tight ? below(30) : 0, below(60)});
        std::vector<SeasonJob> jobs;
        for (int j = 0; j < m_size.jobs; ++j)
            jobs.push_back(job(bases + j, day_ends.back()));
        SeasonProblem p(machines, beds, jobs, places, day_ends);
        for (int from = 0; from < places; ++from)
            for (int to = 0; to < places; ++to) {
                for (int b = 0; b < m_size.low_beds; ++b)
                    p.run(b, from, to) = {true, apart(from, to), apart(from, to) / 2};
                for (int m = 0; m < m_size.machines && from != to; ++m)
                    p.ways(m, from, to) = ways(from, to, bases + m_size.jobs);
            }
        return p;
    }

private:
    int below(int n) { return static_cast<int>(m_random() % static_cast<std::uint64_t>(n)); }
    int apart(int a, int b) const {
        const auto& x = m_at[static_cast<std::size_t>(a)];
        const auto& y = m_at[static_cast<std::size_t>(b)];
        return static_cast<int>(std::lround(std::hypot(x.first - y.first, x.second - y.second)));
    }
    SeasonJob job(int place, WorkMinute end) {
        SeasonJob j;
        j.place = place;
        j.latest = end;
        if (m_size.tight && below(2) == 0) {
            j.earliest = below(end / 2);
            j.latest = j.earliest + 60 + below(end / 2);
        }
        j.left_out = 100'000;
        bool anyone = false;
        for (int m = 0; m < m_size.machines; ++m) {
            SeasonWork w{below(4) > 0 || (!anyone && m + 1 == m_size.machines), 20 + below(30),
                         10 + below(m_size.most_work)};
            anyone = anyone || w.can;
            j.on.push_back(w);
        }
        if (m_size.tight && below(8) == 0)
            j.turn = below(2) == 0 ? JobTurn::first : JobTurn::last;
        if (m_size.tight && below(8) == 0)
            j.kinds = static_cast<std::uint8_t>(all_kinds & ~(1 << below(3)));
        if (m_size.tight && below(8) == 0)
            j.low_beds = 1u;
        return j;
    }
    std::vector<SeasonWay> ways(int from, int to, int first_loading) {
        std::vector<SeasonWay> out;
        const int way = apart(from, to);
        if (below(6) > 0)
            out.push_back({WayKind::driven, way * (2 + below(4)), 2 * way + below(5)});
        for (int b = 0; b < m_size.low_beds; ++b) {
            if (below(5) == 0)
                continue;
            out.push_back(
                {WayKind::hauled, 5 + below(10), 20 + way, b, way + 10, below(4), 16 + way, from, to});
            if (m_size.loading_places == 0 || below(4) > 0)
                continue;
            const int load = first_loading + below(m_size.loading_places);
            const int driven = apart(from, load), hauled = apart(load, to);
            out.push_back({WayKind::mixed, 3 * driven + 5, 2 * driven + hauled + 20, b, hauled + 10,
                           2 * driven, hauled + 20, load, to});
        }
        return out;
    }

    std::mt19937_64 m_random;
    RandomSeasonSize m_size;
    std::vector<std::pair<int, int>> m_at;
};

}  // namespace loamway::test

#endif
