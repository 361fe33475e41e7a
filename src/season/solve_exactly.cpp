// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cstring>
#include <unordered_map>

#include "loamway/season/season_solve.h"
#include "priced_chains.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

struct Label {
    SeasonState state;
    std::uint64_t done = 0;
    std::uint32_t before = 0;  // among the steps
    SeasonTask task;
};
/// How a label came about, kept when its layer is gone.
struct Step {
    std::uint32_t before;
    SeasonTask task;
};

/// Who is where with what done. The last job stands for the place: it also says what may follow.
struct Key {
    std::uint64_t done = 0;
    std::array<std::int16_t, most_machines> machines{};
    std::array<std::int16_t, most_low_beds> low_beds{};
    friend bool operator==(const Key&, const Key&) = default;
};
struct KeyHash {
    std::size_t operator()(const Key& k) const {
        std::uint64_t h = k.done * 0x9e3779b97f4a7c15u;
        const auto mix = [&h](std::int16_t v) {
            h ^= static_cast<std::uint16_t>(v) + 0x9e3779b97f4a7c15u + (h << 6) + (h >> 2);
        };
        for (const std::int16_t v : k.machines)
            mix(v);
        for (const std::int16_t v : k.low_beds)
            mix(v);
        return h;
    }
};

class ExactSearch {
public:
    ExactSearch(const SeasonProblem& p, const ExactOptions& options)
        : m_p(p), m_options(options), m_least(p), m_best_cost(no_cost) {
        if (options.known) {
            m_best = *options.known;
            m_best_cost = m_best.cost;
            m_chains.emplace(p, m_least);
            (void)m_chains->raise(m_best_cost, 300);
        }
    }

    std::optional<SeasonSolution> run() {
        m_steps.push_back({0, {}});
        std::vector<Label> layer{{SeasonState(m_p), 0, 0, {}}};
        while (!layer.empty()) {
            m_next.clear();
            m_index.clear();
            for (const Label& label : layer) {
                end_here(label);
                if (!expand(label))
                    return std::nullopt;
            }
            layer.clear();
            for (Label& label : m_next)
                if (label.before != dropped) {
                    m_steps.push_back({label.before, label.task});
                    label.before = static_cast<std::uint32_t>(m_steps.size() - 1);
                    layer.push_back(label);
                }
        }
        if (m_found)
            m_best = solution_of(m_best_step);
        return m_best;
    }

private:
    static constexpr std::uint32_t dropped = 0xffffffffu;

    /// The season may stop at any label at which all that have worked are home.
    void end_here(const Label& label) {
        for (int m = 0; m < m_p.machine_count(); ++m)
            if (m_p.machines[at(m)].home >= 0 && label.state.machines[at(m)].jobs > 0 &&
                label.state.machines[at(m)].last_job != home_task)
                return;
        const Cents back = runs_back(m_p, label.state);
        if (back < 0)
            return;
        Cents cost = label.state.cost + back;
        for (int j = 0; j < m_p.job_count(); ++j)
            if ((label.done >> j & 1u) == 0)
                cost += m_p.jobs[at(j)].left_out;
        if (cost < m_best_cost) {
            m_best_cost = cost;
            m_best_step = label.before;
            m_found = true;
        }
    }

    bool expand(const Label& label) {
        for (int m = 0; m < m_p.machine_count(); ++m) {
            for (int j = 0; j < m_p.job_count(); ++j)
                if ((label.done >> j & 1u) == 0 && !try_task(label, m, j))
                    return false;
            if (m_p.machines[at(m)].home >= 0 && !try_task(label, m, home_task))
                return false;
        }
        return true;
    }

    bool try_task(const Label& label, int machine, int job) {
        const int here = label.state.machines[at(machine)].place;
        const int there = place_of(m_p, {machine, job, 0});
        if (here == there && !add(label, {machine, job, no_way_needed}))
            return false;
        const int ways = static_cast<int>(m_p.ways(machine, here, there).size());
        for (int w = 0; w < ways; ++w)
            if (!add(label, {machine, job, w}))
                return false;
        return true;
    }

