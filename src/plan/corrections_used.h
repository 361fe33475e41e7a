// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_CORRECTIONS_USED_H
#define LOAMWAY_PLAN_CORRECTIONS_USED_H

// Which corrections stand behind an option, and what people should know of them.

#include <span>

#include "path.h"

namespace loamway {

/// Adds to the option the ids of the corrections it rests on: those of the roads it drives, of the gates it
/// passes, of the places it stops at, and closures in the rectangle around the way, any of which may have
/// bent it. Adds flags: what was noted with them, where two say different things, and validity that ends or
/// begins on the day of the move.
void note_corrections(const Setting& setting, const Path& path, std::span<const ChosenStop> stops, Option& o);

}  // namespace loamway

#endif
