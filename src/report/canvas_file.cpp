// SPDX-License-Identifier: Apache-2.0
// The bytes of a finished canvas.
#include <cairo/cairo-svg.h>
#include <cairo/cairo.h>
#include <fmt/format.h>

#include <cmath>
#include <map>
#include <string>
#include <string_view>

#include "canvas_inside.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "markup.h"

namespace loamway {

namespace {

constexpr double gap_between_pages = 12;

cairo_status_t append_bytes(void* to, const unsigned char* data, unsigned int size) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), size);
    return CAIRO_STATUS_SUCCESS;
}

void require_done(cairo_status_t status, std::string_view what) {
    if (status != CAIRO_STATUS_SUCCESS)
        throw Error(status == CAIRO_STATUS_NO_MEMORY ? ErrorKind::limit : ErrorKind::internal,
                    fmt::format("the {} cannot be drawn: {}", what, cairo_status_to_string(status)));
}

double full_height(const Canvas::Inside& inside) {
    const double pages = inside.pages;
    return pages * inside.setup.height + (pages - 1) * gap_between_pages;
}

/// White paper, and the pages on it one below the other.
void stack_pages(const Canvas::Inside& inside, cairo_t* c) {
    cairo_set_source_rgb(c, 0.6, 0.6, 0.6);
    if (inside.pages > 1)
        cairo_paint(c);
    double top = 0;
    for (const SurfaceHandle& page : inside.sheets) {
        cairo_set_source_rgb(c, 1, 1, 1);
        cairo_rectangle(c, 0, top, inside.setup.width, inside.setup.height);
        cairo_fill(c);
        cairo_save(c);
        cairo_rectangle(c, 0, top, inside.setup.width, inside.setup.height);
        cairo_clip(c);
        cairo_set_source_surface(c, page.get(), 0, top);
        cairo_paint(c);
        cairo_restore(c);
        top += inside.setup.height + gap_between_pages;
    }
}

/// The library numbers pictures over a whole process; here they count from 1 in every file. No text of ours
/// is in there yet.
std::string numbered_from_one(std::string_view svg) {
    constexpr std::string_view name = "surface";
    std::map<std::string, std::size_t, std::less<>> numbers;
    std::string out;
    std::size_t from = 0;
    for (std::size_t at = svg.find(name); at != std::string_view::npos; at = svg.find(name, at)) {
        at += name.size();
        const std::size_t end = svg.find_first_not_of("0123456789", at);
        const auto [entry, is_new] =
            numbers.try_emplace(std::string(svg.substr(at, end - at)), numbers.size() + 1);
        out += svg.substr(from, at - from);
        out += std::to_string(entry->second);
        from = end;
    }
    out += svg.substr(from);
    return out;
}

}  // namespace

std::string finished_pdf(Canvas::Inside& inside) {
    cairo_surface_t* surface = inside.sheets.front().get();
    cairo_surface_finish(surface);
    require_done(cairo_surface_status(surface), "PDF");
    return with_language(std::move(inside.bytes), inside.setup.language);
}

std::string finished_svg(Canvas::Inside& inside) {
    std::string out;
    const SurfaceHandle surface(
        cairo_svg_surface_create_for_stream(append_bytes, &out, inside.setup.width, full_height(inside)));
    const CairoHandle c(cairo_create(surface.get()));
    stack_pages(inside, c.get());
    require_done(cairo_status(c.get()), "SVG");
    cairo_surface_finish(surface.get());
    require_done(cairo_surface_status(surface.get()), "SVG");
    out = numbered_from_one(out);
    // Letters become shapes here. What they say goes into the description, for readers that cannot see.
    const std::size_t root = out.find("<svg ");
    const std::size_t inside_root = root == std::string::npos ? root : out.find('>', root);
    if (inside_root == std::string::npos)
        throw Error(ErrorKind::internal, "the SVG has no root element");
    out.insert(inside_root + 1,
               fmt::format("\n<title>{}</title>\n<desc>{}</desc>", markup_text(printable(inside.setup.title)),
                           markup_text(inside.words)));
    out.insert(root + 5, fmt::format("role=\"img\" xml:lang=\"{}\" ", markup_text(inside.setup.language)));
    return out;
}

std::string finished_png(Canvas::Inside& inside) {
    const double scale = inside.setup.dots_per_inch / 72;
    const int width = static_cast<int>(std::lround(inside.setup.width * scale));
    const int height = static_cast<int>(std::lround(full_height(inside) * scale));
    const SurfaceHandle surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
    require_done(cairo_surface_status(surface.get()), "PNG");
    const CairoHandle c(cairo_create(surface.get()));
    cairo_scale(c.get(), scale, scale);
    stack_pages(inside, c.get());
    require_done(cairo_status(c.get()), "PNG");
    std::string out;
    require_done(cairo_surface_write_to_png_stream(surface.get(), append_bytes, &out), "PNG");
    return out;
}

}  // namespace loamway
