// SPDX-License-Identifier: Apache-2.0
// Any bytes as a move document, JSON or TOML: refused as an input Error, or read.

#include "loamway/desk/desk.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text = fuzz::text_of(data, size);
    fuzz::accepts([&] {
        static_cast<void>(
            read_move(text.starts_with('{') ? parse_json(text, "fuzz") : parse_toml(text, "fuzz"), "fuzz"));
    });
    return 0;
}
