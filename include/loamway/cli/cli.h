// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_CLI_CLI_H
#define LOAMWAY_CLI_CLI_H

// The command line. Results go to standard output, everything else to standard error. Status: 0 done, 1 the
// work failed, 2 wrong command line or input file, 3 a valid question without an option that can be done.

namespace loamway {

[[nodiscard]] int run(int argc, char** argv);

}  // namespace loamway

#endif
