// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_NATS_OPTIONS_H
#define LOAMWAY_SRC_BATCH_NATS_OPTIONS_H

// How the client library is told what an address says.

#include <memory>
#include <string>

#include "loamway/batch/queue.h"

namespace loamway {

/// A natsOptions of the library. Input Error for an address, credentials or certificates that cannot be read.
[[nodiscard]] std::shared_ptr<void> nats_options(const QueueAddress& address);

/// The library's last words, else those for a natsStatus. It is never told an address with a secret.
[[nodiscard]] std::string nats_words(int status);

}  // namespace loamway

#endif
