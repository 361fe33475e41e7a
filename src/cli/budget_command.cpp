// SPDX-License-Identifier: Apache-2.0
// loamway budget: what jobs will take out of belts and purse
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/season/budget.h"
#include "loamway/season/quote_sheet.h"
#include "loamway/text/document_kind.h"
#include "move_request.h"
#include "plan_files.h"

namespace loamway {

namespace {

constexpr std::size_t largest_list = std::size_t{4} << 20;
constexpr int something_cannot_be_done = 3;

struct BudgetFlags {
    std::string document, output;
    MoveRequest move;
    bool json = false;
};

using MakeFile = std::string (*)(const Budget&);
constexpr std::array<std::pair<std::string_view, MakeFile>, 6> outputs{{
    {"pdf", [](const Budget& b) { return quote_sheet(b, PictureFormat::pdf); }},
    {"svg", [](const Budget& b) { return quote_sheet(b, PictureFormat::svg); }},
    {"png", [](const Budget& b) { return quote_sheet(b, PictureFormat::png); }},
    {"csv", budget_csv},
    {"txt", budget_text},
    {"json", [](const Budget& b) { return to_json(budget_to_json(b), 1) + "\n"; }},
}};

int run_budget(const BudgetFlags& flags) {
    const MakeFile make = flags.output.empty() ? nullptr : format_for(outputs, flags.output);
    if (make != nullptr) {
        require_apart({flags.document}, flags.output, "the list of jobs");
        require_writable(flags.output);
    }
    const std::string text = read_text_file(flags.document, largest_list);
    const Value document = parse_document(text, flags.document, DocumentKind::jobs);
    JobList list = read_jobs(document, flags.document);
    list.move = merge(list.move, flags.move);
    require_apart(files_of(list.move), flags.output, "what the budget is made from");
    for (const WhatIf& w : list.what_ifs)
        require_apart(files_of(w.over), flags.output, "what the budget is made from");
    Budget budget;
    {
        const Progress progress = progress_line();
        budget = make_budget(list, now(), [&](double done) { progress("planning moves", done); });
    }
    if (make != nullptr)
        write_file(flags.output, make(budget));
    print(flags.json ? to_json(budget_to_json(budget), 1) + "\n" : budget_text(budget));
    return budget.not_done() == 0 ? 0 : something_cannot_be_done;
}

}  // namespace

void add_budget_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("budget", "what jobs take: belts, fuel, time, money, drive or haul");
    auto flags = std::make_shared<BudgetFlags>();
    sub->add_option("jobs", flags->document, "list of jobs (TOML or JSON)")
        ->required()
        ->type_name("JOBS.toml");
    const auto text = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    text("--region", flags->move.region, "region file (needed, here or in the list)", "FILE");
    text("--machine", flags->move.machine, "machine profile, or a machine of the ledger", "FILE|NAME");
    text("--belts", flags->move.belts, "new, run-in, washed, or a set of the ledger", "WORD");
    text("--ledger", flags->move.ledger, "ledger that knows machine and belts by name", "FILE|URL");
    text("--rates", flags->move.rates, "wages, prices, times (stated defaults)", "FILE");
    text("--places", flags->move.places, "places and fields with names of your own", "FILE");
    text("--depart", flags->move.depart, "when the first move leaves, in the region's time zone (now)",
         "TIME");
    sub->add_option("-o,--output", flags->output, "quote to write: .pdf, .svg, .png, .csv, .txt or .json")
        ->type_name("FILE");
    sub->add_flag("--json", flags->json, "print JSON instead of text");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run_budget(*flags); }; });
}

}  // namespace loamway
