// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/canvas.h"

#include <cairo/cairo-pdf.h>
#include <cairo/cairo.h>
#include <fmt/format.h>
#include <qrencode.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "canvas_inside.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/base/version.h"

namespace loamway {

namespace {

// A drawing library counts in 24.8 fixed point; far below that every printer and viewer gives up.
constexpr double largest_page = 14400;

void set_ink(cairo_t* c, const Ink& ink) {
    cairo_set_source_rgba(c, ink.red, ink.green, ink.blue, ink.alpha);
}

void set_stroke(cairo_t* c, const Stroke& stroke) {
    set_ink(c, stroke.ink);
    cairo_set_line_width(c, stroke.width);
    cairo_set_dash(c, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0);
    const bool round = stroke.round && stroke.dash.empty();
    cairo_set_line_cap(c, round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(c, stroke.round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
}

/// Parallel lines over the whole clip, `deg` from the x axis, at multiples of the spacing from the origin, so
/// that neighbouring areas share one grid.
void parallel_lines(cairo_t* c, double deg, double spacing) {
    double left, top, right, bottom;
    cairo_save(c);
    cairo_rotate(c, deg * std::numbers::pi / 180);
    cairo_clip_extents(c, &left, &top, &right, &bottom);
    for (double y = std::ceil(top / spacing) * spacing; y <= bottom; y += spacing) {
        cairo_move_to(c, left, y);
        cairo_line_to(c, right, y);
    }
    cairo_restore(c);
    cairo_stroke(c);
}

/// Short strokes (or dots, of no length) on a staggered grid.
void staggered_marks(cairo_t* c, double spacing, double length) {
    double left, top, right, bottom;
    cairo_clip_extents(c, &left, &top, &right, &bottom);
    cairo_set_line_cap(c, CAIRO_LINE_CAP_ROUND);
    const double step = spacing + length;
    for (double row = std::floor(top / spacing); row * spacing <= bottom; ++row) {
        const double shift = std::fmod(std::abs(row), 2) < 0.5 ? 0 : step / 2;
        for (double x = std::floor(left / step) * step - shift; x <= right; x += step) {
            cairo_move_to(c, x, row * spacing);
            cairo_line_to(c, x + length, row * spacing);
        }
    }
    cairo_stroke(c);
}

void hatch(cairo_t* c, const Fill& fill) {
    const double spacing = std::max(fill.spacing, 0.5);
    set_ink(c, fill.ink);
    cairo_set_line_width(c, fill.weight);
    cairo_set_dash(c, nullptr, 0, 0);
    cairo_set_line_cap(c, CAIRO_LINE_CAP_BUTT);
    switch (fill.pattern) {
        case Pattern::solid:
            cairo_paint(c);
            break;
        case Pattern::diagonal:
            parallel_lines(c, -45, spacing);
            break;
        case Pattern::back_diagonal:
            parallel_lines(c, 45, spacing);
            break;
        case Pattern::crossed:
            parallel_lines(c, -45, spacing);
            parallel_lines(c, 45, spacing);
            break;
        case Pattern::horizontal:
            parallel_lines(c, 0, spacing);
            break;
        case Pattern::vertical:
            parallel_lines(c, 90, spacing);
            break;
        case Pattern::dots:
            cairo_set_line_width(c, 2 * fill.weight);
            staggered_marks(c, spacing, 0);
            break;
        case Pattern::dashes:
            staggered_marks(c, spacing, 1.5 * spacing);
            break;
    }
}

void trace(cairo_t* c, std::span<const PagePoint> points) {
    bool first = true;
    for (const PagePoint& p : points) {
        first ? cairo_move_to(c, p.x, p.y) : cairo_line_to(c, p.x, p.y);
        first = false;
    }
}

/// Fills and strokes the current path, and drops it.
void paint_path(cairo_t* c, const Fill* fill, const Stroke* stroke) {
    if (fill != nullptr) {
        cairo_path_t* path = cairo_copy_path(c);
        cairo_save(c);
        cairo_set_fill_rule(c, CAIRO_FILL_RULE_EVEN_ODD);
        if (fill->pattern == Pattern::solid) {
            set_ink(c, fill->ink);
            cairo_fill(c);
        } else {
            if (fill->ground) {
                set_ink(c, *fill->ground);
                cairo_fill_preserve(c);
            }
            cairo_clip(c);
            hatch(c, *fill);
        }
        cairo_restore(c);
        cairo_new_path(c);
        cairo_append_path(c, path);
        cairo_path_destroy(path);
    }
    if (stroke != nullptr) {
        set_stroke(c, *stroke);
        cairo_stroke(c);
    }
    cairo_new_path(c);
}

void trace_box(cairo_t* c, const PageBox& b, double radius) {
    const double r = std::min({radius, b.width / 2, b.height / 2});
    if (r <= 0) {
        cairo_rectangle(c, b.x, b.y, b.width, b.height);
        return;
    }
    constexpr double quarter = std::numbers::pi / 2;
    cairo_new_sub_path(c);
    cairo_arc(c, b.right() - r, b.y + r, r, -quarter, 0);
    cairo_arc(c, b.right() - r, b.bottom() - r, r, 0, quarter);
    cairo_arc(c, b.x + r, b.bottom() - r, r, quarter, 2 * quarter);
    cairo_arc(c, b.x + r, b.y + r, r, 2 * quarter, 3 * quarter);
    cairo_close_path(c);
}

cairo_status_t append_bytes(void* to, const unsigned char* data, unsigned int size) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), size);
    return CAIRO_STATUS_SUCCESS;
}

void write_pdf_facts(cairo_surface_t* surface, const CanvasSetup& setup) {
    const auto set = [surface](cairo_pdf_metadata_t key, const std::string& text) {
        if (!text.empty())
            cairo_pdf_surface_set_metadata(surface, key, printable(text).c_str());
    };
    // Version 1.4 has a plain cross-reference table in every release of the library.
    cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_4);
    const std::string date = format_rfc3339(setup.date.value_or(Instant{}), TimeZone());
    set(CAIRO_PDF_METADATA_TITLE, setup.title);
    set(CAIRO_PDF_METADATA_SUBJECT, setup.subject);
    set(CAIRO_PDF_METADATA_CREATOR, fmt::format("loamway {}", program_version()));
    set(CAIRO_PDF_METADATA_CREATE_DATE, date);
    set(CAIRO_PDF_METADATA_MOD_DATE, date);
}

}  // namespace

