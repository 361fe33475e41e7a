// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_CLI_CASE_FILE_H
#define LOAMWAY_TESTS_CLI_CASE_FILE_H

// Command cases as text. A case file is a list of steps, done in order in one folder of their own:
//
//     # anything
//     file NAME           the lines below, each after "| ", become a file
//     | ...
//     run COMMAND LINE    given to sh, with the function `loamway` ($PROGRAM for other programs) and the
//     variable
//                         $SOURCE (the source tree)
//     status 2            exit status, 0 when left out
//     out                 what standard output must be, nothing when left out
//     | ...
//     err                 the same for standard error
//     | ...
//
// In expected lines *** stands for any text; a line that is only *** for any number of lines.

#include <string>
#include <string_view>
#include <vector>

namespace loamway::test {

struct CaseStep {
    int line = 0;
    std::string file;     // name of a file to write, or
    std::string command;  // what to run
    std::vector<std::string> content, out, err;
    int status = 0;
};

/// Throws std::runtime_error naming the line of anything it does not know.
[[nodiscard]] std::vector<CaseStep> read_case_file(const std::string& text);

/// Whether the lines match, with *** as above.
[[nodiscard]] bool lines_match(const std::vector<std::string>& wanted, const std::vector<std::string>& there);
[[nodiscard]] bool line_matches(std::string_view wanted, std::string_view there);
[[nodiscard]] std::vector<std::string> lines_of(const std::string& text);

}  // namespace loamway::test

#endif
