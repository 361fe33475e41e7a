// SPDX-License-Identifier: Apache-2.0
// loamway worker: plans moves that a batch published to a queue
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <atomic>
#include <csignal>
#include <memory>
#include <vector>

#include "command.h"
#include "console.h"
#include "loamway/batch/queue.h"
#include "loamway/region/region.h"
#include "queue_flags.h"

namespace loamway {

namespace {

struct WorkerFlags {
    std::vector<std::string> regions;
    ShelfSetup shelf;
    QueueFlags queue;
    std::string threads, tries, sign_of_life, idle;
};

std::atomic<bool> stop_asked{false};
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void ask_to_stop(int) {
    stop_asked = true;
}

WorkerSetup setup_of(const WorkerFlags& f) {
    WorkerSetup setup;
    setup.queue = f.queue.address();
    setup.results = f.queue.results;
    setup.patience = f.queue.patience_given();
    if (!f.threads.empty())
        setup.threads =
            static_cast<unsigned>(flag_count("--threads", f.threads, "a number of threads, from 1"));
    if (!f.tries.empty())
        setup.most_tries = static_cast<unsigned>(flag_count("--tries", f.tries, "times, from 1"));
    if (!f.sign_of_life.empty())
        setup.sign_of_life = flag_seconds("--sign-of-life", f.sign_of_life);
    if (!f.idle.empty())
        setup.idle = flag_seconds("--idle", f.idle);
    setup.say = [](std::string_view line) { complain(line); };
    setup.stop = [] { return stop_asked.load(); };
    return setup;
}

/// Every byte of a region is looked at once: a worker runs for long, and its digest speaks for the whole.
std::vector<Shelf> open_shelves(const WorkerFlags& f) {
    std::vector<Shelf> out;
    for (const std::string& region : f.regions) {
        verify_region(region);
        ShelfSetup setup = f.shelf;
        setup.region = region;
        out.emplace_back(std::move(setup));
    }
    return out;
}

int work(const WorkerFlags& f) {
    const WorkerSetup setup = setup_of(f);
    require_store_name(f.queue.results);
    if (f.shelf.corrections && f.regions.size() > 1)
        throw Error(ErrorKind::input, "--corrections is for one region",
                    "put corrections beside their regions: FILE.region.corrections.geojson");
    const std::vector<Shelf> shelves = open_shelves(f);
    std::vector<const Shelf*> held;
    for (const Shelf& shelf : shelves)
        held.push_back(&shelf);
    std::signal(SIGINT, ask_to_stop);
    std::signal(SIGTERM, ask_to_stop);
    complain(fmt::format("takes moves for {} {} from {}", held.size(),
                         held.size() == 1 ? "region" : "regions", shown_queue(f.queue.url)));
    const WorkerSums sums = run_worker(held, setup);
    complain(
        fmt::format("{} moves answered, {} of them by an error; {} had an answer, {} set aside, {} had been "
                    "handed out before",
                    sums.answers.lines(), sums.answers.faults, sums.again, sums.set_aside, sums.redelivered));
    return 0;
}

}  // namespace

void add_worker_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub =
        app.add_subcommand("worker", "plans moves that batch --queue published, until it is stopped");
    auto flags = std::make_shared<WorkerFlags>();
    const auto file = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    sub->add_option("--region", flags->regions, "region files it holds; moves for others are left to others")
        ->required()
        ->expected(1, -1)
        ->type_name("FILE...");
    file("--places", flags->shelf.places,
         "places and fields with names of your own, as the publisher has them", "FILE");
    file("--corrections", flags->shelf.corrections, "corrections of the map (those beside the region)",
         "FILE");
    file("--ledger", flags->shelf.ledger, "ledger that knows machines and belts by name", "FILE|URL");
    file("--profiles", flags->shelf.profiles, "folder of profiles that moves name (generic ones)", "FOLDER");
    add_queue_options(*sub, flags->queue, true);
    sub->add_option("--threads", flags->threads, "moves planned at once (as many as the computer has cores)")
        ->type_name("N");
    sub->add_option("--tries", flags->tries,
                    "a move handed out so often without an answer is set aside as an error (5)")
        ->type_name("N");
    sub->add_option("--sign-of-life", flags->sign_of_life,
                    "a worker silent for so many seconds has lost its moves to others (30)")
        ->type_name("S");
    sub->add_option("--idle", flags->idle, "end when nothing came for so many seconds (never)")
        ->type_name("S");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return work(*flags); }; });
}

}  // namespace loamway
