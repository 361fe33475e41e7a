// SPDX-License-Identifier: Apache-2.0
#include "command_tree.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <sstream>

#include "guides.h"

namespace loamway {

namespace {

constexpr std::size_t line_width = 100;

void collect(const CLI::App& command, std::vector<CommandNode>& out) {
    out.push_back({path_of(command), &command});
    for (const CLI::App* below : commands_below(command))
        collect(*below, out);
}

std::string wrapped(std::string_view text) {
    std::istringstream words{std::string(text)};
    std::string out, word;
    std::size_t column = 0;
    while (words >> word) {
        if (column > 0 && column + 1 + word.size() > line_width) {
            out += "\n";
            column = 0;
        }
        out += column > 0 ? " " + word : word;
        column += (column > 0 ? 1 : 0) + word.size();
    }
    return out;
}

/// "  " before every line.
std::string indented(std::string_view lines) {
    std::string out = "  ";
    for (const char c : lines) {
        out += c;
        if (c == '\n')
            out += "  ";
    }
    return out + "\n";
}

class GuideFormatter : public CLI::Formatter {
public:
    [[nodiscard]] std::string make_description(const CLI::App* app) const override {
        const Guide* guide = guide_of(path_of(*app));
        const std::string text = CLI::Formatter::make_description(app);
        return guide == nullptr ? text : fmt::format("{}\n{}\n\n", text, wrapped(guide->purpose));
    }
    [[nodiscard]] std::string make_footer(const CLI::App* app) const override {
        std::string out;
        const Guide* guide = guide_of(path_of(*app));
        if (guide != nullptr && !guide->examples.empty())
            out += "Examples:\n" + indented(guide->examples) + "\n";
        out += "Exit status:\n";
        for (const StatusWords& s : status_words())
            out += fmt::format("  {}  {}\n", s.status, s.means);
        return out;
    }
};

}  // namespace

std::string path_of(const CLI::App& command) {
    const CLI::App* parent = command.get_parent();
    if (parent == nullptr)
        return {};
    const std::string above = path_of(*parent);
    return above.empty() ? command.get_name() : above + " " + command.get_name();
}

std::vector<const CLI::App*> commands_below(const CLI::App& command) {
    return command.get_subcommands([](const CLI::App* sub) { return !sub->get_group().empty(); });
}

std::vector<CommandNode> all_commands(const CLI::App& program) {
    std::vector<CommandNode> out;
    collect(program, out);
    return out;
}

std::vector<OptionWords> options_of(const CLI::App& command) {
    std::vector<OptionWords> arguments, options;
    for (const CLI::Option* o : command.get_options()) {
        OptionWords words;
        words.argument = o->get_positional();
        words.required = o->get_required();
        words.text = o->get_description();
        if (o->get_items_expected_max() > 0 && o->get_type_size_max() > 0)
            words.value = o->get_type_name();
        if (words.argument) {
            words.names.push_back(o->get_name(true));
        } else {
            for (const std::string& name : o->get_snames())
                words.names.push_back("-" + name);
            for (const std::string& name : o->get_lnames())
                words.names.push_back("--" + name);
        }
        (words.argument ? arguments : options).push_back(std::move(words));
    }
    arguments.insert(arguments.end(), options.begin(), options.end());
    return arguments;
}

void use_help_with_guides(CLI::App& program) {
    program.formatter(std::make_shared<GuideFormatter>());
}

}  // namespace loamway
