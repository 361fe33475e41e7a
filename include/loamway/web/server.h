// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_WEB_SERVER_H
#define LOAMWAY_WEB_SERVER_H

// The page and what it asks for, served over HTTP from one region. Whoever reaches the address may plan with
// it and, with its key, change corrections and the ledger.

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "loamway/desk/shelf.h"

namespace loamway {

struct ServeSetup {
    ShelfSetup shelf;
    std::string listen = "127.0.0.1";  // an IP address
    std::uint16_t port = 8421;         // 0: any that is free
    std::string token;                 // the key; empty: made where other machines can reach the address
    unsigned threads = 0;              // requests worked on at once; 0: one for each the machine runs at once
};

class Server {
public:
    using Log = std::function<void(std::string_view line)>;

    /// Opens the region and all else, and listens when it returns; every fault is an Error. `log` gets a line
    /// for each request, from the thread in run(); it may be empty.
    Server(ServeSetup setup, Log log);
    Server(const Server&) = delete;
    Server& operator=(const Server&) = delete;
    ~Server();

    /// "http://127.0.0.1:8421/", with the key where one is asked for: "http://192.0.2.7:8421/#key=...".
    [[nodiscard]] const std::string& address() const;
    /// Other machines may reach it: worth a code to be photographed.
    [[nodiscard]] bool is_for_others() const;
    /// Serves until SIGINT, SIGTERM or stop(); requests that run then get 10 s.
    void run();
    /// From any thread.
    void stop();

private:
    struct Inside;
    std::unique_ptr<Inside> m_inside;
};

}  // namespace loamway

#endif
