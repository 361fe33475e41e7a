// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_LEARNT_HEAT_H
#define LOAMWAY_BELT_LEARNT_HEAT_H

// What several infrared readings, each after a run of its own, say about the heat scale of these belts. Each
// is taken against the prior alone (heat_calibration.h); on the logarithm of the scale their answers are then
// put together by weight. All lean on the same conduction and cooling, which no surface reading settles: the
// core is not known better than by the best single reading. A pure function.

#include <optional>
#include <string>
#include <vector>

#include "loamway/profile/heat_reading.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct KnownHeat {
    double scale = 1.0;                // S_q
    double log_sd = 0.4;               // of its logarithm alone
    double core_sd_k = 0.0;            // of the core, from the joint analysis; 0: not calibrated
    int used = 0;                      // readings
    std::vector<std::string> refused;  // "m.toml:12: read 25 minutes after the stop: ..."
    std::vector<std::string> notes;
    [[nodiscard]] bool calibrated() const { return used > 0; }
};

/// Input Error for a working state the machine does not have.
[[nodiscard]] KnownHeat learn_heat(const Machine& machine, const std::vector<NotedReading>& readings);

}  // namespace loamway

#endif
