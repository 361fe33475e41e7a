// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_FAULTS_PROGRAM_H
#define LOAMWAY_TESTS_FAULTS_PROGRAM_H

// The built program, run as a user would run it: what it says, how it ends. And a folder with the invented
// county's region and one planned move in it.

#include <sys/types.h>

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "support/test_files.h"

namespace loamway::test {

struct RunSetup {
    std::string folder = "/";                                         // where it runs
    std::string input = {};                                           // file on standard input; none: empty
    std::string output = {};                                          // file for standard output; none: kept
    std::vector<std::pair<std::string, std::string>> variables = {};  // of the environment
    std::function<void()> before = {};                                // in the new process
    std::optional<std::chrono::milliseconds> kill_after = {};         // SIGKILL after so long
};

struct Ran {
    int status = -1;  // of the exit; -1: a signal ended it
    int signal = 0;
    std::string out, err;
    std::chrono::milliseconds took{};
};

/// `arguments` without the program's name. Kills it after two minutes: a hang shows as signal 9.
[[nodiscard]] Ran run_program(const std::vector<std::string>& arguments, const RunSetup& setup = {});

/// One line "loamway: ..." on standard error, nothing but printable text in it, and this exit status.
[[nodiscard]] bool failed_clearly(const Ran& ran, int status);

/// What moves a cursor, reorders a line or is no UTF-8; the first such place, or empty. New lines are well.
[[nodiscard]] std::string unprintable_in(const std::string& text);

/// Names of all entries of a folder, hidden ones too, in order.
[[nodiscard]] std::vector<std::string> names_in(const std::string& folder);

/// demo.region, plan.json and places.geojson in a folder of their own, made once a test program.
[[nodiscard]] const TempDir& demo_files();
/// A file of corrections without any.
constexpr std::string_view no_corrections =
    R"({"type":"FeatureCollection","schema":"loamway.corrections/1","last_number":0,"features":[]})";
/// Flags of a short move over a region that is driven.
[[nodiscard]] std::vector<std::string> demo_move(const std::string& region);

}  // namespace loamway::test

#endif
