// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_PLAN_UNCERTAINTY_H
#define LOAMWAY_PLAN_PLAN_UNCERTAINTY_H

// How sure a plan's advice is, and from which length on it would be another. Money in the rates' currency.
// In every trial all options are priced with the same draw of the inputs.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace loamway {

/// How far an input may be off: a triangle from low over mode to high. What the figures mean is said in
/// src/plan/METHODS.md, "How sure": mostly multipliers of the rates.
struct InputRange {
    std::string name;
    double low = 0, mode = 0, high = 0;
};

struct OptionTrials {
    std::string option;
    double mean = 0, p10 = 0, p50 = 0, p90 = 0;
    double probability_cheapest = 0;  // of all options that can be done
    double regret = 0;                // mean of what it costs more than the cheapest of its trial
};

/// The advised option against the best one of another mode, else against the next one of its own.
struct CostComparison {
    std::string option, next;
    double probability = 0, low95 = 0, high95 = 0;    // that `option` costs less, Wilson's 95 % interval
    double mean = 0, p10 = 0, p50 = 0, p90 = 0;       // of cost of `option` - cost of `next`
    double cost_of_being_wrong = 0, next_regret = 0;  // mean of what each costs more than the other
};

/// The difference of the comparison with one input at its own 10th and 90th hundredth, the others at mode.
struct CostBar {
    std::string input;
    double input_p10 = 0, input_p90 = 0, at_p10 = 0, at_p90 = 0, swing = 0;
};

/// The value of one input at which the advice changes to `next`, the others as they are.
struct CostFlip {
    std::string input;
    double now = 0, at = 0;  // in `unit`
    std::string unit;        // "CU", "CU/h", "CU/km", "CU/l", "min", "km", "times"
    double reach = 0;        // how far that is, as a share of the way to the end of the input's range
    std::string text;        // "permit above 310 CU (120 now)"
};

struct PlanUncertainty {
    int trials = 0;
    std::uint64_t seed = 0;
    std::vector<InputRange> inputs;
    std::vector<OptionTrials> options;  // those that can be done, as in the plan
    std::optional<CostComparison> comparison;
    /// Share of trials in which some option of the advised one's mode is the cheapest; nothing where no other
    /// mode can be done.
    std::optional<double> mode_probability;
    double tornado_base = 0;
    std::vector<CostBar> tornado;  // widest first
    std::vector<CostFlip> flips;   // nearest first, at most three
};

/// The same kind of move over other lengths: this one's shares of surfaces, speeds and wear a km, this
/// low-bed's empty runs.
struct PlanBreakEven {
    std::string drive, haul;                           // ids of the options it was worked out from
    double length_m = 0;                               // driven by this move
    double hauled_share = 0;                           // hauled metres a driven one
    std::vector<double> crossings_m;                   // where the cheaper one changes
    std::optional<double> haul_from_m, drive_below_m;  // shortest hauled length; past it never driven
    std::optional<double> line_m;                      // where straight lines through both costs meet
    double drive_fixed = 0, drive_per_km = 0, haul_fixed = 0, haul_per_km = 0;  // those lines
    double from_m = 0, to_m = 0, step_m = 0;                                    // what was looked at
    std::vector<std::array<double, 3>> curve;  // metres, cost driven, cost hauled
};

}  // namespace loamway

#endif
