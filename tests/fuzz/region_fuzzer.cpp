// SPDX-License-Identifier: Apache-2.0
// Any bytes as a region file, as they come and with layout and checksums made good. A broken promise
// throws, which ends the run like a crash.

#include <cstddef>
#include <cstdint>
#include <span>

#include "support/region_bytes.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto bytes = std::as_bytes(std::span(data, size));
    loamway::test::read_any_bytes(loamway::test::Bytes(bytes.begin(), bytes.end()));
    return 0;
}
