// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_DIGEST_H
#define LOAMWAY_REGION_DIGEST_H

// Fingerprints: against mistakes (another extract than the one meant), not against forgery.

#include <string>
#include <string_view>

namespace loamway {

/// XXH3 of the whole file, 128 bits, as 32 hexadecimal digits. Reads in pieces: memory stays small whatever
/// the file's size. Errors: not_found, io.
[[nodiscard]] std::string digest_of_file(const std::string& path);

/// The same of a text.
[[nodiscard]] std::string digest_of_text(std::string_view text);

}  // namespace loamway

#endif
