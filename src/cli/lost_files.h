// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_LOST_FILES_H
#define LOAMWAY_SRC_CLI_LOST_FILES_H

namespace loamway {

/// From now on a mapped file that is cut or overwritten under the program ends it with a line and status 1
/// instead of a bare signal. Other faults end it as before.
void say_when_files_are_lost();

}  // namespace loamway

#endif
