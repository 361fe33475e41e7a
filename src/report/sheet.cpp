// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/sheet.h"

#include <fmt/format.h>

#include <algorithm>

#include "day_page.h"
#include "loamway/base/error.h"
#include "sheet_content.h"
#include "sheet_layout.h"

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

void require_its_region(const Plan& plan, const Region* region) {
    if (region != nullptr && !plan.region.digest.empty() && region->digest() != plan.region.digest)
        throw Error(ErrorKind::input,
                    fmt::format("the plan was made with another region ({}, map of {})", plan.region.name,
                                plan.region.map_date),
                    "name that region, or plan the move again with this one", {region->path(), {}, {}});
}

}  // namespace

std::string draw_sheet(const Plan& plan, const SheetSetup& setup) {
    require_its_region(plan, setup.region);
    const SheetContent content = sheet_content(plan, setup.option);
    Canvas canvas(canvas_setup(content, setup));
    draw_move_sheet(canvas, content, setup.region);
    return canvas.finish();
}

std::string draw_day_sheets(std::span<const Plan> plans, const SheetSetup& setup) {
    std::vector<SheetContent> moves;
    for (const Plan& plan : plans) {
        require_its_region(plan, setup.region);
        moves.push_back(sheet_content(plan, setup.option));
    }
    std::stable_sort(moves.begin(), moves.end(), [](const SheetContent& a, const SheetContent& b) {
        return a.option->depart.value_or(Instant{}) < b.option->depart.value_or(Instant{});
    });
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
