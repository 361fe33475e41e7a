// SPDX-License-Identifier: Apache-2.0
#include "queue_flags.h"

#include <CLI/CLI.hpp>

#include "command.h"
#include "loamway/ledger/ledger.h"

namespace loamway {

QueueAddress QueueFlags::address() const {
    QueueAddress out{url, {}, {}};
    if (!credentials.empty())
        out.credentials = credentials;
    if (!authorities.empty())
        out.authorities = authorities;
    return out;
}

Duration QueueFlags::patience_given() const {
    return patience.empty() ? Duration::from_seconds(60) : flag_seconds("--patience", patience);
}

Duration flag_seconds(std::string_view flag, const std::string& text) {
    return Duration::from_seconds(flag_count(flag, text, "seconds, from 1"));
}

void require_store_name(const std::string& where) {
    if (!is_ledger_address(where))
        require_writable(where);
}

void add_queue_options(CLI::App& sub, QueueFlags& flags, bool required) {
    sub.add_option("--queue", flags.url,
                   required
                       ? "queue to take moves from: nats://[USER:PASSWORD@]HOST[:PORT], tls://..."
                       : "let workers plan: publish the moves to this queue, nats://HOST[:PORT] or tls://...")
        ->required(required)
        ->type_name("URL");
    sub.add_option("--results", flags.results,
                   "store of answers that workers write to: an SQLite file on this machine, or\n"
                   "postgresql://USER@HOST:PORT/NAME for many machines")
        ->required(required)
        ->type_name("FILE|URL");
    sub.add_option("--queue-credentials", flags.credentials,
                   "file with USER:PASSWORD, a token, or NATS credentials (.creds)")
        ->type_name("FILE");
    sub.add_option("--queue-authorities", flags.authorities,
                   "file of certificates to trust, for tls:// (PEM)")
        ->type_name("FILE");
    sub.add_option("--patience", flags.patience,
                   "seconds that a queue or store may be away before the work fails (60)")
        ->type_name("S");
}

}  // namespace loamway
