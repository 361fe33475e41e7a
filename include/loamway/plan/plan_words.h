// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_PLAN_WORDS_H
#define LOAMWAY_PLAN_PLAN_WORDS_H

// What a plan's ids and keys are called where people read them: in text, on sheets, in pictures. The page
// says the same (a test compares them); JSON and --option keep to the ids. Safe to call from any thread.

#include <span>
#include <string>
#include <string_view>

#include "loamway/base/unit_words.h"

namespace loamway {

/// "Least paved" for "least-hard", "Choice 12" for "front-12"; an id nobody knows as it is, printable.
[[nodiscard]] std::string option_name(std::string_view id);
/// "air" for "air_c": the key of a MoveField; a key nobody knows as it is, printable.
[[nodiscard]] std::string field_words(std::string_view key);
/// " (3 times: again km 4.1, km 5.0)": what follows a finding's text for where the same comes once more, in
/// metres; empty without any.
[[nodiscard]] std::string again_words(std::span<const double> again_at_m, const UnitWords& units);

}  // namespace loamway

#endif
