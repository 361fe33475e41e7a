// SPDX-License-Identifier: Apache-2.0
// Any bytes as a message of the queue: refused, or a move that is written and read back the same.

#include "../../src/batch/queue_message.h"
#include "target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace loamway;
    QueueMove m;
    if (!fuzz::accepts([&] { m = read_queue_move(fuzz::text_of(data, size)); }))
        return 0;
    const std::string written = write_queue_move(m);
    const QueueMove again = read_queue_move(written);
    fuzz::promise(write_queue_move(again) == written && again.line == m.line && again.run == m.run &&
                      again.number == m.number && again.at == m.at,
                  "a move that does not read back");
    fuzz::promise(move_digest(again) == move_digest(m), "a digest that changes on the way");
    fuzz::promise(!move_key(m).empty() && move_key(m).size() <= 200, "a key of a wrong length");
    require_run_name(m.run);
    return 0;
}
