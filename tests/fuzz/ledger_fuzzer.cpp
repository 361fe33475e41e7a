// SPDX-License-Identifier: Apache-2.0
// Any bytes as an event of an export and as a kept state: refused as an Error, or read and added up.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "../../src/ledger/belt_tally.h"
#include "loamway/base/error.h"

namespace {

template <class Read>
void read_or_refuse(const Read& read) {
    try {
        read();
    } catch (const loamway::Error&) {
        return;
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    read_or_refuse([&] {
        const Event e = event_from_value(parse_json(text, "fuzz"), "fuzz");
        BeltTally tally("set");
        tally.add(e);
        static_cast<void>(tally.record());
    });
    read_or_refuse(
        [&] { static_cast<void>(BeltTally::from_value(parse_json(text, "fuzz"), "set").record()); });
    return 0;
}