    /// False when there is no more room.
    bool add(const Label& label, const SeasonTask& task) {
        Label next{label.state, label.done, label.before, task};
        if (!do_task(m_p, next.state, task))
            return true;
        if (task.job != home_task)
            next.done |= std::uint64_t{1} << task.job;
        if (next.state.cost + still_to_pay(next) >= m_best_cost)
            return true;
        std::vector<std::uint32_t>& beside = m_index[key_of(next)];
        for (std::size_t i = 0; i < beside.size();) {
            Label& other = m_next[beside[i]];
            if (no_worse(other.state, next.state))
                return true;
            if (no_worse(next.state, other.state)) {
                other.before = dropped;
                beside[i] = beside.back();
                beside.pop_back();
            } else {
                ++i;
            }
        }
        if (m_steps.size() + m_next.size() >= m_options.most_labels)
            return false;
        beside.push_back(static_cast<std::uint32_t>(m_next.size()));
        m_next.push_back(next);
        return true;
    }

    [[nodiscard]] Cents still_to_pay(const Label& label) const {
        Cents sum = 0;
        for (int j = 0; j < m_p.job_count(); ++j)
            if ((label.done >> j & 1u) == 0)
                sum += m_least.any_way_in(j);
        if (!m_chains)
            return sum;
        std::array<int, most_machines> last{};
        std::size_t under_way = 0;
        int unused = 0;
        for (int m = 0; m < m_p.machine_count(); ++m) {
            const SeasonState::Machine& s = label.state.machines[at(m)];
            unused += s.jobs == 0 ? 1 : 0;
            if (s.jobs > 0 && s.last_job != home_task)
                last[under_way++] = s.last_job;
        }
        return std::max(sum, m_chains->to_go(label.done, std::span(last.data(), under_way), unused));
    }

    [[nodiscard]] Key key_of(const Label& label) const {
        Key k;
        k.done = label.done;
        for (int m = 0; m < m_p.machine_count(); ++m) {
            const SeasonState::Machine& s = label.state.machines[at(m)];
            k.machines[at(m)] = static_cast<std::int16_t>(s.jobs == 0 ? -2 : s.last_job);
        }
        for (int b = 0; b < m_p.low_bed_count(); ++b)
            k.low_beds[at(b)] = static_cast<std::int16_t>(label.state.low_beds[at(b)].place);
        return k;
    }

    [[nodiscard]] bool no_worse(const SeasonState& a, const SeasonState& b) const {
        if (a.cost > b.cost)
            return false;
        for (int m = 0; m < m_p.machine_count(); ++m)
            if (a.machines[at(m)].time > b.machines[at(m)].time)
                return false;
        for (int l = 0; l < m_p.low_bed_count(); ++l)
            if (a.low_beds[at(l)].time > b.low_beds[at(l)].time)
                return false;
        return true;
    }

    [[nodiscard]] SeasonSolution solution_of(std::uint32_t step) const {
        SeasonSolution out;
        for (; step != 0; step = m_steps[step].before)
            out.tasks.push_back(m_steps[step].task);
        std::reverse(out.tasks.begin(), out.tasks.end());
        (void)time_all(m_p, out);
        return out;
    }

    const SeasonProblem& m_p;
    const ExactOptions& m_options;
    LeastCosts m_least;
    std::optional<PricedChains> m_chains;  // with what is known to aim at
    SeasonSolution m_best;
    Cents m_best_cost;
    std::uint32_t m_best_step = 0;  // 0: nothing is done
    bool m_found = false;           // something cheaper than what was known
    std::vector<Step> m_steps;
    std::vector<Label> m_next;
    std::unordered_map<Key, std::vector<std::uint32_t>, KeyHash> m_index;
};

}  // namespace

std::optional<SeasonSolution> solve_exactly(const SeasonProblem& p, const ExactOptions& options) {
    if (p.job_count() > 64)
        return std::nullopt;
    return ExactSearch(p, options).run();
}

}  // namespace loamway
