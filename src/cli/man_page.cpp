// SPDX-License-Identifier: Apache-2.0
// Man pages, in the macros of man(7).
#include <fmt/format.h>

#include <CLI/CLI.hpp>

#include "command_tree.h"
#include "guides.h"
#include "loamway/base/version.h"

namespace loamway {

namespace {

/// Text that stands for itself: a backslash would be an order, a hyphen a dash, a dot in front a macro.
std::string plain(std::string_view text) {
    std::string out;
    bool starts = true;
    for (const char c : text) {
        if (starts && (c == '.' || c == '\''))
            out += "\\&";
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
        starts = c == '\n';
    }
    return out;
}

std::string full(const std::string& path) {
    return path.empty() ? "loamway" : "loamway " + path;
}

std::string dashed(std::string name) {
    for (char& c : name)
        if (c == ' ')
            c = '-';
    return name;
}

std::string synopsis(const CLI::App& command) {
    std::string out = fmt::format("\\fB{}\\fR", plain(full(path_of(command))));
    if (!commands_below(command).empty())
        return out + " \\fICOMMAND\\fR ...";
    out += " [\\fIOPTIONS\\fR]";
    for (const OptionWords& o : options_of(command))
        if (o.argument)
            out += o.required ? fmt::format(" \\fI{}\\fR", plain(o.value))
                              : fmt::format(" [\\fI{}\\fR]", plain(o.value));
    return out;
}

std::string option_list(const CLI::App& command) {
    std::string out;
    for (const OptionWords& o : options_of(command)) {
        std::string names;
        if (!o.argument)
            for (const std::string& name : o.names)
                names += fmt::format("{}\\fB{}\\fR", names.empty() ? "" : ", ", plain(name));
        const char* gap = names.empty() || o.value.empty() ? "" : " ";
        out += fmt::format(".TP\n{}{}{}\n{}{}\n", names, gap,
                           o.value.empty() ? "" : fmt::format("\\fI{}\\fR", plain(o.value)), plain(o.text),
                           o.required ? " (needed)" : "");
    }
    return out;
}

std::string example_lines(const Guide* guide) {
    if (guide == nullptr || guide->examples.empty())
        return {};
    return fmt::format(".PP\n.RS 4\n.nf\n{}\n.fi\n.RE\n", plain(guide->examples));
}

std::string purpose(const Guide* guide) {
    return guide == nullptr ? "" : plain(guide->purpose) + "\n";
}

/// A command below as a section: what it is for, its options, its examples.
std::string section(const CLI::App& command) {
    const Guide* guide = guide_of(path_of(command));
    std::string out =
        fmt::format(".SS \"{}\"\n{}.PP\n{}\n{}{}", plain(full(path_of(command))), purpose(guide),
                    synopsis(command), option_list(command), example_lines(guide));
    for (const CLI::App* below : commands_below(command))
        out += section(*below);
    return out;
}

std::string statuses() {
    std::string out = ".SH EXIT STATUS\n";
    for (const StatusWords& s : status_words())
        out += fmt::format(".TP\n.B {}\n{}\n", s.status, plain(s.means));
    return out;
}

}  // namespace

std::string man_page(const CLI::App& program, const CLI::App& command) {
    const bool whole = &program == &command;
    const Guide* guide = guide_of(path_of(command));
    const std::string name = dashed(full(path_of(command)));
    std::string upper = name;
    for (char& c : upper)
        if (c >= 'a' && c <= 'z')
            c = static_cast<char>(c - 'a' + 'A');
    std::string out =
        fmt::format(".TH {} 1 \"\" \"loamway {}\" \"Loamway\"\n", plain(upper), program_version());
    out += fmt::format(".SH NAME\n{} \\- {}\n", plain(name), plain(command.get_description()));
    out += fmt::format(".SH SYNOPSIS\n{}\n.SH DESCRIPTION\n{}", synopsis(command), purpose(guide));
    out += ".SH OPTIONS\n" + option_list(command);
    if (const auto below = commands_below(command); !below.empty()) {
        out += ".SH COMMANDS\n";
        for (const CLI::App* sub : below)
            out += whole ? fmt::format(".TP\n.B {}\n{} (\\fB{}\\fR(1))\n", plain(sub->get_name()),
                                       plain(sub->get_description()), plain("loamway-" + sub->get_name()))
                         : section(*sub);
    }
    if (const std::string lines = example_lines(guide); !lines.empty())
        out +=
            ".SH EXAMPLES\nIn a folder with the examples and regions that come with the program:\n" + lines;
    out += statuses();
    out += fmt::format(".SH SEE ALSO\n{}\n",
                       whole ? "The README that comes with the program." : "\\fBloamway\\fR(1)");
    return out;
}

}  // namespace loamway
