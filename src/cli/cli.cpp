// SPDX-License-Identifier: Apache-2.0
// Puts the commands together, runs the one that was asked for and turns every fault into one line and a
// status.
#include "loamway/cli/cli.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <exception>
#include <new>
#include <span>
#include <string_view>
#include <vector>

#include "command.h"
#include "command_tree.h"
#include "console.h"
#include "loamway/base/mapped_files.h"
#include "loamway/base/names.h"
#include "loamway/base/version.h"
#include "lost_files.h"

namespace loamway {

namespace {

constexpr int wrong_command_line = 2;
constexpr int work_failed = 1;

constexpr const char* about =
    "Moves of rubber-tracked machines by road: drive or haul, which way, where to stop and powder.";

/// The command the line got to, for "see loamway plan --help".
const CLI::App& deepest(const CLI::App& app) {
    const CLI::App* at = &app;
    while (!at->get_subcommands().empty())
        at = at->get_subcommands().back();
    return *at;
}

std::string full_name(const CLI::App& command) {
    const std::string path = path_of(command);
    return path.empty() ? "loamway" : "loamway " + path;
}

/// The nearest option or command to a word nobody knows.
std::string nearest_word(const CLI::App& command, const std::string& word) {
    std::vector<std::string> known;
    for (const CLI::Option* option : command.get_options())
        for (const std::string& name : option->get_lnames())
            known.push_back("--" + name);
    for (const CLI::App* sub : command.get_subcommands([](const CLI::App*) { return true; }))
        known.push_back(sub->get_name());
    const std::vector<std::string_view> views(known.begin(), known.end());
    return nearest_name(word.substr(0, word.find('=')), views);
}

/// The library would take the next word for the value: "--note= --at TIME" would note "--at".
void require_values(std::span<char* const> words) {
    for (const std::string_view word : words) {
        if (word == "--")
            return;
        if (word.size() > 3 && word.starts_with("--") && word.find('=') == word.size() - 1)
            throw Error(ErrorKind::input, fmt::format("{} has no value", printable(word)),
                        "write it behind the sign, or leave the option out");
    }
}

/// By what the line holds, not by the library's words for it. Options of many values take many.
std::string given_twice(const CLI::App& command) {
    for (const CLI::Option* option : command.get_options())
        if (option->get_expected_max() == 1 && option->count() > 1)
            return option->get_name();
    return {};
}

std::string line_fault(const CLI::App& app, const CLI::ParseError& e) {
    const CLI::App& command = deepest(app);
    const std::string see = fmt::format("see {} --help", full_name(command));
    const std::vector<std::string> unknown = app.remaining(true);
    // A misspelt command is reported by the library as a missing one: the word itself says more.
    const auto code = static_cast<CLI::ExitCodes>(e.get_exit_code());
    const bool about_words = code == CLI::ExitCodes::ExtrasError || code == CLI::ExitCodes::RequiredError;
    if (about_words && !unknown.empty()) {
        const std::string near = nearest_word(command, unknown.front());
        return fmt::format("{} does not know \"{}\" ({})", full_name(command), printable(unknown.front()),
                           near.empty() ? see : fmt::format("did you mean {}?", near));
    }
    if (const std::string twice = given_twice(command); !twice.empty())
        return fmt::format("{} is given more than once (once is enough)", twice);
    if (code == CLI::ExitCodes::RequiredError && unknown.empty() && !command.get_subcommands({}).empty()) {
        std::string names;
        for (const CLI::App* sub :
             command.get_subcommands([](const CLI::App* s) { return !s->get_group().empty(); }))
            names += (names.empty() ? "" : ", ") + sub->get_name();
        return fmt::format("{} needs a command: {} ({})", full_name(command), names, see);
    }
    return fmt::format("{} ({})", printable(e.what()), see);
}

int run_work(const Work& work) {
    try {
        say_when_files_are_lost();
        const int status = work();
        finish_output();
        require_mapped_unchanged();
        return status;
    } catch (const Error& e) {
        complain(e.what());
        return exit_status(e.kind());
    } catch (const std::bad_alloc&) {
        complain("there is not enough memory (try a smaller map)");
    } catch (const std::exception& e) {
        complain(fmt::format("a fault of the program: {}", printable(e.what())));
    }
    return work_failed;
}

std::string help_of(const CLI::App& command) {
    const CLI::App* parent = command.get_parent();
    return command.help(parent == nullptr ? "" : full_name(*parent));
}

int print_help(CLI::App& app, const CLI::ParseError& e) {
    return run_work([&] {
        if (e.get_name() == "CallForVersion")
            print(fmt::format("{}\n", e.what()));
        else
            print(help_of(deepest(app)));
        return 0;
    });
}

}  // namespace

void add_all_commands(CLI::App& app, Chosen& chosen) {
    add_region_commands(app, chosen);
    add_plan_command(app, chosen);
    add_load_command(app, chosen);
    add_sheet_command(app, chosen);
    add_export_command(app, chosen);
    add_correct_command(app, chosen);
    add_tags_command(app, chosen);
    add_belt_command(app, chosen);
    add_breakin_command(app, chosen);
    add_ledger_command(app, chosen);
    add_budget_command(app, chosen);
    add_season_command(app, chosen);
    add_serve_command(app, chosen);
    add_batch_command(app, chosen);
    add_worker_command(app, chosen);
    add_describe_command(app, chosen);
}

int run(int argc, char** argv) {
    CLI::App app(about, "loamway");
    app.set_help_flag("-h,--help", "show this text");
    app.set_version_flag("--version", fmt::format("loamway {}", program_version()), "show the version");
    app.require_subcommand(1);
    use_help_with_guides(app);
    Chosen chosen;
    try {
        add_all_commands(app, chosen);
        require_values(std::span(argv, static_cast<std::size_t>(argc)));
        // "help plan" is "plan --help".
        std::vector<char*> words(argv, argv + argc);
        std::string help = "--help";
        if (argc > 1 && std::string_view(argv[1]) == "help") {
            words.erase(words.begin() + 1);
            words.push_back(help.data());
        }
        app.parse(static_cast<int>(words.size()), words.data());
    } catch (const CLI::ParseError& e) {
        if (e.get_exit_code() == 0)
            return print_help(app, e);
        complain(line_fault(app, e));
        return wrong_command_line;
    } catch (const Error& e) {
        complain(e.what());
        return exit_status(e.kind());
    } catch (const std::exception& e) {
        complain(fmt::format("a fault of the program: {}", printable(e.what())));
        return work_failed;
    }
    return run_work(chosen.work);
}

}  // namespace loamway
