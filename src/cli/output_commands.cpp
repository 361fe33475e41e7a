// SPDX-License-Identifier: Apache-2.0
// loamway sheet, loamway export: files from a plan
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/exchange/tracks.h"
#include "loamway/plan/plan.h"
#include "loamway/report/text_report.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t largest_plan = std::size_t{256} << 20;

struct OutputFlags {
    std::string plan, output, option;
};

using Make = std::string (*)(const Plan&, const std::string& option);
struct Format {
    std::string_view extension;
    Make make;
};

constexpr std::array<Format, 1> sheets{{{"txt", sheet_text}}};
constexpr std::array<Format, 2> tracks{{{"gpx", to_gpx}, {"geojson", to_geojson}}};

template <std::size_t N>
Make format_for(const std::array<Format, N>& formats, const std::string& path) {
    const std::string extension = extension_of(path);
    std::string there;
    for (const Format& f : formats) {
        if (f.extension == extension)
            return f.make;
        there += fmt::format("{}.{}", there.empty() ? "" : ", ", f.extension);
    }
    throw Error(ErrorKind::input,
                extension.empty() ? std::string("the file name says no format")
                                  : fmt::format("the format .{} is not there", printable(extension)),
                fmt::format("there is {}", there), {path, {}, {}});
}

int write_output(const OutputFlags& flags, Make make) {
    require_readable(flags.plan);
    require_writable(flags.output);
    if (flags.plan == flags.output && flags.plan != "-")
        throw Error(ErrorKind::input, "this would overwrite the plan", "name another -o",
                    {flags.output, {}, {}});
    const Plan plan = plan_from_json(
        parse_json(read_text_file(flags.plan, largest_plan), flags.plan, {.bytes = largest_plan}),
        flags.plan);
    try {
        write_file(flags.output, make(plan, flags.option));
    } catch (const Error& e) {
        throw in_file(e, flags.plan);
    }
    return 0;
}

std::shared_ptr<OutputFlags> add_common(CLI::App* sub, const char* output_help, const char* output_type) {
    auto flags = std::make_shared<OutputFlags>();
    sub->add_option("plan", flags->plan, "plan made by loamway plan (- for standard input)")
        ->required()
        ->type_name("PLAN.json");
    sub->add_option("-o,--output", flags->output, output_help)->required()->type_name(output_type);
    sub->add_option("--option", flags->option, "which option, by its id (the verdict's)")->type_name("ID");
    return flags;
}

}  // namespace

void add_output_commands(CLI::App& app, Chosen& chosen) {
    CLI::App* sheet = app.add_subcommand("sheet", "stop sheet for the cab, from a plan");
    const auto sheet_flags = add_common(sheet, "file to write: .txt (- for standard output)", "FILE.txt");
    sheet->footer("Example: loamway sheet plan.json -o stops.txt");
    sheet->callback([sheet_flags, &chosen] {
        chosen.work = [sheet_flags] {
            // Text is what a pipe gets: the only form a terminal can show.
            const bool piped = sheet_flags->output == "-";
            return write_output(*sheet_flags, piped ? sheet_text : format_for(sheets, sheet_flags->output));
        };
    });
    CLI::App* track = app.add_subcommand("export", "track for a navigator or map program, from a plan");
    const auto track_flags = add_common(track, "file to write: .gpx or .geojson", "FILE.gpx");
    track->footer(
        "Examples:\n"
        "  loamway export plan.json -o track.gpx\n"
        "  loamway export plan.json --option haul -o haul.geojson");
    track->callback([track_flags, &chosen] {
        chosen.work = [track_flags] {
            return write_output(*track_flags, format_for(tracks, track_flags->output));
        };
    });
}

}  // namespace loamway
