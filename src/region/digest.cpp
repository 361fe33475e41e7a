// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/digest.h"

#include <xxhash.h>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <memory>
#include <new>
#include <span>
#include <system_error>
#include <vector>

#include "hash.h"
#include "loamway/base/error.h"

namespace loamway {

std::string digest_of_file(const std::string& path) {
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    if (!file) {
        const int why = errno;
        if (why == ENOENT)
            throw Error(ErrorKind::not_found, "no such file", "check the path", {path, {}, {}});
        throw Error(ErrorKind::io, "cannot be opened: " + std::generic_category().message(why), "",
                    {path, {}, {}});
    }
    const std::unique_ptr<XXH3_state_t, decltype(&XXH3_freeState)> state(XXH3_createState(), &XXH3_freeState);
    if (!state)
        throw std::bad_alloc();
    XXH3_128bits_reset(state.get());
    std::vector<char> piece(std::size_t{1} << 20);
    while (file.read(piece.data(), static_cast<std::streamsize>(piece.size())) || file.gcount() > 0)
        XXH3_128bits_update(state.get(), piece.data(), static_cast<std::size_t>(file.gcount()));
    if (file.bad())
        throw Error(ErrorKind::io, "cannot be read to its end", "", {path, {}, {}});
    XXH128_canonical_t canonical{};
    XXH128_canonicalFromHash(&canonical, XXH3_128bits_digest(state.get()));
    return to_hex(canonical.digest);
}

std::string digest_of_text(std::string_view text) {
    return to_hex(hash128(std::as_bytes(std::span(text.data(), text.size()))));
}

}  // namespace loamway
