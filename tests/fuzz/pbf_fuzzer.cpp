// SPDX-License-Identifier: Apache-2.0
// Any bytes as a PBF extract, as they come and as the inside of the one data block of a file that is in
// order. A broken promise throws, which ends the run like a crash.

#include <cstddef>
#include <cstdint>
#include <string>

#include "support/read_any_pbf.h"

namespace {

std::string framed(const std::string& header, const std::string& inside) {
    std::string file{'\0', '\0', '\0', static_cast<char>(header.size())};
    return file + header + inside;
}

/// A number of five bytes, whatever its value, so that lengths in front do not depend on it.
std::string wide_number(std::size_t n) {
    std::string bytes;
    for (int i = 0; i < 4; ++i, n >>= 7)
        bytes += static_cast<char>((n & 0x7f) | 0x80);
    return bytes + static_cast<char>(n & 0x7f);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    loamway::test::read_any_pbf(bytes);
    const std::string feature = "\x22\x0eOsmSchema-V0.6";
    const std::string header = "\x0a" + wide_number(feature.size()) + feature;
    const std::string blob = "\x0a" + wide_number(size) + bytes;
    loamway::test::read_any_pbf(framed("\x0a\x09OSMHeader\x18" + wide_number(header.size()), header) +
                                framed("\x0a\x07OSMData\x18" + wide_number(blob.size()), blob));
    return 0;
}
