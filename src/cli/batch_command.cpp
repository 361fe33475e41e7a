// SPDX-License-Identifier: Apache-2.0
// loamway batch: many moves, one a line
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <memory>
#include <optional>
#include <span>

#include "command.h"
#include "console.h"
#include "loamway/base/names.h"
#include "loamway/base/time.h"
#include "loamway/batch/batch.h"
#include "loamway/batch/queue.h"
#include "queue_flags.h"

namespace loamway {

namespace {

struct BatchFlags {
    ShelfSetup shelf;
    QueueFlags queue;
    std::string output, summary, shard, threads, run, ahead;
    bool resume = false, no_choices = false;
};

std::uint64_t whole(std::string_view text, const std::string& shown) {
    std::uint64_t n = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), n);
    if (fault != std::errc() || end != text.data() + text.size() || n == 0)
        throw Error(ErrorKind::input, fmt::format("--shard \"{}\" is no part of a whole", printable(shown)),
                    "write I/N, as in 2/8");
    return n;
}

void set_shard(const std::string& text, BatchSetup& setup) {
    if (text.empty())
        return;
    const auto slash = text.find('/');
    const std::string_view all = text;
    setup.shard = whole(all.substr(0, slash), text);
    setup.shards = whole(slash == std::string::npos ? "" : all.substr(slash + 1), text);
    if (setup.shard > setup.shards)
        throw Error(ErrorKind::input, fmt::format("--shard {}: there is no such part", text),
                    fmt::format("1/{0} to {0}/{0}", setup.shards));
}

void check_queue_flags(const BatchFlags& f) {
    const QueueFlags& q = f.queue;
    if (!q.given()) {
        for (const auto& [name, text] :
             {std::pair("--results", &q.results), std::pair("--run", &f.run), std::pair("--ahead", &f.ahead),
              std::pair("--patience", &q.patience), std::pair("--queue-credentials", &q.credentials),
              std::pair("--queue-authorities", &q.authorities)})
            if (!text->empty())
                throw Error(ErrorKind::input, fmt::format("{} is for moves that go to a queue", name),
                            "name it by --queue");
        return;
    }
    if (!f.threads.empty())
        throw Error(ErrorKind::input, "--threads does nothing here: workers plan", "give it to them");
    if (!q.results.empty())
        require_store_name(q.results);
    else if (!f.output.empty())
        throw Error(ErrorKind::input, "answers come from the store that workers write to",
                    "name it by --results");
}

void check_flags(const BatchFlags& f) {
    check_queue_flags(f);
    if (f.output.empty()) {
        if (f.resume || !f.summary.empty())
            throw Error(ErrorKind::input,
                        fmt::format("{} needs a file of answers", f.resume ? "--resume" : "--summary"),
                        "name it by -o");
        return;
    }
    require_writable(f.output);
    if (f.summary == f.output)
        throw Error(ErrorKind::input, "answers and summary cannot share a file", "name two",
                    {f.output, {}, {}});
    if (!f.summary.empty()) {
        require_writable(f.summary);
        require_replaceable(f.summary, "id,option,", "a summary of answers");
    }
    std::error_code failed;
    const auto size = std::filesystem::file_size(f.output, failed);
    if (!f.resume && !failed && size > 0)
        throw Error(ErrorKind::input, "there are answers in it already",
                    "go on with --resume, or name another file", {f.output, {}, {}});
}

/// How far through a file on standard input; a pipe has no end that is known.
class InputShare {
public:
    InputShare() {
        struct stat info {};
        if (fstat(STDIN_FILENO, &info) == 0 && S_ISREG(info.st_mode))
            m_size = static_cast<double>(info.st_size);
    }
    void took(std::size_t bytes) { m_done += static_cast<double>(bytes); }
    [[nodiscard]] double share() const { return m_size > 0 ? std::min(1.0, m_done / m_size) : 0.0; }

private:
    double m_size = 0, m_done = 0;
};

class Answers {
public:
    explicit Answers(const std::string& path) : m_path(path) {
        if (path.empty())
            return;
        m_file.open(path, std::ios::binary | std::ios::app);
        if (!m_file)
            throw Error(ErrorKind::io, "cannot be written", "check folder and permissions", {path, {}, {}});
    }
    void write(const std::string& line) {
        if (m_path.empty()) {
            print(line + "\n");
            return;
        }
        // Whole lines reach the system one by one: what a stop cuts off is at most one of them.
        m_file << line << '\n' << std::flush;
        if (!m_file)
            throw Error(ErrorKind::io, "cannot be written to its end", "make room, then go on with --resume",
                        {m_path, {}, {}});
    }

private:
    std::string m_path;
    std::ofstream m_file;
};

std::string progress_words(std::size_t lines, double seconds, double share) {
    const double rate = seconds > 0 ? static_cast<double>(lines) / seconds : 0;
    std::string text = fmt::format("{} moves, {:.0f} a second", lines, rate);
    if (share > 0.01)
        text += fmt::format(", {:.0f} s left", seconds * (1 - share) / share);
    return text;
}

