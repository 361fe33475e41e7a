// SPDX-License-Identifier: Apache-2.0
// Runs each file of a folder through one fuzz target: replay NAME FOLDER. Status 0 when every promise was
// kept, and there was at least one file.

#include <algorithm>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "targets.h"

namespace {

/// In a buffer of just its size, so that a sanitizer sees a read beyond it.
std::vector<std::uint8_t> bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::vector<std::uint8_t> out{std::istreambuf_iterator<char>(in), {}};
    out.shrink_to_fit();
    return out;
}

}  // namespace

int main(int argc, char** argv) {
    const std::string_view name = argc == 3 ? argv[1] : "";
    const auto* target = std::find_if(std::begin(fuzz_targets), std::end(fuzz_targets),
                                      [&](const FuzzTarget& t) { return t.name == name; });
    if (target == std::end(fuzz_targets)) {
        std::fputs("usage: fuzz_replay TARGET FOLDER\n", stderr);
        return 2;
    }
    int files = 0, broken = 0;
    for (const auto& entry : std::filesystem::directory_iterator(argv[2])) {
        const std::vector<std::uint8_t> bytes = bytes_of(entry.path());
        ++files;
        try {
            target->run(bytes.data(), bytes.size());
        } catch (const std::exception& e) {
            ++broken;
            std::fprintf(stderr, "%s: %s\n", entry.path().c_str(), e.what());
        }
    }
    std::printf("%d files, %d broken promises\n", files, broken);
    return broken == 0 && files > 0 ? 0 : 1;
}
