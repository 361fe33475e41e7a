// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_BROKER_H
#define LOAMWAY_SRC_BATCH_BROKER_H

// The queue as publisher and worker see it; broker.cpp is the only file that knows the client library beside
// nats_library.cpp. Connections come back by themselves; a queue that stays away for longer than `patience`
// is an io Error. `acknowledge`, `give_back` and `still_at_it` may be called from any thread, the rest from
// one. Deliveries must be gone before the Broker is.

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loamway/batch/queue.h"
#include "shelf_key.h"

namespace loamway {

struct Delivery {
    std::shared_ptr<void> message;
    std::string bytes;
    std::uint64_t tries = 1;     // how often it has been handed out, this time included
    std::uint64_t sequence = 0;  // of the message in the queue
};

struct HandingOut {
    std::size_t in_queue = 0;
    std::size_t accounted = 0;     // of them wait to be handed out or for an acknowledgement
    std::uint64_t deliveries = 0;  // since the consumer was made
};

enum class Put {
    taken,
    known,  // a message with this id was there not long ago
    full,   // the queue takes no more for now
};

class Broker {
public:
    Broker(const QueueAddress& address, Duration patience);
    Broker(const Broker&) = delete;
    Broker& operator=(const Broker&) = delete;
    ~Broker();

    /// The largest message it takes, its id included.
    [[nodiscard]] std::size_t largest() const;
    [[nodiscard]] Put publish(const ShelfKey& shelf, const std::string& id, const std::string& bytes);
    /// How many moves are in the queue, those that workers have included; nothing when it is away just now.
    [[nodiscard]] std::optional<std::size_t> waiting(const ShelfKey& shelf);
    [[nodiscard]] std::vector<std::pair<ShelfKey, std::size_t>> all_waiting();

    /// Moves for this shelf will be taken. One that is not acknowledged goes to another worker after
    /// `sign_of_life`.
    void listen(const ShelfKey& shelf, Duration sign_of_life);
    /// The next move for a shelf listened to, waited for at most so long. One that comes
    /// later than that is not lost: the next call has it.
    [[nodiscard]] std::optional<Delivery> take(const ShelfKey& shelf, std::chrono::milliseconds wait);
    /// How moves for this shelf are handed out; nothing when the queue is away just now.
    [[nodiscard]] std::optional<HandingOut> handing_out(const ShelfKey& shelf);
    /// Has everything that is in the queue for this shelf handed out again.
    void hand_out_again(const ShelfKey& shelf);
    void acknowledge(const Delivery& delivery) const;
    void give_back(const Delivery& delivery) const;
    void still_at_it(const Delivery& delivery) const;
    /// Sends what has been acknowledged.
    void flush() const;

private:
    struct Connection;
    std::unique_ptr<Connection> m_connection;
};

}  // namespace loamway

#endif
