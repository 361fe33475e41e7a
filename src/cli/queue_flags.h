// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_QUEUE_FLAGS_H
#define LOAMWAY_SRC_CLI_QUEUE_FLAGS_H

// What batch and worker share about the queue between them.

#include <string>
#include <string_view>

#include "loamway/batch/queue.h"

namespace CLI {
class App;
}

namespace loamway {

struct QueueFlags {
    std::string url, credentials, authorities, results, patience;
    [[nodiscard]] bool given() const { return !url.empty(); }
    [[nodiscard]] QueueAddress address() const;
    [[nodiscard]] Duration patience_given() const;
};

/// `flags` must outlive the command line. A worker cannot do without queue and results.
void add_queue_options(CLI::App& sub, QueueFlags& flags, bool required);

/// Seconds from 1 as a flag gives them.
[[nodiscard]] Duration flag_seconds(std::string_view flag, const std::string& text);

/// Input Error unless a result store can have this name.
void require_store_name(const std::string& where);

}  // namespace loamway

#endif
