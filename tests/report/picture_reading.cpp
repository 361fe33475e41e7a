// SPDX-License-Identifier: Apache-2.0
#include "picture_reading.h"

#include <cairo/cairo.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <cstring>
#include <stdexcept>

#include "support/test_files.h"

namespace loamway {

namespace {

/// Runs a program with the file as its input; its output and its complaints.
std::pair<std::string, std::string> run(const test::TempDir& dir, const std::string& command) {
    const std::string out = dir.file("out"), err = dir.file("err");
    const std::string line = command + " >" + out + " 2>" + err;
    if (std::system(line.c_str()) != 0)
        throw std::runtime_error(command + ": " + test::slurp(err) + " (scripts/install --tests)");
    return {test::slurp(out), test::slurp(err)};
}

std::string field(const std::string& text, const std::string& name) {
    const auto at = text.find(name + ":");
    if (at == std::string::npos)
        return {};
    const auto from = text.find_first_not_of(' ', at + name.size() + 1);
    return text.substr(from, text.find('\n', from) - from);
}

double number(const std::string& text, std::size_t from) {
    double value = 0;
    std::from_chars(text.data() + from, text.data() + text.size(), value);
    return value;
}

struct Source {
    const std::string* bytes;
    std::size_t at = 0;
};
cairo_status_t take(void* source, unsigned char* data, unsigned int size) {
    auto& from = *static_cast<Source*>(source);
    if (from.at + size > from.bytes->size())
        return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, from.bytes->data() + from.at, size);
    from.at += size;
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace

PdfRead read_pdf(const std::string& bytes) {
    const test::TempDir dir;
    const std::string file = dir.write("a.pdf", bytes);
    const auto [info, info_complaints] = run(dir, "pdfinfo -enc UTF-8 " + file);
    const auto [text, text_complaints] = run(dir, "pdftotext -raw -enc UTF-8 " + file + " -");
    PdfRead out;
    out.pages = static_cast<int>(number(field(info, "Pages"), 0));
    const std::string size = field(info, "Page size");
    out.width = number(size, 0);
    out.height = number(size, size.find("x ") + 2);
    out.title = field(info, "Title");
    out.text = text;
    out.complaints = info_complaints + text_complaints;
    return out;
}

PngRead read_png(const std::string& bytes) {
    Source source{&bytes};
    cairo_surface_t* surface = cairo_image_surface_create_from_png_stream(take, &source);
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        throw std::runtime_error("not a PNG");
    PngRead out;
    out.width = cairo_image_surface_get_width(surface);
    out.height = cairo_image_surface_get_height(surface);
    const unsigned char* data = cairo_image_surface_get_data(surface);
    const int stride = cairo_image_surface_get_stride(surface);
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            std::uint32_t pixel = 0;
            std::memcpy(&pixel, data + y * stride + 4 * x, 4);
            out.pixels.push_back(pixel & 0xffffffu);
        }
    cairo_surface_destroy(surface);
    return out;
}

}  // namespace loamway
