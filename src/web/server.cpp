// SPDX-License-Identifier: Apache-2.0
#include "loamway/web/server.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <net/if.h>

#include <algorithm>
#include <array>
#include <thread>
#include <utility>

#include "api.h"
#include "http_server.h"
#include "loamway/base/names.h"
#include "security.h"

namespace loamway {

namespace {

/// The first address by which others may reach this machine; empty without one.
std::string own_address() {
    ifaddrs* first = nullptr;
    if (::getifaddrs(&first) != 0)
        return {};
    const std::unique_ptr<ifaddrs, void (*)(ifaddrs*)> all(first, ::freeifaddrs);
    for (const ifaddrs* at = first; at != nullptr; at = at->ifa_next) {
        const bool usable = at->ifa_addr != nullptr && at->ifa_addr->sa_family == AF_INET &&
                            (at->ifa_flags & IFF_UP) != 0 && (at->ifa_flags & IFF_LOOPBACK) == 0;
        if (!usable)
            continue;
        std::array<char, INET_ADDRSTRLEN> text{};
        const void* from = &reinterpret_cast<const sockaddr_in*>(at->ifa_addr)->sin_addr;
        if (::inet_ntop(AF_INET, from, text.data(), text.size()) != nullptr)
            return text.data();
    }
    return {};
}

HttpServerSetup http_setup(const ServeSetup& setup) {
    HttpServerSetup http;
    http.listen = setup.listen;
    http.port = setup.port;
    http.token = setup.token;
    http.stop_on_signals = true;
    http.workers = setup.threads > 0 ? setup.threads : std::max(1u, std::thread::hardware_concurrency());
    return http;
}

/// Before anything is opened: a wrong word must not cost the time a large region takes.
ServeSetup checked(ServeSetup setup) {
    if (!is_ip_literal(setup.listen))
        throw Error(ErrorKind::input,
                    fmt::format("--listen \"{}\" is no IP address", printable(setup.listen)),
                    "127.0.0.1 for this machine alone, 0.0.0.0 for all its networks");
    if (!setup.token.empty())
        require_token_form(setup.token);
    else if (!is_loopback(setup.listen))
        setup.token = make_token();
    return setup;
}

std::string address_of(const ServeSetup& setup, std::uint16_t port) {
    std::string host = setup.listen;
    if (host == "0.0.0.0" || host == "::") {
        const std::string own = own_address();
        host = own.empty() ? "127.0.0.1" : own;
    }
    if (host.find(':') != std::string::npos)
        host = "[" + host + "]";
    const std::string key = setup.token.empty() ? std::string() : "#key=" + setup.token;
    return fmt::format("http://{}:{}/{}", host, port, key);
}

}  // namespace

struct Server::Inside {
    Inside(ServeSetup setup_, Log log)
        : setup(checked(std::move(setup_))),
          shelf(setup.shelf),
          api(shelf),
          http(
              http_setup(setup),
              [this](const HttpRequest& request, Exchange& exchange) { api.answer(request, exchange); },
              std::move(log)),
          address(address_of(setup, http.port())) {}

    ServeSetup setup;
    Shelf shelf;
    Api api;
    HttpServer http;
    std::string address;
};

Server::Server(ServeSetup setup, Log log)
    : m_inside(std::make_unique<Inside>(std::move(setup), std::move(log))) {}

Server::~Server() = default;

const std::string& Server::address() const {
    return m_inside->address;
}

bool Server::is_for_others() const {
    return !is_loopback(m_inside->setup.listen);
}

void Server::run() {
    m_inside->http.run();
}

void Server::stop() {
    m_inside->http.stop();
}

}  // namespace loamway
