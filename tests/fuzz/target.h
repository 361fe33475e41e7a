// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_FUZZ_TARGET_H
#define LOAMWAY_TESTS_FUZZ_TARGET_H

// What the fuzz targets share. A broken promise throws, which ends a fuzzer like a crash and fails the replay
// of the corpus with its words.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <stdexcept>
#include <string>
#include <string_view>

#include "loamway/base/error.h"

namespace loamway::fuzz {

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

/// By pointer, so that a promise that is kept costs nothing.
inline void promise(bool kept, const char* what) {
    if (!kept)
        throw std::logic_error(what);
}

/// True when `read` came to its end; false when it threw an Error of these kinds in one line. Anything else
/// is a broken promise.
template <class Read>
bool accepts(const Read& read,
             std::initializer_list<ErrorKind> kinds = {ErrorKind::input, ErrorKind::limit}) {
    try {
        read();
        return true;
    } catch (const Error& e) {
        const std::string line = e.what();
        if (std::find(kinds.begin(), kinds.end(), e.kind()) == kinds.end())
            throw std::logic_error("an error of a kind that bytes cannot cause: " + line);
        if (line.find('\n') != std::string::npos)
            throw std::logic_error("not one line: " + line);
        return false;
    }
}

}  // namespace loamway::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

#endif
