// SPDX-License-Identifier: Apache-2.0
// loamway load: how a machine goes onto a low-bed
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/desk/loading.h"
#include "loamway/report/load_report.h"
#include "loamway/text/value.h"
#include "move_request.h"

namespace loamway {

namespace {

constexpr int nothing_can_be_done = 3;
constexpr std::size_t sheet_width = 80;

struct LoadFlags {
    std::string document;
    MoveRequest move;
    std::optional<std::string> limits;
    std::string output;
    bool json = false;
};

struct PictureEnding {
    std::string_view extension;
    PictureFormat format;
};
constexpr std::array<PictureEnding, 3> pictures{
    {{"pdf", PictureFormat::pdf}, {"svg", PictureFormat::svg}, {"png", PictureFormat::png}}};

std::optional<PictureFormat> picture_format(const std::string& path) {
    for (const PictureEnding& p : pictures)
        if (extension_of(path) == p.extension)
            return p.format;
    return std::nullopt;
}

void check_flags(const LoadFlags& f) {
    const auto from_pipe = [](const std::optional<std::string>& name) { return name == "-" ? 1 : 0; };
    if ((f.document == "-" ? 1 : 0) + from_pipe(f.move.machine) + from_pipe(f.move.low_bed) +
            from_pipe(f.limits) >
        1)
        throw Error(ErrorKind::input, "standard input is named twice", "give files");
    if (f.output.empty() || f.output == "-")
        return;
    const std::string extension = extension_of(f.output);
    if (!picture_format(f.output) && extension != "txt" && extension != "json")
        throw Error(ErrorKind::input,
                    extension.empty() ? std::string("the file name says no format")
                                      : fmt::format("the format .{} is not there", printable(extension)),
                    "there is .pdf, .svg, .png, .txt, .json", {f.output, {}, {}});
    require_apart({f.document, f.limits.value_or("")}, f.output, "what the loading plan is made from");
    require_writable(f.output);
}

int plan_loading(const LoadFlags& flags) {
    check_flags(flags);
    const MoveRequest request = move_request(flags.document, flags.move);
    require_apart(files_of(request), flags.output, "what the loading plan is made from");
    const LoadingInputs inputs = prepare_loading(request, flags.limits);
    const LoadingPlan plan = make_loading_plan(inputs);
    const auto json = [&plan] { return to_json(loading_plan_to_json(plan), 1) + "\n"; };
    if (!flags.output.empty() && flags.output != "-") {
        if (const auto format = picture_format(flags.output))
            write_file(flags.output, load_picture(plan, *format));
        else
            write_file(flags.output, extension_of(flags.output) == "json"
                                         ? json()
                                         : load_text(plan, TextStyle{false, sheet_width}));
    }
    print(flags.json ? json() : load_text(plan, TextStyle{output_has_colour()}));
    return plan.can_be_done() ? 0 : nothing_can_be_done;
}

}  // namespace

void add_load_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("load", "loading plan: how a machine goes onto a low-bed");
    auto flags = std::make_shared<LoadFlags>();
    sub->add_option("move", flags->document, "move document (TOML or JSON); flags win over it")
        ->type_name("MOVE.toml");
    const auto text = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    text("--machine", flags->move.machine, "machine profile, or a machine of the ledger", "FILE|NAME");
    text("--ledger", flags->move.ledger, "ledger that knows the machine by its name", "FILE|URL");
    text("--state", flags->move.state, "working state of the machine (its first one)", "NAME");
    text("--trailer", flags->move.low_bed, "low-bed profile (an assumed one)", "FILE");
    text("--ground", flags->move.ground,
         "dry, dusty, moist, wet or frozen: what boards and belts are like (dry)", "WORD");
    text("--region", flags->move.region, "region file: its recipe and limits", "FILE");
    text("--limits", flags->limits, "table of limits, as in regions/limits (the region's)", "FILE");
    text("--units", flags->move.units, "metric or imperial, for sentences and drawing (the region's)",
         "WORD");
    sub->add_option("-o,--output", flags->output, "file to write: .pdf, .svg, .png, .txt or .json")
        ->type_name("FILE");
    sub->add_flag("--json", flags->json, "print JSON instead of text");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return plan_loading(*flags); }; });
}

}  // namespace loamway
