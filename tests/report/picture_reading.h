// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_REPORT_PICTURE_READING_H
#define LOAMWAY_TESTS_REPORT_PICTURE_READING_H

// Reads back what was drawn: PDF with poppler's programs, PNG with the drawing library.

#include <cstdint>
#include <string>
#include <vector>

namespace loamway {

struct PdfRead {
    int pages = 0;
    double width = 0, height = 0;  // of the first page
    std::string title;
    std::string text;        // in the order of drawing
    std::string complaints;  // what the readers had to say about the file
};
[[nodiscard]] PdfRead read_pdf(const std::string& bytes);

struct PngRead {
    int width = 0, height = 0;
    std::vector<std::uint32_t> pixels;  // 0xRRGGBB
    [[nodiscard]] std::uint32_t pixel(int x, int y) const {
        return pixels.at(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                         static_cast<std::size_t>(x));
    }
};
[[nodiscard]] PngRead read_png(const std::string& bytes);

}  // namespace loamway

#endif
