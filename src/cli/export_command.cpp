// SPDX-License-Identifier: Apache-2.0
// loamway export: tracks and stops for navigators and map programs, from a plan
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <memory>

#include "command.h"
#include "loamway/base/file.h"
#include "loamway/exchange/tracks.h"
#include "plan_files.h"

namespace loamway {

namespace {

struct ExportFlags {
    std::string plan, output, option;
};

using Make = std::string (*)(const Plan&, const std::string& option);
constexpr std::array<std::pair<std::string_view, Make>, 5> formats{{{"gpx", to_gpx},
                                                                    {"geojson", to_geojson},
                                                                    {"gpkg", to_geopackage},
                                                                    {"kml", to_kml},
                                                                    {"csv", to_stops_csv}}};

int write_export(const ExportFlags& f) {
    const Make make = format_for(formats, f.output);
    require_plan_apart(f.plan, f.output);
    require_writable(f.output);
    const Plan plan = read_plan(f.plan);
    try {
        write_file(f.output, make(plan, f.option));
    } catch (const Error& e) {
        throw in_file(e, f.plan);
    }
    return 0;
}

}  // namespace

void add_export_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("export", "track for a navigator or map program, from a plan");
    auto flags = std::make_shared<ExportFlags>();
    sub->add_option("plan", flags->plan, "plan made by loamway plan (- for standard input)")
        ->required()
        ->type_name("PLAN.json");
    sub->add_option("-o,--output", flags->output,
                    "file to write: .gpx, .geojson, .gpkg, .kml or .csv (stops)")
        ->required()
        ->type_name("FILE.gpx");
    sub->add_option("--option", flags->option, "which option, by its id (the verdict's)")->type_name("ID");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return write_export(*flags); }; });
}

}  // namespace loamway
