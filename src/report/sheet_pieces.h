// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_PIECES_H
#define LOAMWAY_SRC_REPORT_SHEET_PIECES_H

// What a sheet is put together from: lists that can be measured for a width, and cut between two entries when
// a page ends.

#include <memory>
#include <string>
#include <vector>

#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

class SheetPiece {
public:
    virtual ~SheetPiece() = default;
    [[nodiscard]] virtual std::size_t count() const = 0;
    /// Rather moved to the next page than cut.
    [[nodiscard]] virtual bool keep_whole() const = 0;
    /// Height of the entries [from, to) with the piece's title.
    [[nodiscard]] virtual double height(const Canvas& canvas, std::size_t from, std::size_t to,
                                        double width) const = 0;
    virtual void draw(Canvas& canvas, std::size_t from, std::size_t to, PagePoint at, double width) const = 0;
};

/// An entry of a list: a mark in the margin, and text.
struct ListEntry {
    enum class Mark { none, bullet, text, tick, warning };
    Mark mark = Mark::none;
    std::string label;  // of Mark::text: "13.7"; of Mark::warning: before the triangle
    std::string text;
    bool strong = false;
};
struct ListLook {
    double size = 7.5;
    double least_column = 170;  // as many columns as fit
    double label_width = 12;
    double gap = 1.8;   // between entries
    double closer = 0;  // taken off the blank rows around the title, at most 3
};
[[nodiscard]] std::unique_ptr<SheetPiece> list_piece(std::string title, std::vector<ListEntry> entries,
                                                     ListLook look);

/// The stops with room to write, and the arrival. `closer` as in ListLook.
[[nodiscard]] std::unique_ptr<SheetPiece> stops_piece(const SheetContent& content, double closer = 0);

}  // namespace loamway

#endif
