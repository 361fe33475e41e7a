// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/stop_choice.h"

#include <algorithm>
#include <limits>

namespace loamway {

namespace {

constexpr std::size_t no_stop = std::numeric_limits<std::size_t>::max();

// A way to have got to a candidate; better is fewer stops, then a higher score.
struct Arrival {
    bool reached = false;
    std::uint32_t stops = 0;
    std::int64_t score = 0;
    std::size_t before = no_stop;

    [[nodiscard]] bool better_than(const Arrival& other) const {
        if (!reached || !other.reached)
            return reached;
        return stops != other.stops ? stops < other.stops : score > other.score;
    }
};

class Chooser {
public:
    explicit Chooser(const StopQuestion& q) : m_q(q), m_must(q.candidates.size(), false) {
        for (const std::uint64_t dry : q.dry_after_dm) {
            const auto next =
                std::upper_bound(q.candidates.begin(), q.candidates.end(), dry,
                                 [](std::uint64_t at, const StopCandidate& c) { return at < c.at_dm; });
            if (next != q.candidates.end())
                m_must[static_cast<std::size_t>(next - q.candidates.begin())] = true;
        }
    }

    [[nodiscard]] StopChoice choose() const {
        const std::vector<Arrival> arrivals = sweep();
        const Arrival end = best_into(arrivals, m_q.candidates.size());
        StopChoice choice;
        if (!end.reached) {
            choice.missing = find_missing(arrivals);
            return choice;
        }
        for (std::size_t i = end.before; i != no_stop; i = arrivals[i].before)
            choice.chosen.push_back(i);
        std::reverse(choice.chosen.begin(), choice.chosen.end());
        return choice;
    }

private:
    // Driven from candidate i (no_stop: the start) to candidate j (size: the end), since the last powder.
    [[nodiscard]] bool within_interval(std::size_t i, std::size_t j) const {
        const auto& c = m_q.candidates;
        const std::uint64_t from = i == no_stop ? 0 : c[i].at_dm;
        const std::uint64_t before = i == no_stop ? m_q.since_dm : c[i].spur_dm;
        const std::uint64_t to = j == c.size() ? m_q.length_dm : c[j].at_dm;
        const std::uint64_t after = j == c.size() ? 0 : c[j].spur_dm;
        return before + (to - from) + after <= m_q.interval_dm;
    }

    // Earlier candidates first, the start last: the order in which equal arrivals are preferred is fixed by
    // going backwards and replacing only what is strictly better or equal and earlier.
    [[nodiscard]] Arrival best_into(const std::vector<Arrival>& arrivals, std::size_t j) const {
        const auto& c = m_q.candidates;
        const std::uint64_t here = j == c.size() ? m_q.length_dm : c[j].at_dm;
        Arrival best;
        for (std::size_t i = j; i-- > 0;) {
            if (here - c[i].at_dm > m_q.interval_dm)
                return best;
            if (arrivals[i].reached && within_interval(i, j)) {
                const Arrival a{true, arrivals[i].stops, arrivals[i].score, i};
                if (!best.better_than(a))
                    best = a;
            }
            if (m_must[i])
                return best;
        }
        if (within_interval(no_stop, j)) {
            const Arrival a{true, 0, 0, no_stop};
            if (!best.better_than(a))
                best = a;
        }
        return best;
    }

    [[nodiscard]] std::vector<Arrival> sweep() const {
        std::vector<Arrival> arrivals(m_q.candidates.size());
        for (std::size_t j = 0; j < arrivals.size(); ++j) {
            Arrival a = best_into(arrivals, j);
            if (a.reached) {
                a.stops += 1;
                a.score += m_q.candidates[j].score;
            }
            arrivals[j] = a;
        }
        return arrivals;
    }

    // Candidates from which the end can be kept within the interval.
    [[nodiscard]] std::vector<bool> sweep_back() const {
        const std::size_t n = m_q.candidates.size();
        std::vector<bool> leads_on(n, false);
        for (std::size_t i = n; i-- > 0;) {
            for (std::size_t j = i + 1; j <= n && !leads_on[i]; ++j) {
                leads_on[i] = within_interval(i, j) && (j == n || leads_on[j]);
                if (j < n && m_must[j])
                    break;
            }
        }
        return leads_on;
    }

    [[nodiscard]] MissingPlace find_missing(const std::vector<Arrival>& arrivals) const {
        const auto& c = m_q.candidates;
        std::uint64_t reach = m_q.interval_dm - std::min(m_q.since_dm, m_q.interval_dm);
        std::uint64_t last = 0;
        for (std::size_t i = 0; i < c.size(); ++i)
            if (arrivals[i].reached && c[i].spur_dm <= m_q.interval_dm &&
                c[i].at_dm + m_q.interval_dm - c[i].spur_dm >= reach) {
                reach = c[i].at_dm + m_q.interval_dm - c[i].spur_dm;
                last = c[i].at_dm;
            }
        reach = std::min(reach, m_q.length_dm);
        std::uint64_t need = m_q.length_dm > m_q.interval_dm ? m_q.length_dm - m_q.interval_dm : 0;
        const std::vector<bool> leads_on = sweep_back();
        for (std::size_t j = 0; j < c.size(); ++j)
            if (leads_on[j]) {
                const std::uint64_t from = c[j].at_dm + c[j].spur_dm;
                need = std::min(need, from > m_q.interval_dm ? from - m_q.interval_dm : 0);
            }
        if (need <= reach)
            return {std::max(need, last), reach, false};
        return {last, reach, true};
    }

    const StopQuestion& m_q;
    std::vector<bool> m_must;
};

}  // namespace

StopChoice choose_stops(const StopQuestion& question) {
    return Chooser(question).choose();
}

}  // namespace loamway
