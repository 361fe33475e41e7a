// SPDX-License-Identifier: Apache-2.0
#include "nats_options.h"

#include <fmt/format.h>
#include <nats/nats.h>

#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "nats_functions.h"
#include "queue_address.h"

namespace loamway {

namespace {

constexpr std::int64_t request_ms = 5000;
constexpr std::int64_t between_tries_ms = 200;
constexpr std::int64_t ping_ms = 10000;

void say_nothing(natsConnection*, natsSubscription*, natsStatus, void*) {}

/// Sets one thing after the other, as long as each works.
class Setting {
public:
    Setting() : m_status(nats().natsOptions_Create(&m_options)) {}
    template <class Function, class... Values>
    void set(Function function, Values... values) {
        if (m_status == NATS_OK)
            m_status = function(m_options, values...);
    }
    [[nodiscard]] natsStatus status() const { return m_status; }
    [[nodiscard]] natsOptions* options() const { return m_options; }

private:
    natsOptions* m_options = nullptr;
    natsStatus m_status;
};

}  // namespace

std::string nats_words(int status) {
    const char* last = nats().nats_GetLastError(nullptr);
    if (last != nullptr && *last != '\0') {
        // "(conn.c:733): what happened"
        std::string_view words = last;
        if (const std::size_t where = words.find("): "); words.front() == '(' && where != words.npos)
            words.remove_prefix(where + 3);
        return printable(words);
    }
    const char* general = nats().natsStatus_GetText(static_cast<natsStatus>(status));
    return general != nullptr ? printable(general) : "no reason given";
}

std::shared_ptr<void> nats_options(const QueueAddress& address) {
    const NatsFunctions& f = nats();
    const QueueServers to = read_queue_address(address);
    std::vector<const char*> servers;
    for (const std::string& one : to.servers)
        servers.push_back(one.c_str());
    Setting s;
    s.set(f.natsOptions_SetServers, servers.data(), static_cast<int>(servers.size()));
    if (!to.user.empty())
        s.set(f.natsOptions_SetUserInfo, to.user.c_str(), to.password.c_str());
    if (!to.token.empty())
        s.set(f.natsOptions_SetToken, to.token.c_str());
    if (!to.creds_file.empty())
        s.set(f.natsOptions_SetUserCredentialsFromFiles, to.creds_file.c_str(), nullptr);
    if (to.secure)
        s.set(f.natsOptions_SetSecure, true);
    if (address.authorities)
        s.set(f.natsOptions_LoadCATrustedCertificates, address.authorities->c_str());
    s.set(f.natsOptions_SetName, "loamway");
    s.set(f.natsOptions_SetTimeout, request_ms);
    s.set(f.natsOptions_SetMaxReconnect, -1);
    s.set(f.natsOptions_SetReconnectWait, between_tries_ms);
    s.set(f.natsOptions_SetPingInterval, ping_ms);
    // Without one of ours the library writes its faults to standard error.
    s.set(f.natsOptions_SetErrorHandler, say_nothing, nullptr);
    std::shared_ptr<void> out(s.options(),
                              [](void* o) { nats().natsOptions_Destroy(static_cast<natsOptions*>(o)); });
    if (s.status() != NATS_OK)
        throw Error(ErrorKind::input,
                    fmt::format("--queue {}: {}", shown_queue(address.url), nats_words(s.status())),
                    "look at address, credentials and certificates");
    return out;
}

}  // namespace loamway
