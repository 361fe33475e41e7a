// SPDX-License-Identifier: Apache-2.0
// Every tag rule over lines "key=value". A broken promise throws, which ends the run like a crash.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "support/read_all_tags.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    loamway::test::read_all_tags({reinterpret_cast<const char*>(data), size});
    return 0;
}
