// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_SURFACE_H
#define LOAMWAY_TAGS_SURFACE_H

// Surface of a road from its tags: class, probabilities, how sure, and why. Order: surface, tracktype,
// class default, with smoothness and bridge as hints. Pure functions.

#include <string>
#include <vector>

#include "loamway/base/surface.h"
#include "loamway/tags/tag_view.h"

namespace loamway {

struct SurfaceReading {
    SurfaceClass likeliest = SurfaceClass::hard;
    double p_hard = 0.0;             // as the rule gives it, before a region calls a tagged class known
    SurfaceOdds odds;                // for plans: a known class has all of it
    bool known = false;              // one recognised surface value
    std::string source;              // "surface", "tracktype", "default", "winter_road"
    std::vector<std::string> flags;  // "blocks", "mixed", "soft", "seasonal", "smoothness", "bridge_deck",
                                     // "deck", "surface_value_unknown:..."
    std::string reason;              // a sentence for people: "tracktype grade2: assumed gravel (90 %)"
};

/// `odds_factor` multiplies the odds of hard where no tag decides: dense 1, mixed .85, sparse .55.
[[nodiscard]] SurfaceReading read_surface(const TagView& tags, bool built_up, double odds_factor = 1.0);

}  // namespace loamway

#endif
