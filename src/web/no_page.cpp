// SPDX-License-Identifier: Apache-2.0
// A program built with LOAMWAY_PAGE=OFF.
#include "page_files.h"

namespace loamway {

const PageFile* find_page_file(std::string_view) {
    return nullptr;
}

}  // namespace loamway
