// SPDX-License-Identifier: Apache-2.0
// loamway serve: the page, and what it asks for, over HTTP
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/names.h"
#include "loamway/report/terminal_qr.h"
#include "loamway/web/server.h"

namespace loamway {

namespace {

struct ServeFlags {
    std::string region, listen = "127.0.0.1", port = "8421", token, threads;
    std::string ledger, corrections, places, profiles;
    bool quiet = false;
};

std::uint16_t port_of(const std::string& text) {
    if (text == "0")
        return 0;
    const int port = flag_count("--port", text, "from 1 to 65535, or 0 for any that is free");
    if (port > 65535)
        throw Error(ErrorKind::input, fmt::format("--port {} is out of range", port),
                    "from 1 to 65535, or 0 for any that is free");
    return static_cast<std::uint16_t>(port);
}

std::optional<std::string> given(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(text);
}

ServeSetup setup_of(const ServeFlags& f) {
    constexpr int most_threads = 256;
    ServeSetup setup;
    setup.listen = f.listen;
    setup.port = port_of(f.port);
    setup.token = f.token;
    if (!f.threads.empty()) {
        const int threads = flag_count("--threads", f.threads, "requests worked on at once");
        if (threads > most_threads)
            throw Error(ErrorKind::input, fmt::format("--threads {} is too many", threads),
                        fmt::format("up to {}", most_threads));
        setup.threads = static_cast<unsigned>(threads);
    }
    require_readable(f.region);
    if (!f.places.empty())
        require_readable(f.places);
    setup.shelf = {.region = f.region,
                   .corrections = given(f.corrections),
                   .places = given(f.places),
                   .ledger = given(f.ledger),
                   .profiles = given(f.profiles)};
    return setup;
}

/// A log that cannot be written is no reason to stop.
void log_line(std::string_view line) {
    const std::string text = std::string(line) + "\n";
    static_cast<void>(std::fwrite(text.data(), 1, text.size(), stderr));
}

int serve(const ServeFlags& f) {
    Server server(setup_of(f), f.quiet ? Server::Log() : log_line);
    print(server.address() + "\n");
    if (server.is_for_others())
        print(terminal_qr(server.address()));
    finish_output();
    server.run();
    return 0;
}

}  // namespace

void add_serve_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("serve", "the page for a browser on this machine or in its network");
    auto flags = std::make_shared<ServeFlags>();
    sub->add_option("--region", flags->region, "region file")->required()->type_name("FILE");
    sub->add_option("--port", flags->port, "port (8421; 0 takes one that is free)")->type_name("N");
    sub->add_option(
           "--listen", flags->listen,
           "IP address to listen on (127.0.0.1: this machine alone; 0.0.0.0: its networks, with a key)")
        ->type_name("ADDRESS");
    sub->add_option("--token", flags->token, "the key to ask for (made when others can reach the address)")
        ->type_name("WORD");
    sub->add_option("--ledger", flags->ledger, "ledger of machines and belts")->type_name("FILE|URL");
    sub->add_option("--corrections", flags->corrections, "corrections (those beside the region)")
        ->type_name("FILE");
    sub->add_option("--places", flags->places, "own places")->type_name("FILE");
    sub->add_option("--profiles", flags->profiles, "folder of machines and low-beds (the generic ones)")
        ->type_name("FOLDER");
    sub->add_option("--threads", flags->threads,
                    "requests worked on at once (as many as the computer has cores)")
        ->type_name("N");
    sub->add_flag("--quiet", flags->quiet, "no line for each request on standard error");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return serve(*flags); }; });
}

}  // namespace loamway
