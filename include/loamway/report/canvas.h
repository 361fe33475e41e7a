// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_CANVAS_H
#define LOAMWAY_REPORT_CANVAS_H

// One drawing surface behind every picture and every printed page: PDF, SVG and PNG from the same calls.
// All lengths are points (1/72 inch), x to the right, y down, from the page's upper left corner; a frame
// may change that. The same calls give the same bytes: nothing reads the clock, the locale or a random
// source. Text is shaped (any script the installed fonts hold), stays text in a PDF, and is cleaned of
// control characters and broken UTF-8 first. One canvas belongs to one thread; several may work side by side.

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/time.h"

namespace loamway {

struct PagePoint {
    double x = 0, y = 0;
};
struct PageBox {
    double x = 0, y = 0, width = 0, height = 0;
    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
    [[nodiscard]] PagePoint centre() const { return {x + width / 2, y + height / 2}; }
    [[nodiscard]] bool overlaps(const PageBox& o) const {
        return x < o.right() && o.x < right() && y < o.bottom() && o.y < bottom();
    }
    [[nodiscard]] bool contains(const PageBox& o) const {
        return o.x >= x && o.y >= y && o.right() <= right() && o.bottom() <= bottom();
    }
};

/// Paper sizes in points.
constexpr double a4_width = 595.28, a4_height = 841.89;
constexpr double letter_width = 612, letter_height = 792;
constexpr double points_per_mm = 72 / 25.4;

/// Red, green, blue and opacity, 0 to 1.
struct Ink {
    double red = 0, green = 0, blue = 0, alpha = 1;
    [[nodiscard]] static constexpr Ink grey(double level) { return {level, level, level, 1}; }
};
constexpr Ink black_ink{};
constexpr Ink white_ink{1, 1, 1, 1};

/// Patterns tell areas apart where colour cannot: on a black and white print, to a colour-blind eye.
enum class Pattern { solid, diagonal, back_diagonal, crossed, horizontal, vertical, dots, dashes };

struct Fill {
    Ink ink;
    Pattern pattern = Pattern::solid;
    double spacing = 4;           // between lines or dots
    double weight = 0.6;          // line width, or twice that a dot's diameter
    std::optional<Ink> ground{};  // under a pattern; nothing: what is there shines through
};

struct Stroke {
    Ink ink;
    double width = 1;
    std::vector<double> dash{};  // lengths drawn and left out in turn; empty: a full line
    bool round = true;           // ends and corners
};

enum class Align { left, centre, right };
enum class Rise { top, middle, baseline, bottom };  // which height of the text the given point is

struct Lettering {
    double size = 9;
    bool bold = false;
    bool italic = false;
    bool fixed_width = false;
    Ink ink{};
    Align align = Align::left;  // the point given is the left end, the middle or the right end
    Rise rise = Rise::top;
    double width = 0;       // > 0: wrapped at words to lines of this width
    int most_lines = 0;     // > 0: what does not fit ends with an ellipsis (one line needs a width too)
    double halo = 0;        // > 0: a white edge of this width around the letters
    double line_gap = 1.0;  // line distance, as a factor
};

struct TextExtent {
    double width = 0, height = 0;
    double baseline = 0;  // of the first line, from the top
    int lines = 0;
    bool cut = false;  // an ellipsis was needed
};

enum class PictureFormat { pdf, svg, png };

struct CanvasSetup {
    PictureFormat format = PictureFormat::pdf;
    double width = a4_width, height = a4_height;
    std::string title;
    std::string subject;
    std::string language = "en";  // BCP 47
    std::optional<Instant> date;  // the document's date; nothing: 1970-01-01, never the clock
    double dots_per_inch = 150;   // of a PNG
};

class Canvas {
public:
    /// Throws an io Error when no font is installed, limit for a page no picture can hold.
    explicit Canvas(const CanvasSetup& setup);
    Canvas(Canvas&&) noexcept;
    Canvas& operator=(Canvas&&) noexcept;
    ~Canvas();

    [[nodiscard]] double width() const;
    [[nodiscard]] double height() const;

    /// Goes on on a new page. An SVG or PNG, which has no pages, shows them one below the other.
    void next_page();
    [[nodiscard]] int pages() const;

    void line(std::span<const PagePoint> points, const Stroke& stroke);
    void line(PagePoint a, PagePoint b, const Stroke& stroke);
    /// Many lines as one shape: smaller files, and no darker where see-through ones cross.
    void lines(std::span<const std::vector<PagePoint>> all, const Stroke& stroke);
    void polygon(std::span<const PagePoint> ring, const Fill* fill, const Stroke* stroke);
    /// Rings of one area; holes by the even-odd rule.
    void polygons(std::span<const std::vector<PagePoint>> rings, const Fill* fill, const Stroke* stroke);
    void rectangle(const PageBox& box, const Fill* fill, const Stroke* stroke, double corner_radius = 0);
    void circle(PagePoint centre, double radius, const Fill* fill, const Stroke* stroke);
    /// Angles in degrees, clockwise from the x axis.
    void arc(PagePoint centre, double radius, double from_deg, double to_deg, const Stroke& stroke);

    [[nodiscard]] TextExtent measure(std::string_view text, const Lettering& lettering) const;
    TextExtent text(PagePoint at, std::string_view text, const Lettering& lettering);

    /// A QR code with its quiet zone, as large as fits the box. Drawn as shapes, sharp at any size.
    void qr_code(const PageBox& box, std::string_view content);
    /// In a PDF the box opens `uri`.
    void link(const PageBox& box, const std::string& uri);

    /// State between construction and end of life: transformations and clips made in between are undone.
    class Frame {
    public:
        explicit Frame(Canvas& canvas);
        Frame(const Frame&) = delete;
        Frame& operator=(const Frame&) = delete;
        ~Frame();

    private:
        Canvas& m_canvas;
    };
    void move(double dx, double dy);
    void scale(double factor);
    void rotate(double deg);  // clockwise
    void clip(const PageBox& box);
    void clip(std::span<const PagePoint> ring);

    /// The file's bytes. Nothing can be drawn afterwards.
    [[nodiscard]] std::string finish();

    struct Inside;  // the drawing library's things

private:
    std::unique_ptr<Inside> m_inside;
};

}  // namespace loamway

#endif
