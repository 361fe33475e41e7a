// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_PROFILE_FILES_H
#define LOAMWAY_SRC_DESK_PROFILE_FILES_H

// Profiles that a request names or holds, and the recipe a region remembers.

#include <optional>
#include <string>

#include "loamway/desk/desk.h"
#include "loamway/haul/limits.h"
#include "loamway/text/document_kind.h"

namespace loamway {

/// Where a key of the request was said; empty for flags.
[[nodiscard]] ErrorPlace place_of(const MoveRequest& r, const std::string& key);

/// A document of TOML or JSON. `hint` is added when there is no such file.
[[nodiscard]] Value read_profile(const std::string& path, DocumentKind wanted, const std::string& hint);

/// Runs `read` on the inline table or the file, whichever was given.
template <class Result, class Read>
Result profile_or(const std::optional<Value>& table, const std::optional<std::string>& file,
                  DocumentKind wanted, const ErrorPlace& said, const std::string& hint, Result otherwise,
                  const Read& read) {
    if (table)
        return read(*table, said.file);
    if (file)
        return read(read_profile(*file, wanted, hint), *file);
    return otherwise;
}

/// The table of limits a region was built with, if any.
[[nodiscard]] std::optional<LimitsTable> limits_of(const RegionMeta& meta);
[[nodiscard]] Recipe recipe_of(const RegionMeta& meta);

}  // namespace loamway

#endif
