// SPDX-License-Identifier: Apache-2.0
// Completion for the three shells people have. Each follows the words typed so far through the commands, then
// offers the commands below or, after a hyphen, the options; everything else is a file.
#include <fmt/format.h>

#include <CLI/CLI.hpp>

#include "command_tree.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr const char* made_by = "# Made by loamway's build from the commands themselves.\n";

/// In single quotes, as bash and zsh read them.
std::string shell_quoted(std::string_view text) {
    std::string out = "'";
    for (const char c : text)
        out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

/// In single quotes, as fish reads them.
std::string fish_quoted(std::string_view text) {
    std::string out = "'";
    for (const char c : text)
        out += c == '\'' || c == '\\' ? std::string{'\\', c} : std::string(1, c);
    return out + "'";
}

std::string parent_of(const std::string& path) {
    const auto space = path.rfind(' ');
    return space == std::string::npos ? "" : path.substr(0, space);
}

std::string last_word(const std::string& path) {
    return path.substr(path.rfind(' ') + 1);
}

/// The pattern "region build" as the shell puts command and next word together: a space even after nothing.
std::string step_of(const std::string& path) {
    return parent_of(path) + " " + last_word(path);
}

/// Lines of a `case` that follow a word into its command.
std::string steps(const std::vector<CommandNode>& commands) {
    std::string out;
    for (const CommandNode& c : commands)
        if (!c.path.empty())
            out += fmt::format("            {}) command={} ;;\n", shell_quoted(step_of(c.path)),
                               shell_quoted(c.path));
    return out;
}

/// Something of each name of each option, one after the other.
template <class Say>
std::string each_option(const CLI::App& command, const Say& say) {
    std::string out;
    for (const OptionWords& o : options_of(command))
        if (!o.argument)
            for (const std::string& name : o.names)
                out += say(name, o);
    return out;
}

std::string bash(const std::vector<CommandNode>& commands) {
    std::string cases;
    for (const CommandNode& c : commands) {
        std::string below;
        for (const CLI::App* sub : commands_below(*c.app))
            below += (below.empty() ? "" : " ") + sub->get_name();
        const std::string options =
            each_option(*c.app, [](const std::string& name, const OptionWords&) { return name + " "; });
        cases += fmt::format("        {}) below={} options={} ;;\n", shell_quoted(c.path),
                             shell_quoted(below), shell_quoted(options));
    }
    return std::string(made_by) +
           "_loamway() {\n"
           "    local current=${COMP_WORDS[COMP_CWORD]} command='' below='' options='' word\n"
           "    for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n"
           "        case \"$command $word\" in\n" +
           steps(commands) +
           "        esac\n"
           "    done\n"
           "    case $command in\n" +
           cases +
           "    esac\n"
           "    if [[ $current == -* ]]; then\n"
           "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$current\")\n"
           "    else\n"
           "        mapfile -t COMPREPLY < <(compgen -W \"$below\" -- \"$current\")\n"
           "    fi\n"
           "}\n"
           "complete -o bashdefault -o default -F _loamway loamway\n";
}

std::string zsh(const std::vector<CommandNode>& commands) {
    std::string cases;
    for (const CommandNode& c : commands) {
        std::string below;
        for (const CLI::App* sub : commands_below(*c.app))
            below += "\n            " + shell_quoted(sub->get_name() + ":" + sub->get_description());
        const std::string options = each_option(*c.app, [](const std::string& name, const OptionWords& o) {
            return "\n            " + shell_quoted(name + ":" + o.text);
        });
        cases += fmt::format("        {})\n            below=({})\n            options=({}) ;;\n",
                             shell_quoted(c.path), below, options);
    }
    return std::string("#compdef loamway\n") + made_by +
           "_loamway() {\n"
           "    local command='' word\n"
           "    local -a below options\n"
           "    for word in \"${(@)words[2,CURRENT-1]}\"; do\n"
           "        case \"$command $word\" in\n" +
           steps(commands) +
           "        esac\n"
           "    done\n"
           "    case $command in\n" +
           cases +
           "    esac\n"
           "    if [[ ${words[CURRENT]} == -* ]]; then\n"
           "        _describe -o option options\n"
           "    elif (( $#below )); then\n"
           "        _describe command below\n"
           "    else\n"
           "        _files\n"
           "    fi\n"
           "}\n"
           "_loamway \"$@\"\n";
}

std::string fish(const std::vector<CommandNode>& commands) {
    std::string out = std::string(made_by) +
                      "function __loamway_at\n"
                      "    set -l command ''\n"
                      "    for word in (commandline -opc)[2..]\n"
                      "        switch \"$command $word\"\n";
    for (const CommandNode& c : commands)
        if (!c.path.empty())
            out += fmt::format("            case {}\n                set command {}\n",
                               fish_quoted(step_of(c.path)), fish_quoted(c.path));
    out +=
        "        end\n"
        "    end\n"
        "    test \"$command\" = \"$argv[1]\"\n"
        "end\n";
    for (const CommandNode& c : commands) {
        const std::string here = fish_quoted("__loamway_at " + fish_quoted(c.path));
        for (const CLI::App* sub : commands_below(*c.app))
            out += fmt::format("complete -c loamway -n {} -f -a {} -d {}\n", here,
                               fish_quoted(sub->get_name()), fish_quoted(sub->get_description()));
        for (const OptionWords& o : options_of(*c.app)) {
            if (o.argument)
                continue;
            out += fmt::format("complete -c loamway -n {}", here);
            for (const std::string& name : o.names)
                out += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
            out += fmt::format("{} -d {}\n", o.value.empty() ? "" : " -r", fish_quoted(o.text));
        }
    }
    return out;
}

}  // namespace

std::string completion(const CLI::App& program, const std::string& shell) {
    const std::vector<CommandNode> commands = all_commands(program);
    if (shell == "bash")
        return bash(commands);
    if (shell == "zsh")
        return zsh(commands);
    if (shell == "fish")
        return fish(commands);
    throw Error(ErrorKind::input, fmt::format("\"{}\" is no shell it has completion for", printable(shell)),
                "bash, zsh or fish");
}

}  // namespace loamway
