// SPDX-License-Identifier: Apache-2.0
// loamway plan
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/desk/desk.h"
#include "loamway/plan/inputs.h"
#include "loamway/plan/plan.h"
#include "loamway/report/text_report.h"
#include "loamway/text/value.h"
#include "move_request.h"

namespace loamway {

namespace {

constexpr int nothing_can_be_done = 3;

struct PlanFlags {
    std::string document;
    MoveRequest move;  // names and words go straight into the request
    std::string air, since_lube, detour_cap, snap, modes, front_point, trials, seed, output;
    bool json = false;
};

void take_numbers(PlanFlags& f) {
    const auto number = [](std::optional<double>& to, const char* flag, const std::string& text,
                           std::string_view unit) {
        if (!text.empty())
            to = flag_number(flag, text, unit);
    };
    number(f.move.air_c, "--air", f.air, "degrees Celsius");
    number(f.move.since_lube_km, "--since-lube", f.since_lube, "kilometres");
    number(f.move.detour_cap, "--detour-cap", f.detour_cap, "a share, such as 0.6");
    number(f.move.snap_limit_km, "--snap", f.snap, "kilometres");
    if (!f.front_point.empty())
        f.move.front_point = flag_count("--front-point", f.front_point, "the number of a choice, from 1");
    if (!f.trials.empty())
        f.move.trials = flag_count("--trials", f.trials, "a number of trials, from 1");
    if (!f.seed.empty())
        f.move.seed = flag_whole("--seed", f.seed, 0, "a whole number from 0");
    if (!f.modes.empty())
        f.move.modes = flag_list("--modes", f.modes);
}

void check_flags(const PlanFlags& f) {
    const auto from_pipe = [](const std::optional<std::string>& name) { return name == "-" ? 1 : 0; };
    const int pipes = (f.document == "-" ? 1 : 0) + from_pipe(f.move.machine) + from_pipe(f.move.low_bed) +
                      from_pipe(f.move.rates) + from_pipe(f.move.places) + from_pipe(f.move.corrections);
    if (pipes > 1)
        throw Error(ErrorKind::input, "standard input is named twice", "give files");
    if (f.move.region == "-")
        throw Error(ErrorKind::input, "a region cannot come through a pipe", "name a file");
    if (f.output.empty())
        return;
    if (f.output != "-" && extension_of(f.output) != "json")
        throw Error(ErrorKind::input, "a plan is written as JSON",
                    "name a .json file; sheet and export make other files from it", {f.output, {}, {}});
    require_apart({f.document}, f.output, "the move");
    require_writable(f.output);
}

/// A departure long gone may be meant, or a slip of the pen: a word to people, no refusal and nothing in a
/// plan.
void remark_on_the_past(const PlanInputs& in, Instant at) {
    constexpr std::int64_t day_s = 86400;
    const std::int64_t ago_s = at.unix_seconds - in.depart.unix_seconds;
    if (ago_s <= day_s)
        return;
    const TimeZone zone(in.region->meta().time_zone);
    const std::int64_t days = ago_s / day_s;
    remark(fmt::format("the departure, {} {}, is {} day{} ago: corrections, sun and belts are those of then",
                       format_rfc3339(in.depart, zone).substr(0, 10), format_clock(in.depart, zone), days,
                       days == 1 ? "" : "s"));
}

int plan_move(PlanFlags& flags) {
    take_numbers(flags);
    check_flags(flags);
    const MoveRequest request = move_request(flags.document, flags.move);
    require_apart(files_of(request), flags.output, "what the plan is made from");
    const Instant at = now();
    const Prepared prepared = prepare(request, at);
    remark_on_the_past(prepared.inputs, at);
    const Plan plan = make_plan(prepared.inputs);
    const bool json_out = flags.json || flags.output == "-";
    const Value document = plan_to_json(plan);
    std::string json;
    if (json_out || !flags.output.empty())
        json = to_json(document, 1) + "\n";
    if (!flags.output.empty() && flags.output != "-")
        write_file(flags.output, json);
    // From the figures that a file keeps, so that the text says what sheets and the page say.
    print(json_out ? json : plan_text(plan_from_json(document, "plan"), TextStyle{output_has_colour()}));
    const bool any =
        std::any_of(plan.options.begin(), plan.options.end(), [](const Option& o) { return o.feasible; });
    return any ? 0 : nothing_can_be_done;
}

void add_move_options(CLI::App* sub, MoveRequest& m) {
    const auto text = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    text("--region", m.region, "region file (needed, here or in the move)", "FILE");
    text("--from", m.from, "start: LAT,LON in degrees, or a name", "PLACE");
    text("--to", m.to, "end: LAT,LON in degrees, or a name", "PLACE");
    text("--machine", m.machine, "machine profile, or a machine of the ledger", "FILE|NAME");
    text("--ledger", m.ledger, "ledger: machine and belts by their names, as they are at departure",
         "FILE|URL");
    text("--state", m.state, "working state of the machine (its first one)", "NAME");
    text("--belts", m.belts, "new, run-in, washed, or a set of the ledger (run-in; those on the machine)",
         "WORD");
    text("--depart", m.depart, "2026-07-14T14:00, in the region's time zone (now); with --when a day will do",
         "TIME");
    text("--when", m.when, "05:00-21:00: each hour side by side; without --depart the cheapest is planned",
         "H1-H2");
    text("--places", m.places,
         "places and fields with names of your own: GeoJSON, gpkg, shp, kml, gpx, fgb, csv", "FILE");
    text("--corrections", m.corrections, "corrections of the map (those beside the region)", "FILE");
    text("--trailer", m.low_bed, "low-bed profile (an assumed one)", "FILE");
    text("--rates", m.rates, "wages, prices, times (stated defaults)", "FILE");
    text("--basis", m.basis, "marginal: what this move costs today; full: a quote (the rates')", "WORD");
    text("--units", m.units, "metric or imperial, for the printed answer (the region's)", "WORD");
}

}  // namespace

void add_plan_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("plan", "plan one move: drive it or haul it, and how");
    auto flags = std::make_shared<PlanFlags>();
    sub->add_option("move", flags->document, "move document (TOML or JSON); flags win over it")
        ->type_name("MOVE.toml");
    add_move_options(sub, flags->move);
    sub->add_option("--air", flags->air, "air temperature, °C (20)")->type_name("C");
    sub->add_option("--since-lube", flags->since_lube, "km driven since the last powder (0)")
        ->type_name("KM");
    sub->add_option("--modes", flags->modes, "what to look at: drive,haul,mixed (all three)")
        ->type_name("LIST");
    sub->add_option("--detour-cap", flags->detour_cap,
                    "how much longer than the shortest way, as a share (0.6)")
        ->type_name("SHARE");
    sub->add_option("--snap", flags->snap, "how far a road may be from a point given, km (1)")
        ->type_name("KM");
    sub->add_option("--front-point", flags->front_point,
                    "plan this choice too, by its number in the list of choices")
        ->type_name("K");
    sub->add_option("--trials", flags->trials, "how often the options are priced with other inputs (1000)")
        ->type_name("N");
    sub->add_option("--seed", flags->seed,
                    "of what is drawn for the trials; the same gives the same plan (1)")
        ->type_name("N");
    sub->add_flag_function(
        "--return-trip", [flags](std::int64_t) { flags->move.return_trip = true; },
        "the machine comes home again: plan and price that too");
    sub->add_option("-o,--output", flags->output, "plan file to write (- for standard output)")
        ->type_name("PLAN.json");
    sub->add_flag("--json", flags->json, "print the plan as JSON instead of text");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return plan_move(*flags); }; });
}

}  // namespace loamway
