// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "day_page.h"
#include "load_views.h"
#include "sheet_content.h"
#include "sheet_layout.h"
#include "sheet_moves.h"

namespace loamway {

namespace {

CanvasSetup canvas_setup(const SheetContent& content, const SheetSetup& setup) {
    CanvasSetup out;
    out.format = setup.format;
    if (content.imperial) {
        out.width = letter_width;
        out.height = letter_height;
    }
    out.title = content.title;
    out.subject = content.sentence;
    out.date = content.option->depart;
    return out;
}

// The loading drawing lies across its page.
void add_loading_page(Canvas& canvas, const SheetSetup& setup) {
    if (setup.loading == nullptr || setup.reader != SheetReader::low_bed)
        return;
    canvas.next_page();
    const Canvas::Frame frame(canvas);
    canvas.move(canvas.width(), 0);
    canvas.rotate(90);
    canvas.scale(std::min(canvas.width() / a4_width, canvas.height() / a4_height));
    draw_load_page(canvas, *setup.loading);
}

}  // namespace

std::string draw_sheet(const Plan& plan, const SheetSetup& setup) {
    const std::vector<SheetContent> moves = day_moves({&plan, 1}, setup);
    const SheetContent& content = moves.front();
    Canvas canvas(canvas_setup(content, setup));
    draw_move_sheet(canvas, content, setup.region);
    add_loading_page(canvas, setup);
    return canvas.finish();
}

std::string draw_day_sheets(std::span<const Plan> plans, const SheetSetup& setup) {
    const std::vector<SheetContent> moves = day_moves(plans, setup);
    CanvasSetup paper = canvas_setup(moves.front(), setup);
    paper.title = day_title(moves);
    paper.subject = fmt::format("{} moves", moves.size());
    Canvas canvas(paper);
    draw_day_page(canvas, moves);
    for (const SheetContent& move : moves) {
        canvas.next_page();
        draw_move_sheet(canvas, move, setup.region);
    }
    return canvas.finish();
}

}  // namespace loamway
