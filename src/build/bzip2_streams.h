// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_BZIP2_STREAMS_H
#define LOAMWAY_SRC_BUILD_BZIP2_STREAMS_H

// bzip2 files of any number of streams, as packers that work in parallel write them. The library's own reader
// takes a stream without text, and one that ends where its buffer does, for the end of the file: the rest of
// the map would be missing without a word. It also clears a whole buffer for each stream, however short.

namespace osmium::io {
enum class file_compression;
}

namespace loamway {

/// To be set on a file instead of the library's `bzip2`. What is wrong is told as osmium::bzip2_error. Safe
/// to call from any thread.
[[nodiscard]] osmium::io::file_compression bzip2_streams();

}  // namespace loamway

#endif
