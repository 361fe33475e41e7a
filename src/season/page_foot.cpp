// SPDX-License-Identifier: Apache-2.0
#include "page_foot.h"

#include <fmt/format.h>

#include "loamway/base/version.h"

namespace loamway {

void draw_page_foot(Canvas& canvas, const PageFoot& foot, int page) {
    const double y = a4_height - foot.height, inner = a4_width - 2 * foot.margin;
    canvas.line({foot.margin, y - 4}, {foot.margin + inner, y - 4}, Stroke{foot.rule, 0.5});
    Lettering l;
    l.size = 7;
    l.ink = foot.letters;
    Lettering number = l;
    number.align = Align::right;
    canvas.text({foot.margin + inner, y}, fmt::format("page {}", page), number);
    l.width = inner - 60;
    double below = y;
    if (!foot.words.empty())
        below += canvas.text({foot.margin, y}, foot.words, l).height + 2;
    l.most_lines = 2;
    canvas.text({foot.margin, below},
                fmt::format("Map {}{}. {}. loamway {}", foot.region_name,
                            foot.map_date.empty() ? "" : " of " + foot.map_date.substr(0, 10),
                            foot.attribution, program_version()),
                l);
}

}  // namespace loamway