void write_summary(const BatchFlags& f) {
    AtomicFile file(f.summary);
    const auto put = [&](const std::string& text) {
        file.write(std::as_bytes(std::span(text.data(), text.size())));
    };
    put(summary_header());
    (void)find_done(f.output, [&](std::string_view answer) { put(summary_row(answer)); });
    file.commit();
}

PublishSetup publish_setup(const BatchFlags& f) {
    PublishSetup setup;
    setup.queue = f.queue.address();
    setup.patience = f.queue.patience_given();
    if (!f.queue.results.empty())
        setup.results = f.queue.results;
    setup.run = f.run;
    if (!f.ahead.empty())
        setup.ahead = static_cast<std::size_t>(flag_count("--ahead", f.ahead, "moves, from 1"));
    setup.say = [](std::string_view line) { complain(line); };
    return setup;
}

/// To the workers, and their answers back when there is a store to wait at.
BatchSums publish(const PublishSetup& to, const Shelf& shelf, const BatchSetup& setup, const BatchRead& read,
                  const BatchWrite& write) {
    const PublishSums sums = publish_batch(shelf, setup, to, read, write);
    if (!sums.run.empty())
        complain(
            fmt::format("run {}: {} moves published, {} were there", sums.run, sums.published, sums.known));
    if (!to.results && sums.refused > 0)
        throw Error(ErrorKind::limit, fmt::format("{} moves were too large to be published", sums.refused),
                    "describe machine and trailer by name");
    return sums.answers;
}

int run(const BatchFlags& f) {
    check_flags(f);
    BatchSetup setup;
    set_shard(f.shard, setup);
    if (!f.threads.empty())
        setup.threads =
            static_cast<unsigned>(flag_count("--threads", f.threads, "a number of threads, from 1"));
    setup.choices = !f.no_choices;
    setup.at = now();
    std::optional<PublishSetup> queue;
    if (f.queue.given())
        queue = publish_setup(f);
    const Shelf shelf(f.shelf);
    if (f.resume)
        setup.done = find_done(f.output);
    Answers answers(f.output);
    InputShare input;
    BatchSums sums;
    {
        const Progress progress = progress_line();
        const auto begin = std::chrono::steady_clock::now();
        const BatchRead read = [&]() -> std::optional<std::string> {
            std::string line;
            if (!std::getline(std::cin, line))
                return std::nullopt;
            input.took(line.size() + 1);
            return line;
        };
        const BatchWrite write = [&](const std::string& answer, const BatchSums& so_far) {
            answers.write(answer);
            const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
            progress(progress_words(so_far.lines(), took.count(), input.share()), input.share());
        };
        sums = queue ? publish(*queue, shelf, setup, read, write) : run_batch(shelf, setup, read, write);
    }
    if (!f.summary.empty())
        write_summary(f);
    if (sums.faults > 0)
        complain(fmt::format("{} of {} moves could not be planned: their lines say why", sums.faults,
                             sums.lines()));
    return 0;
}

}  // namespace

void add_batch_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub =
        app.add_subcommand("batch", "many moves: one JSON object a line in, one answer a line out");
    auto flags = std::make_shared<BatchFlags>();
    const auto file = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    sub->add_option("--region", flags->shelf.region, "region file")->required()->type_name("FILE");
    file("--places", flags->shelf.places, "places and fields with names of your own", "FILE");
    file("--corrections", flags->shelf.corrections, "corrections of the map (those beside the region)",
         "FILE");
    file("--ledger", flags->shelf.ledger, "ledger that knows machines and belts by name", "FILE|URL");
    file("--profiles", flags->shelf.profiles, "folder of profiles that moves name (generic ones)", "FOLDER");
    sub->add_option("-o,--output", flags->output, "file of answers (standard output)")->type_name("FILE");
    sub->add_flag("--resume", flags->resume, "go on where the answers in -o end; nothing is done twice");
    sub->add_option("--summary", flags->summary, "table of all answers in -o, one line each")
        ->type_name("FILE.csv");
    sub->add_option("--shard", flags->shard, "plan the I-th of every N moves only (1/1)")->type_name("I/N");
    sub->add_option("--threads", flags->threads, "moves planned at once (as many as the computer has cores)")
        ->type_name("N");
    sub->add_flag("--no-choices", flags->no_choices,
                  "leave out the choices between length and paved length: faster");
    add_queue_options(*sub, flags->queue, false);
    sub->add_option("--run", flags->run,
                    "name of the run in the store; a move that has an answer there is not planned again\n"
                    "(made from the map and the first move)")
        ->type_name("NAME");
    sub->add_option("--ahead", flags->ahead, "moves in the queue at once, with --results (2000)")
        ->type_name("N");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run(*flags); }; });
}

}  // namespace loamway
