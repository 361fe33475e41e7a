// SPDX-License-Identifier: Apache-2.0
// loamway sheet: what is printed, or sent to a phone, from one plan or a day's plans
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <memory>
#include <optional>

#include "command.h"
#include "loamway/base/file.h"
#include "loamway/report/sheet.h"
#include "loamway/report/text_report.h"
#include "plan_files.h"

namespace loamway {

namespace {

struct SheetFlags {
    std::vector<std::string> plans;
    std::string output, option, region;
};

std::string as_text(std::span<const Plan> plans, const SheetFlags& f, const Region*) {
    std::string out;
    for (const Plan& plan : plans)
        out += sheet_text(plan, f.option);
    return out;
}

template <PictureFormat format>
std::string as_picture(std::span<const Plan> plans, const SheetFlags& f, const Region* region) {
    const SheetSetup setup{.format = format, .option = f.option, .region = region};
    return plans.size() == 1 ? draw_sheet(plans.front(), setup) : draw_day_sheets(plans, setup);
}

using MakeSheet = std::string (*)(std::span<const Plan>, const SheetFlags&, const Region*);
constexpr std::array<std::pair<std::string_view, MakeSheet>, 4> formats{
    {{"pdf", as_picture<PictureFormat::pdf>},
     {"svg", as_picture<PictureFormat::svg>},
     {"png", as_picture<PictureFormat::png>},
     {"txt", as_text}}};

int write_sheet(const SheetFlags& f) {
    // Text is what a pipe gets: the only form a terminal can show.
    const MakeSheet make = f.output == "-" ? as_text : format_for(formats, f.output);
    for (const std::string& plan : f.plans)
        require_plan_apart(plan, f.output);
    require_writable(f.output);
    std::optional<Region> region;
    if (!f.region.empty())
        region = Region::open(f.region);
    std::vector<Plan> plans;
    for (const std::string& plan : f.plans)
        plans.push_back(read_plan(plan));
    try {
        write_file(f.output, make(plans, f, region ? &*region : nullptr));
    } catch (const Error& e) {
        throw in_file(e, f.plans.size() == 1 ? f.plans.front() : std::string());
    }
    return 0;
}

}  // namespace

void add_sheet_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub =
        app.add_subcommand("sheet", "stop sheet for the cab, from a plan; several plans make a day's sheets");
    auto flags = std::make_shared<SheetFlags>();
    sub->add_option("plan", flags->plans, "plans made by loamway plan (- for standard input)")
        ->required()
        ->type_name("PLAN.json");
    sub->add_option("-o,--output", flags->output,
                    "file to write: .pdf, .svg, .png or .txt (- for text on standard output)")
        ->required()
        ->type_name("FILE.pdf");
    sub->add_option("--region", flags->region, "the plan's region, for roads, water and names on the map")
        ->type_name("FILE");
    sub->add_option("--option", flags->option, "which option, by its id (the verdict's)")->type_name("ID");
    sub->footer(
        "Examples:\n"
        "  loamway sheet plan.json --region county.region -o stops.pdf\n"
        "  loamway sheet morning.json noon.json evening.json --region county.region -o day.pdf");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return write_sheet(*flags); }; });
}

}  // namespace loamway
