// SPDX-License-Identifier: Apache-2.0
// loamway describe: writes what is made from the commands themselves. The build calls it; people need not see
// it.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "command.h"
#include "command_tree.h"
#include "console.h"
#include "guides.h"
#include "loamway/base/file.h"

namespace loamway {

namespace {

struct DescribeFlags {
    std::string man_folder, shell;
    bool examples = false;
};

void write_man_pages(const CLI::App& program, const std::string& folder) {
    write_file(folder + "/loamway.1", man_page(program, program));
    for (const CLI::App* command : commands_below(program))
        write_file(fmt::format("{}/loamway-{}.1", folder, command->get_name()), man_page(program, *command));
}

/// Those that run to their end, for whoever tries them.
std::string examples_that_run() {
    std::string out;
    for (const Guide& g : guides())
        if (g.runs && !g.examples.empty())
            out += fmt::format("{}\n", g.examples);
    return out;
}

int describe(const CLI::App& program, const DescribeFlags& flags) {
    if (!flags.man_folder.empty())
        write_man_pages(program, flags.man_folder);
    if (!flags.shell.empty())
        print(completion(program, flags.shell));
    if (flags.examples)
        print(examples_that_run());
    return 0;
}

}  // namespace

void add_describe_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub =
        app.add_subcommand("describe", "man pages, completions and examples, made from the commands");
    sub->group("");
    auto flags = std::make_shared<DescribeFlags>();
    sub->add_option("--man", flags->man_folder, "folder to write man pages to")->type_name("FOLDER");
    sub->add_option("--completion", flags->shell, "bash, zsh or fish, to standard output")
        ->type_name("SHELL");
    sub->add_flag("--examples", flags->examples, "the examples of all commands, to standard output");
    sub->callback([&app, flags, &chosen] { chosen.work = [&app, flags] { return describe(app, *flags); }; });
}

}  // namespace loamway
