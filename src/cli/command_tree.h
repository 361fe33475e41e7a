// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_COMMAND_TREE_H
#define LOAMWAY_SRC_CLI_COMMAND_TREE_H

// The commands as a list, for everything that is written about them: help, man pages, completions.

#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace loamway {

struct CommandNode {
    std::string path;  // "region build"; empty for the program
    const CLI::App* app;
};
/// Every command that people see, each before its own; the program first.
[[nodiscard]] std::vector<CommandNode> all_commands(const CLI::App& program);

/// "region build" of that command; empty for the program.
[[nodiscard]] std::string path_of(const CLI::App& command);

/// Those directly below.
[[nodiscard]] std::vector<const CLI::App*> commands_below(const CLI::App& command);

struct OptionWords {
    std::vector<std::string> names;  // "-o", "--output"; for an argument its name alone
    std::string value;               // "FILE"; empty for a flag
    std::string text;
    bool argument = false;
    bool required = false;
};
/// As the command takes them: arguments, then options.
[[nodiscard]] std::vector<OptionWords> options_of(const CLI::App& command);

/// Help with what the command is for, its examples and the exit statuses.
void use_help_with_guides(CLI::App& program);

/// The man page of the program or of a command right below it, whose own commands are sections of it.
[[nodiscard]] std::string man_page(const CLI::App& program, const CLI::App& command);

/// Completion for "bash", "zsh" or "fish"; another word is an input Error.
[[nodiscard]] std::string completion(const CLI::App& program, const std::string& shell);

}  // namespace loamway

#endif
