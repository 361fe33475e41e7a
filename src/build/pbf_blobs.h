// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_PBF_BLOBS_H
#define LOAMWAY_SRC_BUILD_PBF_BLOBS_H

// The outside of a PBF file: where its blocks are, and unpacking one.

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "pbf_file.h"

namespace loamway {

struct PbfBlob {
    std::uint64_t offset;
    std::uint32_t size;
};

/// The header's block, then those with data. Reads only what stands between the blocks. Errors: input (no PBF
/// file), damaged.
[[nodiscard]] std::vector<PbfBlob> find_pbf_blobs(const PbfSource& source, const std::string& name);

/// Unpacks blocks, one after another in the same memory. One for each thread.
class PbfUnpacker {
public:
    PbfUnpacker();
    /// Reads and unpacks; throws PbfFault. The result is valid until the next call.
    [[nodiscard]] std::span<const char> unpack(const PbfSource& source, const PbfBlob& blob,
                                               std::vector<char>& out);

private:
    struct Free {
        void operator()(void* decompressor) const;
    };
    std::unique_ptr<void, Free> m_decompressor;
    std::vector<char> m_packed;
};

}  // namespace loamway

#endif
