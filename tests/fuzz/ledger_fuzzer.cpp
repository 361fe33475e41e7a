// SPDX-License-Identifier: Apache-2.0
// Any bytes as an event of an export and as a kept state: refused as an Error, or read and added up.

#include "../../src/ledger/belt_tally.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    Value document;
    if (!fuzz::accepts([&] { document = parse_json(fuzz::text_of(data, size), "fuzz"); }))
        return 0;
    fuzz::accepts([&] {
        const Event e = event_from_value(document, "fuzz");
        BeltTally tally("set");
        Event added;
        added.kind = EventKind::belts_added;
        added.belts = "set";
        added.data = Value(Value::Object{});
        tally.add(added);
        tally.add(e);
        static_cast<void>(tally.record());
    });
    fuzz::accepts([&] { static_cast<void>(BeltTally::from_value(document, "set").record()); },
                  {ErrorKind::input, ErrorKind::limit, ErrorKind::damaged, ErrorKind::not_found});
    return 0;
}
