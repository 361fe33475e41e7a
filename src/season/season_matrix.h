// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_MATRIX_H
#define LOAMWAY_SRC_SEASON_SEASON_MATRIX_H

// Every move a season may be made of, planned; and the bare problem that comes of it.

#include <map>
#include <vector>

#include "loamway/plan/low_bed_runs.h"
#include "loamway/season/season.h"
#include "season_desk.h"
#include "season_ways.h"

namespace loamway {

/// A move of one machine between two places of the problem.
struct MoveOf {
    std::size_t machine = 0;
    int from = 0, to = 0;
    friend auto operator<=>(const MoveOf&, const MoveOf&) = default;
};

/// A way with the points where low-bed and machine meet.
struct MatrixWay {
    SeasonWay way;
    GeoPoint pick_up, drop;
};

class SeasonMatrix {
public:
    /// Plans on all threads; the figures do not depend on how many.
    SeasonMatrix(SeasonDesk& desk, const SeasonOptions& options);

    [[nodiscard]] std::size_t planned() const { return m_planned; }
    [[nodiscard]] std::size_t pairs_left_out() const { return m_left_out; }
    /// Of a move that nothing can be done for; may be empty.
    [[nodiscard]] std::vector<std::string> why_not(const MoveOf& move) const;

    /// Takes the place of what was planned for one way; none: it cannot be done.
    void replace(const MoveOf& move, WayKind kind, int low_bed, const std::optional<MatrixWay>& way);
    /// With the rules of the list, or without any.
    [[nodiscard]] SeasonProblem problem(bool with_rules);
    /// Of a place of the last problem, loading places too.
    [[nodiscard]] GeoPoint point(int place) const { return m_points[static_cast<std::size_t>(place)]; }
    /// By machine and job: money of the work in the field.
    [[nodiscard]] const BudgetSum& field(std::size_t machine, std::size_t job) const {
        return m_field[machine * m_desk.list().jobs.size() + job];
    }

private:
    struct Task;
    void list_moves(std::size_t most);
    void keep_near(std::size_t most);
    void plan_all(const SeasonOptions& options);
    void plan_one(const Task& task, std::vector<MatrixWay>& ways, std::vector<std::string>& why) const;
    void add_up_fields();
    void set_runs(SeasonProblem& p);
    [[nodiscard]] std::vector<SeasonJob> jobs() const;
    [[nodiscard]] int place_at(GeoPoint p);

    SeasonDesk& m_desk;
    std::vector<MoveOf> m_moves;
    std::map<MoveOf, std::vector<MatrixWay>> m_ways;
    std::map<MoveOf, std::vector<std::string>> m_why;
    std::vector<BudgetSum> m_field;
    std::vector<GeoPoint> m_points;
    std::map<std::string, std::pair<std::vector<GeoPoint>, std::vector<LowBedRun>>> m_runs;  // by class
    std::size_t m_planned = 0, m_left_out = 0;
};

}  // namespace loamway

#endif
