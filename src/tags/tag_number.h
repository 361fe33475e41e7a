// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TAG_NUMBER_H
#define LOAMWAY_TAGS_TAG_NUMBER_H

// Numbers as people write them into tags: point decimals, decimal commas, commas between thousands.

#include <cstddef>
#include <optional>
#include <string_view>

namespace loamway {

/// A run of digits, points and commas at the start of a text, split off but not yet read.
struct NumberText {
    std::string_view digits;  // the run itself; may be malformed (".3.5")
    std::string_view rest;    // what follows, untrimmed
};
[[nodiscard]] NumberText split_number(std::string_view text);

struct TagNumber {
    double value = 0.0;
    bool decimal_comma = false;
    bool thousands_comma = false;
};
/// Reads a whole run. One comma before exactly three digits separates thousands when `thousands` is set
/// (units in which such numbers are large), otherwise it is a decimal comma.
[[nodiscard]] std::optional<TagNumber> read_number(std::string_view digits, bool thousands);

/// The first number inside any text, for a hint beside a value that cannot be trusted.
[[nodiscard]] std::optional<double> number_inside(std::string_view text);

}  // namespace loamway

#endif