void release_cairo(_cairo* c) {
    cairo_destroy(c);
}
void release_surface(_cairo_surface* s) {
    cairo_surface_destroy(s);
}

_cairo* Canvas::Inside::drawing() const {
    if (!cairo)
        throw Error(ErrorKind::internal, "drawing on a canvas that is finished");
    return cairo.get();
}

void Canvas::Inside::start_recording() {
    const cairo_rectangle_t page{0, 0, setup.width, setup.height};
    sheets.emplace_back(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page));
    cairo.reset(cairo_create(sheets.back().get()));
}

Canvas::Canvas(const CanvasSetup& setup) : m_inside(std::make_unique<Inside>()) {
    if (!(setup.width > 0 && setup.height > 0 && setup.width <= largest_page && setup.height <= largest_page))
        throw Error(
            ErrorKind::limit,
            fmt::format("a picture of {:.0f} by {:.0f} points cannot be drawn", setup.width, setup.height),
            fmt::format("at most {:.0f} points a side", largest_page));
    m_inside->setup = setup;
    m_inside->letters = make_letter_context(setup.language);
    if (setup.format == PictureFormat::pdf) {
        m_inside->sheets.emplace_back(
            cairo_pdf_surface_create_for_stream(append_bytes, &m_inside->bytes, setup.width, setup.height));
        write_pdf_facts(m_inside->sheets.back().get(), setup);
        m_inside->cairo.reset(cairo_create(m_inside->sheets.back().get()));
    } else {
        m_inside->start_recording();
    }
}
Canvas::Canvas(Canvas&&) noexcept = default;
Canvas& Canvas::operator=(Canvas&&) noexcept = default;
Canvas::~Canvas() = default;

double Canvas::width() const {
    return m_inside->setup.width;
}
double Canvas::height() const {
    return m_inside->setup.height;
}
int Canvas::pages() const {
    return m_inside->pages;
}

void Canvas::next_page() {
    cairo_t* c = m_inside->drawing();
    ++m_inside->pages;
    if (m_inside->setup.format == PictureFormat::pdf)
        cairo_show_page(c);
    else
        m_inside->start_recording();
}

