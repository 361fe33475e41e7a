// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_MAPPED_FILES_H
#define LOAMWAY_BASE_MAPPED_FILES_H

// Large files are mapped, not read (FileBytes). A mapped file stays as it was opened when another is renamed
// over it, as everything here writes files; a program that cuts it or writes into it (cp does both) takes
// away what was checked when it was opened. It cannot be hindered, but it can be noticed.

namespace loamway {

/// The name of a file mapped now that was cut or written to since, or that holds `address` (one whose
/// reading failed); null when there is none. May be called in a signal handler. Printable.
[[nodiscard]] const char* lost_mapped_file(const void* address = nullptr) noexcept;

/// A damaged Error that names such a file: what was worked out since the last call may be wrong.
void require_mapped_unchanged();

}  // namespace loamway

#endif
