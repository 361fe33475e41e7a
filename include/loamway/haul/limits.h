// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_LIMITS_H
#define LOAMWAY_HAUL_LIMITS_H

// Published limits of size and mass as data: regions/limits/*.toml, one table a body of rules. Each value
// names its source and how it was seen. A recipe names the table that holds in its region. The tables flag;
// the local code decides.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/haul/bridge_formula.h"
#include "loamway/text/value.h"

namespace loamway {

enum class LimitOf { any, machine, low_bed };
enum class LimitWhat {
    width,
    height,
    length,           // of the whole combination
    kingpin_to_rear,  // of a semitrailer
    gross_mass,       // of the whole combination
    single_axle,      // one that is not driven
    driving_axle,     // each driven one
    trailer_group,    // of the trailer's axles together
    driving_share     // least share of the gross mass on driven axles
};
[[nodiscard]] std::string_view name_of(LimitWhat w);  // "width", "kingpin to rear", ...

/// How the value was come by; said beside it wherever it is printed.
enum class Seen { extract, memory, practice, assumption };
[[nodiscard]] std::string_view name_of(Seen s);  // "seen in extract", "from memory", ...

struct PublishedLimit {
    LimitWhat what = LimitWhat::width;
    LimitOf of = LimitOf::any;
    Length length;     // of width, height, length, kingpin_to_rear
    Mass mass;         // of the masses
    double share = 0;  // of driving_share
    /// Where the value only holds for so many axles (of the combination, of the group), spaced so far apart.
    std::optional<int> axles_from, axles_to;
    std::optional<Length> spacing_from, spacing_below;
    std::string source;
    Seen seen = Seen::assumption;
};

/// What has to be on the vehicle or has to be looked at, in words.
struct ChecklistLine {
    LimitOf of = LimitOf::any;
    std::string text, source;
    Seen seen = Seen::assumption;
};

enum class SecuringRules { both, us, en };

struct LimitsTable {
    std::string name, title;
    std::vector<PublishedLimit> limits;
    std::optional<AxleGroupLimits> bridge_formula;
    std::string bridge_source;
    SecuringRules securing = SecuringRules::both;
    std::vector<ChecklistLine> checklist;
};

/// Reads a limits document:
///   name, title, securing = "both|us|en"
///   [[limit]]        what = "width|height|length|kingpin_to_rear|gross_mass|single_axle|driving_axle|
///                    trailer_group|driving_share", of = "any|machine|low-bed", one of max_m, max_in, max_kg,
///                    max_lb, min_share; axles_from, axles_to, spacing_from_m, spacing_below_m; source, seen
///                    = "extract|memory|practice|assumption"
///   [bridge_formula] tie = "down|up", single_lb, tandem_lb, tandem_exception, source
///   [[checklist]]    of, text, source, seen
/// Strict; every fault is an input Error with file and line.
[[nodiscard]] LimitsTable read_limits_table(const Value& document, const std::string& file);

}  // namespace loamway

#endif
