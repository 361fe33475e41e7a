// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_PBF_FILE_H
#define LOAMWAY_SRC_BUILD_PBF_FILE_H

// A PBF file read straight from disk, its blocks unpacked by several threads and handed out in the order of
// the file. A map that unpacks to very much more than its size is refused before it fills the memory.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <string>

#include "osm_file.h"

namespace loamway {

/// Where the bytes come from: a file, or memory in tests.
class PbfSource {
public:
    virtual ~PbfSource() = default;
    [[nodiscard]] virtual std::uint64_t size() const = 0;
    /// Fills `out` with the bytes from `offset` on, all of them below size(). Called by several threads at
    /// once.
    virtual void read(std::uint64_t offset, std::span<char> out) const = 0;
};

/// `name` is the place of errors. Errors: input (no PBF file, a kind of PBF that is not read), damaged,
/// limit, io. 0 threads: as many as the machine runs at once. `progress` is called on the caller's thread.
[[nodiscard]] OsmFileFacts read_pbf(const PbfSource& source, const std::string& name, OsmSink& sink,
                                    const std::function<void(double)>& progress, unsigned threads = 0);
[[nodiscard]] OsmFileFacts read_pbf_file(const std::string& path, OsmSink& sink,
                                         const std::function<void(double)>& progress);

}  // namespace loamway

#endif
