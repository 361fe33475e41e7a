// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_DIMENSIONS_H
#define LOAMWAY_SRC_REPORT_DIMENSIONS_H

// Drawings to scale with dimensions: metres on the thing, points on the page.

#include <string>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/report/canvas.h"

namespace loamway {

/// A view of something: its origin on the page and how many points a metre takes; y up on the thing.
class ScaledView {
public:
    ScaledView(Canvas& canvas, PagePoint origin, double points_per_metre)
        : m_canvas(canvas), m_origin(origin), m_scale(points_per_metre) {}
    ScaledView(const ScaledView&) = delete;
    ScaledView& operator=(const ScaledView&) = delete;
    ~ScaledView() = default;

    [[nodiscard]] double x(Length l) const { return m_origin.x + l.metres() * m_scale; }
    [[nodiscard]] double y(Length up) const { return m_origin.y - up.metres() * m_scale; }
    [[nodiscard]] PagePoint at(Length along, Length up) const { return {x(along), y(up)}; }
    [[nodiscard]] PagePoint at(double along_m, double up_m) const {
        return at(Length::from_metres(along_m), Length::from_metres(up_m));
    }
    [[nodiscard]] double size(Length l) const { return l.metres() * m_scale; }
    [[nodiscard]] Canvas& canvas() const { return m_canvas; }

    void box(double from_m, double to_m, double low_m, double high_m, const Fill* fill, const Stroke* stroke,
             double radius_m = 0) const;
    void wheel(double at_m, double radius_m) const;
    /// Quartered circle: the sign for a centre of mass.
    void centre_of_mass(double along_m, double up_m) const;

    /// Dimension between two points of the thing, drawn at a height of the page; thin lines lead to it.
    void across(Length from, Length to, double page_y, Length lead_from, const std::string& text,
                bool bold = false) const;
    /// The same upright, at an x of the page.
    void upright(Length low, Length high, double page_x, Length lead_from, const std::string& text,
                 bool bold = false) const;
    /// A word on the drawing; `letters.rise` and `align` say which point of it `at` is.
    void word(PagePoint at, const std::string& text, const Lettering& letters) const;
    /// Words go on last, on white, so that no line runs through them. To be called once, at the end.
    void write_words() const;

private:
    struct Word {
        PagePoint at;
        std::string text;
        Lettering letters;
        bool upright = false;
    };
    Canvas& m_canvas;
    PagePoint m_origin;
    double m_scale;
    mutable std::vector<Word> m_words;
};

const Stroke thin_line{black_ink, 0.4, {}, true};
const Stroke plain_line{black_ink, 0.8, {}, true};
const Stroke heavy_line{black_ink, 1.6, {}, true};
const Stroke dashed_line{black_ink, 0.6, {3, 2}, true};

}  // namespace loamway

#endif
