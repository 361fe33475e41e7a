// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_QUEUE_ADDRESS_H
#define LOAMWAY_SRC_BATCH_QUEUE_ADDRESS_H

#include <string>
#include <vector>

#include "loamway/batch/queue.h"

namespace loamway {

/// An address taken apart, so that what the client library is told, and may say, holds no secret.
struct QueueServers {
    std::vector<std::string> servers;  // nats://HOST:PORT each
    bool secure = false;               // tls://
    std::string user, password, token;
    std::string creds_file;  // the library's own kind of credentials
};

/// Input Error for an address or a file of credentials that cannot be read; it shows no secret.
[[nodiscard]] QueueServers read_queue_address(const QueueAddress& address);

}  // namespace loamway

#endif
