// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BATCH_QUEUE_H
#define LOAMWAY_BATCH_QUEUE_H

// The same batch across machines. A publisher puts each move into a queue (NATS JetStream); workers that hold
// the same region take moves, plan them as batch does, keep each answer in a result store and only then
// acknowledge. A move that is not acknowledged goes to another worker. The store keeps one answer a move, so
// a move that is planned twice by accident has the first answer; and a move that has one is not planned
// again. src/batch/QUEUE.md has the messages, subjects and tables.

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "loamway/base/units.h"
#include "loamway/batch/batch.h"

namespace loamway {

struct QueueAddress {
    std::string url;  // nats://[USER:PASSWORD@|TOKEN@]HOST[:PORT], tls://...; several: a,b
    std::optional<std::string> credentials;  // file: a line USER:PASSWORD or a token, or a .creds file
    std::optional<std::string> authorities;  // file: certificates to trust, for tls://
};

/// The address for messages: without credentials.
[[nodiscard]] std::string shown_queue(const std::string& url);

using QueueSay = std::function<void(std::string_view line)>;

struct PublishSetup {
    QueueAddress queue;
    std::optional<std::string> results;                  // store; none: publish and do not wait for answers
    std::string run;                                     // name; empty: made from the moves and the map
    std::size_t ahead = 2000;                            // moves on the way at once
    Duration patience = Duration::from_seconds(60);      // with a queue or a store that is away
    Duration silence_told = Duration::from_seconds(60);  // after this long without an answer it says so
    QueueSay say = [](std::string_view) {};
};

struct PublishSums {
    BatchSums answers;
    std::string run;
    std::size_t published = 0;  // put into the queue by this call
    std::size_t known = 0;      // answered or in the queue before
    std::size_t refused = 0;    // too large for the queue
};

/// Publishes all moves and, with a result store, writes their answers in order: the bytes run_batch would
/// write. Errors: io when queue or store stay away longer than `patience`; input for a wrong address.
PublishSums publish_batch(const Shelf& shelf, const BatchSetup& setup, const PublishSetup& publish,
                          const BatchRead& read, const BatchWrite& write);

struct WorkerSetup {
    QueueAddress queue;
    std::string results;      // store
    unsigned threads = 0;     // 0: as many as the machine runs at once
    unsigned most_tries = 5;  // a move handed out this often without an answer is set aside
    Duration sign_of_life = Duration::from_seconds(30);  // a worker silent this long has lost its moves
    Duration patience = Duration::from_seconds(60);      // with a queue or a store that is away
    std::optional<Duration> idle;                        // end when nothing came for so long
    std::function<bool()> stop = [] { return false; };   // asked several times a second
    QueueSay say = [](std::string_view) {};
};

struct WorkerSums {
    BatchSums answers;            // kept by this worker
    std::size_t again = 0;        // came although they had an answer
    std::size_t set_aside = 0;    // handed out too often, or no move at all
    std::size_t redelivered = 0;  // had been handed out before
};

/// Plans moves for the regions of these shelves until it is stopped. What it has begun it ends. Errors as
/// above, and io when the corrections of a region change meanwhile.
WorkerSums run_worker(std::span<const Shelf* const> shelves, const WorkerSetup& setup);

}  // namespace loamway

#endif
