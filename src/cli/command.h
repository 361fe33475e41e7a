// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_COMMAND_H
#define LOAMWAY_SRC_CLI_COMMAND_H

// What the commands share. Each family adds its options to the command line; the one that was asked for
// leaves its work in `Chosen`, which runs once the whole line has been read without fault. The work first
// checks what can be checked, then reads, then writes.

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/text/table.h"

namespace CLI {
class App;
}

namespace loamway {

/// Returns the exit status.
using Work = std::function<int()>;
struct Chosen {
    Work work;
};

/// All of them, those people need not see included.
void add_all_commands(CLI::App& app, Chosen& chosen);

void add_region_commands(CLI::App& app, Chosen& chosen);
void add_plan_command(CLI::App& app, Chosen& chosen);
void add_sheet_command(CLI::App& app, Chosen& chosen);
void add_export_command(CLI::App& app, Chosen& chosen);
void add_correct_command(CLI::App& app, Chosen& chosen);
void add_tags_command(CLI::App& app, Chosen& chosen);
void add_belt_command(CLI::App& app, Chosen& chosen);
void add_breakin_command(CLI::App& app, Chosen& chosen);
void add_load_command(CLI::App& app, Chosen& chosen);
void add_ledger_command(CLI::App& app, Chosen& chosen);
void add_budget_command(CLI::App& app, Chosen& chosen);
void add_season_command(CLI::App& app, Chosen& chosen);
void add_serve_command(CLI::App& app, Chosen& chosen);
void add_batch_command(CLI::App& app, Chosen& chosen);
void add_worker_command(CLI::App& app, Chosen& chosen);
void add_describe_command(CLI::App& app, Chosen& chosen);

/// A number as a flag gives it, whatever the locale. `flag` and `unit` are for the message.
[[nodiscard]] double flag_number(std::string_view flag, const std::string& text, std::string_view unit);

/// A whole number from `least` as a flag gives it. `what` is for the message.
[[nodiscard]] std::int64_t flag_whole(std::string_view flag, const std::string& text, std::int64_t least,
                                      std::string_view what);
/// From 1, and no more than an int holds.
[[nodiscard]] int flag_count(std::string_view flag, const std::string& text, std::string_view what);

/// "a,b,c" without empty pieces; an empty piece is an input Error.
[[nodiscard]] std::vector<std::string> flag_list(std::string_view flag, const std::string& text);

/// Input or io Error unless a file can be put there: plain path, folder there and writable, no folder
/// itself. "-" passes.
void require_writable(const std::string& path);

/// Input Error unless the file is there and can be read. "-" passes.
void require_readable(const std::string& path);

/// Input Error when `output` is one of the files it is made from, by whatever name: "this would overwrite
/// {what}". Empty names, "-" and addresses pass.
void require_apart(const std::vector<std::string>& inputs, const std::string& output, std::string_view what);

/// Input Error when a file is there that holds something else than what is about to be written: one that is
/// not empty has to start with `start`. For what has no ending of its own; `what` as in "this is not {what}".
void require_replaceable(const std::string& output, std::string_view start, std::string_view what);

/// "gpx" of "a/b.GPX"; empty without one.
[[nodiscard]] std::string extension_of(const std::string& path);

/// The same Error with the file as its place.
[[nodiscard]] Error in_file(const Error& e, const std::string& file);

}  // namespace loamway

#endif
