// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_GUIDES_H
#define LOAMWAY_SRC_CLI_GUIDES_H

// What each command is for, with examples. Help, man pages and completions are made from this and from the
// options themselves; nothing is said twice.

#include <span>
#include <string_view>

namespace loamway {

struct Guide {
    std::string_view command;   // "region build"; empty for the program
    std::string_view purpose;   // sentences, without line ends
    std::string_view examples;  // lines, an ending "\" goes on in the next; they run one after the other
    bool runs = true;           // false: the examples need something that goes on, such as a queue
};

/// In the order of the commands. Examples stand in a folder that has this project's examples and regions.
[[nodiscard]] std::span<const Guide> guides();

/// The guide of "region build"; null where there is none.
[[nodiscard]] const Guide* guide_of(std::string_view command);

struct StatusWords {
    int status;
    std::string_view means;
};
/// What the exit statuses mean, for every command.
[[nodiscard]] std::span<const StatusWords> status_words();

}  // namespace loamway

#endif
