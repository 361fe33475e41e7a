// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_CANVAS_INSIDE_H
#define LOAMWAY_SRC_REPORT_CANVAS_INSIDE_H

// What the files of the canvas share. The drawing libraries' types stay opaque here.

#include <memory>
#include <string>
#include <vector>

#include "loamway/report/canvas.h"

struct _cairo;
struct _cairo_surface;
struct _PangoContext;

namespace loamway {

/// Owns one object of a C library.
template <class T, void (*release)(T*)>
struct Releaser {
    void operator()(T* p) const { release(p); }
};
void release_cairo(_cairo* c);
void release_surface(_cairo_surface* s);
void release_context(_PangoContext* c);
using CairoHandle = std::unique_ptr<_cairo, Releaser<_cairo, release_cairo>>;
using SurfaceHandle = std::unique_ptr<_cairo_surface, Releaser<_cairo_surface, release_surface>>;
using ContextHandle = std::unique_ptr<_PangoContext, Releaser<_PangoContext, release_context>>;

struct Canvas::Inside {
    CanvasSetup setup;
    std::string bytes;                  // of a PDF, as it grows
    std::vector<SurfaceHandle> sheets;  // the PDF, or one recording a page
    CairoHandle cairo;                  // draws on the last of them
    ContextHandle letters;
    int pages = 1;
    std::string words;  // all text drawn, for readers of a picture's description

    [[nodiscard]] _cairo* drawing() const;
    void start_recording();
};

[[nodiscard]] ContextHandle make_letter_context(const std::string& language);

/// One PDF, SVG or PNG from what was drawn.
[[nodiscard]] std::string finished_pdf(Canvas::Inside& inside);
[[nodiscard]] std::string finished_svg(Canvas::Inside& inside);
[[nodiscard]] std::string finished_png(Canvas::Inside& inside);

/// Adds the language, and that viewers show the title, to a PDF: an incremental update at its end. For files
/// with a plain cross-reference table; throws internal for others.
[[nodiscard]] std::string with_language(std::string pdf, const std::string& language);

}  // namespace loamway

#endif
