// SPDX-License-Identifier: Apache-2.0
// Text on a canvas.
#include <cairo/cairo.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <string>

#include "canvas_inside.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

// The first that is installed; what it lacks comes from any other font there is.
constexpr const char* letters_family = "DejaVu Sans, Noto Sans, Liberation Sans, sans-serif";
constexpr const char* fixed_family = "DejaVu Sans Mono, Noto Sans Mono, Liberation Mono, monospace";

void release_layout(PangoLayout* l) {
    g_object_unref(l);
}
using LayoutHandle = std::unique_ptr<PangoLayout, Releaser<PangoLayout, release_layout>>;

/// Line ends stay, everything else that could disturb goes.
std::string clean(std::string_view text) {
    std::string out;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t end = std::min(text.find('\n', from), text.size());
        out += printable(text.substr(from, end - from));
        if (end < text.size())
            out += '\n';
        from = end + 1;
    }
    return out;
}

int in_units(double points) {
    return pango_units_from_double(points);
}

void set_font(PangoLayout* layout, const Lettering& l) {
    PangoFontDescription* font =
        pango_font_description_from_string(l.fixed_width ? fixed_family : letters_family);
    pango_font_description_set_absolute_size(font, l.size * PANGO_SCALE);
    pango_font_description_set_weight(font, l.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(font, l.italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

LayoutHandle lay_out(PangoContext* context, const std::string& text, const Lettering& l) {
    LayoutHandle layout(pango_layout_new(context));
    set_font(layout.get(), l);
    // Lines run from left to right whatever a name is written in: columns stay where they are.
    pango_layout_set_auto_dir(layout.get(), FALSE);
    pango_layout_set_alignment(layout.get(), l.align == Align::left     ? PANGO_ALIGN_LEFT
                                             : l.align == Align::centre ? PANGO_ALIGN_CENTER
                                                                        : PANGO_ALIGN_RIGHT);
    if (l.width > 0) {
        pango_layout_set_width(layout.get(), in_units(l.width));
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
        if (l.most_lines > 0) {
            pango_layout_set_height(layout.get(), -l.most_lines);
            pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
        }
    }
    if (l.line_gap != 1.0)
        pango_layout_set_line_spacing(layout.get(), static_cast<float>(l.line_gap));
    // One glyph for two letters would make words that nobody finds in a PDF.
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("liga=0, clig=0, dlig=0"));
    pango_layout_set_attributes(layout.get(), attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return layout;
}

TextExtent extent_of(PangoLayout* layout) {
    PangoRectangle box;
    pango_layout_get_extents(layout, nullptr, &box);
    TextExtent out;
    out.width = pango_units_to_double(box.width);
    out.height = pango_units_to_double(box.height);
    out.baseline = pango_units_to_double(pango_layout_get_baseline(layout));
    out.lines = pango_layout_get_line_count(layout);
    out.cut = pango_layout_is_ellipsized(layout) != FALSE;
    return out;
}

PagePoint corner(PagePoint at, const TextExtent& e, const Lettering& l) {
    const double width = l.width > 0 ? l.width : e.width;
    const double left = l.align == Align::left ? 0 : l.align == Align::centre ? width / 2 : width;
    const double up = l.rise == Rise::top        ? 0
                      : l.rise == Rise::middle   ? e.height / 2
                      : l.rise == Rise::baseline ? e.baseline
                                                 : e.height;
    return {at.x - left, at.y - up};
}

}  // namespace

void release_context(_PangoContext* c) {
    g_object_unref(c);
}

ContextHandle make_letter_context(const std::string& language) {
    PangoFontMap* fonts = pango_cairo_font_map_get_default();  // one a thread, kept
    PangoFontFamily** families = nullptr;
    int count = 0;
    pango_font_map_list_families(fonts, &families, &count);
    g_free(families);
    if (count == 0)
        throw Error(ErrorKind::io, "no font is installed, so nothing can be written on a picture",
                    "install a font, for example the package fonts-dejavu-core");
    ContextHandle context(pango_font_map_create_context(fonts));
    // Widths must not depend on a screen: no hinting, positions in fractions, one point one unit.
    pango_cairo_context_set_resolution(context.get(), 72);
    pango_context_set_round_glyph_positions(context.get(), FALSE);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context.get(), options);
    cairo_font_options_destroy(options);
    pango_context_set_language(context.get(), pango_language_from_string(language.c_str()));
    return context;
}

TextExtent Canvas::measure(std::string_view text, const Lettering& lettering) const {
    return extent_of(lay_out(m_inside->letters.get(), clean(text), lettering).get());
}

TextExtent Canvas::text(PagePoint at, std::string_view text, const Lettering& lettering) {
    cairo_t* c = m_inside->drawing();
    pango_cairo_update_context(c, m_inside->letters.get());
    const std::string cleaned = clean(text);
    const LayoutHandle layout = lay_out(m_inside->letters.get(), cleaned, lettering);
    const TextExtent extent = extent_of(layout.get());
    const PagePoint from = corner(at, extent, lettering);
    if (lettering.halo > 0) {
        cairo_move_to(c, from.x, from.y);
        pango_cairo_layout_path(c, layout.get());
        cairo_set_source_rgb(c, 1, 1, 1);
        cairo_set_line_width(c, 2 * lettering.halo);
        cairo_set_line_join(c, CAIRO_LINE_JOIN_ROUND);
        cairo_set_dash(c, nullptr, 0, 0);
        cairo_stroke(c);
    }
    cairo_set_source_rgba(c, lettering.ink.red, lettering.ink.green, lettering.ink.blue, lettering.ink.alpha);
    cairo_move_to(c, from.x, from.y);
    pango_cairo_show_layout(c, layout.get());
    cairo_new_path(c);
    m_inside->words += cleaned;
    m_inside->words += '\n';
    return extent;
}

}  // namespace loamway