void Canvas::line(std::span<const PagePoint> points, const Stroke& stroke) {
    cairo_t* c = m_inside->drawing();
    trace(c, points);
    paint_path(c, nullptr, &stroke);
}
void Canvas::line(PagePoint a, PagePoint b, const Stroke& stroke) {
    const PagePoint points[] = {a, b};
    line(points, stroke);
}
void Canvas::lines(std::span<const std::vector<PagePoint>> all, const Stroke& stroke) {
    cairo_t* c = m_inside->drawing();
    for (const auto& points : all)
        trace(c, points);
    paint_path(c, nullptr, &stroke);
}
void Canvas::polygon(std::span<const PagePoint> ring, const Fill* fill, const Stroke* stroke) {
    cairo_t* c = m_inside->drawing();
    trace(c, ring);
    cairo_close_path(c);
    paint_path(c, fill, stroke);
}
void Canvas::polygons(std::span<const std::vector<PagePoint>> rings, const Fill* fill, const Stroke* stroke) {
    cairo_t* c = m_inside->drawing();
    for (const auto& ring : rings) {
        if (ring.empty())
            continue;
        trace(c, ring);
        cairo_close_path(c);
    }
    paint_path(c, fill, stroke);
}
void Canvas::rectangle(const PageBox& box, const Fill* fill, const Stroke* stroke, double corner_radius) {
    cairo_t* c = m_inside->drawing();
    trace_box(c, box, corner_radius);
    paint_path(c, fill, stroke);
}
void Canvas::circle(PagePoint centre, double radius, const Fill* fill, const Stroke* stroke) {
    cairo_t* c = m_inside->drawing();
    cairo_new_sub_path(c);
    cairo_arc(c, centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
    cairo_close_path(c);
    paint_path(c, fill, stroke);
}
void Canvas::arc(PagePoint centre, double radius, double from_deg, double to_deg, const Stroke& stroke) {
    cairo_t* c = m_inside->drawing();
    constexpr double rad = std::numbers::pi / 180;
    cairo_new_sub_path(c);
    cairo_arc(c, centre.x, centre.y, radius, from_deg * rad, to_deg * rad);
    paint_path(c, nullptr, &stroke);
}

void Canvas::qr_code(const PageBox& box, std::string_view content) {
    const std::string text(content);
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), QRcode_free);
    if (!code)
        throw Error(ErrorKind::limit, "a text does not fit into a QR code", "shorten it");
    // The standard asks for four modules of white on each side.
    constexpr int quiet = 4;
    cairo_t* c = m_inside->drawing();
    const double module = std::min(box.width, box.height) / (code->width + 2 * quiet);
    const double left = box.centre().x - module * code->width / 2;
    const double top = box.centre().y - module * code->width / 2;
    const Fill white{white_ink};
    rectangle(box, &white, nullptr);
    const auto dark = [&](int row, int column) { return (code->data[row * code->width + column] & 1) != 0; };
    // Runs of modules in one row are one shape: no hair lines between them.
    for (int row = 0; row < code->width; ++row)
        for (int from = 0; from < code->width; ++from) {
            int to = from;
            while (to < code->width && dark(row, to))
                ++to;
            if (to > from)
                cairo_rectangle(c, left + from * module, top + row * module, (to - from) * module, module);
            from = to;
        }
    const Fill black{black_ink};
    paint_path(c, &black, nullptr);
}

void Canvas::link(const PageBox& box, const std::string& uri) {
    if (m_inside->setup.format != PictureFormat::pdf)
        return;
    std::string quoted;
    for (const char ch : uri) {
        if (ch == '\'' || ch == '\\')
            quoted += '\\';
        quoted += ch;
    }
    cairo_t* c = m_inside->drawing();
    const std::string attributes = fmt::format("uri='{}' rect=[{:.2f} {:.2f} {:.2f} {:.2f}]", quoted, box.x,
                                               box.y, box.width, box.height);
    cairo_tag_begin(c, CAIRO_TAG_LINK, attributes.c_str());
    cairo_tag_end(c, CAIRO_TAG_LINK);
}

Canvas::Frame::Frame(Canvas& canvas) : m_canvas(canvas) {
    cairo_save(m_canvas.m_inside->drawing());
}
Canvas::Frame::~Frame() {
    if (m_canvas.m_inside->cairo)
        cairo_restore(m_canvas.m_inside->cairo.get());
}
void Canvas::move(double dx, double dy) {
    cairo_translate(m_inside->drawing(), dx, dy);
}
void Canvas::scale(double factor) {
    cairo_scale(m_inside->drawing(), factor, factor);
}
void Canvas::rotate(double deg) {
    cairo_rotate(m_inside->drawing(), deg * std::numbers::pi / 180);
}
void Canvas::clip(const PageBox& box) {
    cairo_t* c = m_inside->drawing();
    cairo_rectangle(c, box.x, box.y, box.width, box.height);
    cairo_clip(c);
}
void Canvas::clip(std::span<const PagePoint> ring) {
    cairo_t* c = m_inside->drawing();
    trace(c, ring);
    cairo_close_path(c);
    cairo_clip(c);
}

std::string Canvas::finish() {
    const cairo_status_t status = cairo_status(m_inside->drawing());
    if (status != CAIRO_STATUS_SUCCESS)
        throw Error(ErrorKind::internal, fmt::format("drawing failed: {}", cairo_status_to_string(status)));
    m_inside->cairo.reset();
    switch (m_inside->setup.format) {
        case PictureFormat::svg:
            return finished_svg(*m_inside);
        case PictureFormat::png:
            return finished_png(*m_inside);
        case PictureFormat::pdf:
            break;
    }
    return finished_pdf(*m_inside);
}

}  // namespace loamway
