// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_FILE_LOCK_H
#define LOAMWAY_BASE_FILE_LOCK_H

// One process at a time changes a file that is read, changed and written again as a whole.

#include <string>

#include "loamway/base/units.h"

namespace loamway {

/// Held from construction to end of life, and let go when the process dies. Files appear by renaming, so the
/// lock lies on the folder of the file: nothing is left behind. io Error when another process holds it for
/// longer than `wait`, or the folder cannot be opened.
class FileLock {
public:
    explicit FileLock(const std::string& path, Duration wait = Duration::from_seconds(30));
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    ~FileLock();

private:
    int m_fd = -1;
};

}  // namespace loamway

#endif
