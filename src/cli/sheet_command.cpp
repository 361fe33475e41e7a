// SPDX-License-Identifier: Apache-2.0
// loamway sheet: what is printed, or sent to a phone, from one plan or a day's plans
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <memory>
#include <optional>

#include "command.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/desk/loading.h"
#include "loamway/report/pictures.h"
#include "loamway/report/sheet.h"
#include "loamway/report/sheet_html.h"
#include "loamway/report/text_report.h"
#include "move_request.h"
#include "plan_files.h"

namespace loamway {

namespace {

struct SheetFlags {
    std::vector<std::string> plans;
    std::string output, option, region, picture, reader = "cab", move;
};

/// The pages of a low-bed's or an escort's sheet.
struct Extra {
    SheetReader reader = SheetReader::cab;
    std::optional<LoadingPlan> loading;
};

std::string as_text(std::span<const Plan> plans, const SheetFlags& f, const Region*, const Extra&) {
    std::string out;
    for (const Plan& plan : plans)
        out += sheet_text(plan, f.option);
    return out;
}

template <PictureFormat format>
std::string as_picture(std::span<const Plan> plans, const SheetFlags& f, const Region* region,
                       const Extra& extra) {
    const SheetSetup setup{.format = format,
                           .option = f.option,
                           .region = region,
                           .reader = extra.reader,
                           .loading = extra.loading ? &*extra.loading : nullptr};
    return plans.size() == 1 ? draw_sheet(plans.front(), setup) : draw_day_sheets(plans, setup);
}

std::string as_html(std::span<const Plan> plans, const SheetFlags& f, const Region* region, const Extra&) {
    return sheet_html(plans, {.option = f.option, .region = region});
}

using MakeSheet = std::string (*)(std::span<const Plan>, const SheetFlags&, const Region*, const Extra&);
constexpr std::array<std::pair<std::string_view, MakeSheet>, 5> formats{
    {{"pdf", as_picture<PictureFormat::pdf>},
     {"svg", as_picture<PictureFormat::svg>},
     {"png", as_picture<PictureFormat::png>},
     {"html", as_html},
     {"txt", as_text}}};

using DrawPicture = std::string (*)(const Plan&, PictureFormat);
constexpr std::array<std::pair<std::string_view, DrawPicture>, 3> pictures{
    {{"choices", draw_choices}, {"cost", draw_costs}, {"break-even", draw_break_even}}};
constexpr std::array<std::pair<std::string_view, PictureFormat>, 3> picture_formats{
    {{"pdf", PictureFormat::pdf}, {"svg", PictureFormat::svg}, {"png", PictureFormat::png}}};

/// One of the pictures of a plan as a whole.
int write_picture(const SheetFlags& f) {
    DrawPicture draw = nullptr;
    for (const auto& [name, function] : pictures)
        if (name == f.picture)
            draw = function;
    if (draw == nullptr)
        throw Error(ErrorKind::input, fmt::format("--picture \"{}\" is not there", printable(f.picture)),
                    "choices, cost or break-even");
    if (f.plans.size() != 1 || !f.option.empty() || !f.region.empty())
        throw Error(ErrorKind::input, "--picture shows all options of one plan",
                    "give one plan, without --option and --region");
    const PictureFormat format = format_for(picture_formats, f.output);
    require_plan_apart(f.plans.front(), f.output);
    require_writable(f.output);
    const Plan plan = read_plan(f.plans.front());
    try {
        write_file(f.output, draw(plan, format));
    } catch (const Error& e) {
        throw in_file(e, f.plans.front());
    }
    return 0;
}

Extra extra_of(const SheetFlags& f) {
    constexpr std::array<std::pair<std::string_view, SheetReader>, 3> readers{
        {{"cab", SheetReader::cab}, {"low-bed", SheetReader::low_bed}, {"escort", SheetReader::escort}}};
    Extra out;
    const auto* found =
        std::find_if(readers.begin(), readers.end(), [&](const auto& r) { return r.first == f.reader; });
    if (found == readers.end())
        throw Error(ErrorKind::input, fmt::format("--for \"{}\" is not there", printable(f.reader)),
                    "cab, low-bed or escort");
    out.reader = found->second;
    const std::string ending = extension_of(f.output);
    if (out.reader != SheetReader::cab && (f.output == "-" || ending == "txt" || ending == "html"))
        throw Error(ErrorKind::input, fmt::format("a sheet for {} is drawn", f.reader),
                    "name a .pdf, .svg or .png file");
    if (f.move.empty())
        return out;
    if (out.reader != SheetReader::low_bed || f.plans.size() != 1)
        throw Error(ErrorKind::input, "--move gives the loading drawing of one low-bed's sheet",
                    "give one plan and --for low-bed");
    return out;
}

/// Sizes and steps of another machine or low-bed would mislead whoever loads.
void require_same_load(const LoadingPlan& loading, const Plan& plan, const std::string& move) {
    const auto differ = [&move](const char* what, const std::string& ours, const std::string& theirs) {
        throw Error(ErrorKind::input,
                    fmt::format("the plan was made with {} \"{}\", this move has \"{}\"", what,
                                printable(theirs), printable(ours)),
                    "name the move that the plan was made of", {move, {}, {}});
    };
    if (loading.machine.name != plan.move.machine)
        differ("machine", loading.machine.name, plan.move.machine);
    if (loading.state.name != plan.move.state)
        differ("working state", loading.state.name, plan.move.state);
    for (const MoveField& field : plan.move.fields)
        if (field.key == "trailer" && !field.value.starts_with(loading.low_bed.name + ", "))
            differ("low-bed", loading.low_bed.name, field.value);
}

/// The drawing speaks the plan's units, whatever the move says; limits are those of the region named here.
LoadingPlan loading_of(const SheetFlags& f, const Plan& plan) {
    MoveRequest move = move_request(f.move, {});
    move.units = plan.units;
    if (!f.region.empty())
        move.region = f.region;
    LoadingPlan loading = make_loading_plan(prepare_loading(move, std::nullopt));
    require_same_load(loading, plan, f.move);
    return loading;
}

int write_sheet(const SheetFlags& f) {
    // Text is what a pipe gets: the only form a terminal can show.
    const MakeSheet make = f.output == "-" ? as_text : format_for(formats, f.output);
    for (const std::string& plan : f.plans)
        require_plan_apart(plan, f.output);
    require_writable(f.output);
    require_apart({f.region, f.move}, f.output, "what the sheet is made from");
    Extra extra = extra_of(f);
    std::optional<Region> region;
    if (!f.region.empty())
        region = Region::open(f.region);
    std::vector<Plan> plans;
    for (const std::string& plan : f.plans)
        plans.push_back(read_plan(plan));
    if (!f.move.empty())
        extra.loading = loading_of(f, plans.front());
    try {
        write_file(f.output, make(plans, f, region ? &*region : nullptr, extra));
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
                    "file to write: .pdf, .svg, .png, .html or .txt (- for text on standard output)")
        ->required()
        ->type_name("FILE.pdf");
    sub->add_option("--region", flags->region, "the plan's region, for roads, water and names on the map")
        ->type_name("FILE");
    sub->add_option("--option", flags->option, "which option, by its id (the verdict's)")->type_name("ID");
    sub->add_option("--for", flags->reader, "who reads it: cab, low-bed or escort (cab)")->type_name("WORD");
    sub->add_option("--move", flags->move,
                    "with --for low-bed: the plan's move, for sizes, steps and loading drawing")
        ->type_name("MOVE.toml");
    sub->add_option("--picture", flags->picture,
                    "instead of the sheet: choices (length against paved length), cost or break-even")
        ->type_name("WORD");
    sub->callback([flags, &chosen] {
        chosen.work = [flags] {
            return flags->picture.empty() ? write_sheet(*flags) : write_picture(*flags);
        };
    });
}

}  // namespace loamway
