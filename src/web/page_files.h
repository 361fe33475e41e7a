// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_PAGE_FILES_H
#define LOAMWAY_SRC_WEB_PAGE_FILES_H

// The page's files as they lie in the program. A program built with LOAMWAY_PAGE=OFF has none.

#include <string_view>

namespace loamway {

struct PageFile {
    std::string_view path;  // "/" for the page, "/page/NAME" for its files
    std::string_view bytes;
    std::string_view content_type;
    std::string_view etag;  // with its quotes
    bool gzip = false;      // bytes are compressed
};

/// Null when there is none; none for "/" means a program without the page. `path` as a request has it.
[[nodiscard]] const PageFile* find_page_file(std::string_view path);

}  // namespace loamway

#endif
