// SPDX-License-Identifier: Apache-2.0
// Time to draw the sheet of a plan as PDF, PNG and SVG, from the plan in memory, and the pictures:
//   report_bench [--cpu] PLAN.json REGION        --cpu: processor time, for a machine that does other work
//   too
// Medians of 15 drawings; the first one, which loads fonts, is not among them and stands beside.
#include <fmt/format.h>

#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "bench/stopwatch.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/report/pictures.h"
#include "loamway/report/sheet.h"
#include "loamway/report/sheet_html.h"

namespace loamway {
namespace {

constexpr int repetitions = 15;
constexpr std::size_t largest_plan = std::size_t{1} << 28;

void row(const std::string& name, const std::function<std::string()>& draw) {
    std::vector<double> ms;
    std::size_t bytes = 0;
    for (int i = 0; i <= repetitions; ++i) {
        ms.push_back(1000 * bench::seconds([&] { bytes = draw().size(); }));
    }
    const double first = ms.front();
    ms.erase(ms.begin());
    fmt::print("| {} | {:.0f} ms | {:.0f} ms | {:.0f} kB |\n", name, bench::median(ms), first,
               static_cast<double>(bytes) / 1024);
}

void run(const std::string& plan_file, const std::string& region_file) {
    const Plan plan =
        plan_from_json(parse_json(read_text_file(plan_file, largest_plan), plan_file), plan_file);
    const Region region = Region::open(region_file);
    fmt::print("| drawing | median | first | size |\n|---|---|---|---|\n");
    const auto sheet = [&](PictureFormat format, SheetReader reader) {
        return [&plan, &region, format, reader] {
            return draw_sheet(plan, {.format = format, .option = "", .region = &region, .reader = reader});
        };
    };
    row("sheet, PDF", sheet(PictureFormat::pdf, SheetReader::cab));
    row("sheet, PNG at 150 dots an inch", sheet(PictureFormat::png, SheetReader::cab));
    row("sheet, SVG", sheet(PictureFormat::svg, SheetReader::cab));
    row("sheet, HTML", [&] { return sheet_html({&plan, 1}, {.option = "", .region = &region}); });
    row("escort copy, PDF", sheet(PictureFormat::pdf, SheetReader::escort));
    row("costs, SVG", [&] { return draw_costs(plan, PictureFormat::svg); });
    row("break-even, SVG", [&] { return draw_break_even(plan, PictureFormat::svg); });
}

}  // namespace
}  // namespace loamway

int main(int argc, char** argv) {
    const bool cpu = argc > 1 && std::string(argv[1]) == "--cpu";
    if (argc != (cpu ? 4 : 3)) {
        std::fputs("usage: report_bench [--cpu] PLAN.json REGION\n", stderr);
        return 2;
    }
    loamway::bench::count_processor_time = cpu;
    try {
        loamway::run(argv[argc - 2], argv[argc - 1]);
    } catch (const loamway::Error& e) {
        std::fprintf(stderr, "report_bench: %s\n", e.what());
        return 1;
    }
    return 0;
}
