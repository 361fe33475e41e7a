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
    std::string because;             // what was read: "tracktype grade2"
    std::string reason;              // a sentence for people: "tracktype grade2: assumed gravel (90 %)"
};

/// `odds_factor` multiplies the odds of hard where no tag decides: dense 1, mixed .85, sparse .55.
[[nodiscard]] SurfaceReading read_surface(const TagView& tags, bool built_up, double odds_factor = 1.0);

// ---- What a build compares roads by, to let those with a surface tag teach the others.

enum class RoadFeel { unsaid, rough, smooth };             // smoothness=*
enum class RoadOpening { unsaid, open, purpose, closed };  // to anybody, for some purpose, to nobody else

struct SurfaceTraits {
    std::string road;     // highway=* without "_link"
    int grade = 0;        // 1 to 5 by tracktype (the softest of several), 0 without
    std::string service;  // service=* of a service road
    RoadFeel feel = RoadFeel::unsaid;
    bool bridge = false;
    RoadOpening opening = RoadOpening::unsaid;
    bool named = false;  // a name or a number
};
[[nodiscard]] SurfaceTraits surface_traits(const TagView& tags);

/// P(hard) with what a smoothness or a bridge says about it.
[[nodiscard]] double hard_by_feel(RoadFeel feel, double p_hard);
[[nodiscard]] double hard_on_bridge(double p_hard);

}  // namespace loamway

#endif
