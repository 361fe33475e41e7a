// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_CONSOLE_H
#define LOAMWAY_SRC_CLI_CONSOLE_H

// Standard output and standard error as a command sees them.

#include <string>
#include <string_view>

#include "loamway/base/file.h"

namespace loamway {

/// A pipe that is closed early ends the program by SIGPIPE, as a reader like head expects; files are
/// written before standard output, so none is left half. When SIGPIPE is ignored it is an io Error.
void print(std::string_view text);
void finish_output();

/// "loamway: ..." as one line on standard error.
void complain(std::string_view line);

/// "loamway: ..." on standard error, for people alone: nothing where that is no terminal.
void remark(std::string_view line);

/// Colour and bold only for people: a terminal, no NO_COLOR, no dumb terminal.
[[nodiscard]] bool output_has_colour();

/// A progress line on standard error, on a terminal only and once the work has taken over a second. It is
/// wiped when the returned function goes away; it must not outlive the calling scope's work.
[[nodiscard]] Progress progress_line();

}  // namespace loamway

#endif
