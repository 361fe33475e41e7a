// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_DIGEST_H
#define LOAMWAY_REGION_DIGEST_H

// A file's fingerprint: against mistakes (another extract than the one meant), not against forgery.

#include <string>

namespace loamway {

/// XXH3 of the whole file, 128 bits, as 32 hexadecimal digits. Reads in pieces: memory stays small whatever
/// the file's size. Errors: not_found, io.
[[nodiscard]] std::string digest_of_file(const std::string& path);

}  // namespace loamway

#endif
