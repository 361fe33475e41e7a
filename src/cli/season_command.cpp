// SPDX-License-Identifier: Apache-2.0
// loamway season: which machine does which job when, and how it gets there
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <filesystem>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/report/sheet.h"
#include "loamway/season/season.h"
#include "loamway/season/season_picture.h"
#include "loamway/text/document_kind.h"
#include "move_request.h"
#include "plan_files.h"

namespace loamway {

namespace {

constexpr std::size_t largest_list = std::size_t{4} << 20;
constexpr int something_cannot_be_done = 3;

struct SeasonFlags {
    std::string document, output, sheets, seconds, rounds, seed, threads;
    MoveRequest move;
    bool json = false, compare = false;
};

using MakeFile = std::string (*)(const Season&);
constexpr std::array<std::pair<std::string_view, MakeFile>, 5> outputs{{
    {"pdf", [](const Season& s) { return season_picture(s, PictureFormat::pdf); }},
    {"svg", [](const Season& s) { return season_picture(s, PictureFormat::svg); }},
    {"png", [](const Season& s) { return season_picture(s, PictureFormat::png); }},
    {"txt", season_text},
    {"json", [](const Season& s) { return to_json(season_to_json(s), 1) + "\n"; }},
}};

SeasonOptions options_of(const SeasonFlags& f) {
    SeasonOptions o;
    if (!f.rounds.empty())
        o.search.rounds = flag_count("--rounds", f.rounds, "a number of rounds");
    if (!f.seed.empty())
        o.search.seed = static_cast<std::uint64_t>(flag_whole("--seed", f.seed, 0, "a number"));
    if (!f.seconds.empty())
        o.search.time_limit = Duration::from_seconds(flag_number("--seconds", f.seconds, "s"));
    if (!f.threads.empty())
        o.threads = static_cast<unsigned>(flag_count("--threads", f.threads, "a number of threads"));
    o.compare = f.compare;
    return o;
}

/// A folder that is there, or one that can be made when there are sheets to put into it.
void require_sheets_folder(const std::string& folder) {
    std::error_code failed;
    if (std::filesystem::is_directory(folder, failed))
        return;
    if (std::filesystem::exists(folder, failed))
        throw Error(ErrorKind::input, "--sheets names a file", "name a folder", {folder, {}, {}});
    const std::filesystem::path named(folder);
    require_writable(named.has_filename() ? folder : named.parent_path().string());
}

void write_sheets(const Season& season, const Region& region, const std::string& folder) {
    std::error_code failed;
    std::filesystem::create_directory(folder, failed);
    if (failed)
        throw Error(ErrorKind::io, fmt::format("the folder cannot be made: {}", failed.message()), {},
                    {folder, {}, {}});
    for (const auto& [day, plans] : day_plans(season)) {
        const SheetSetup setup{.format = PictureFormat::pdf, .option = {}, .region = &region};
        const std::string path = (std::filesystem::path(folder) / (day + ".pdf")).string();
        write_file(path,
                   plans.size() == 1 ? draw_sheet(plans.front(), setup) : draw_day_sheets(plans, setup));
    }
}

int run_season(const SeasonFlags& flags) {
    const MakeFile make = flags.output.empty() ? nullptr : format_for(outputs, flags.output);
    SeasonOptions options = options_of(flags);
    if (make != nullptr) {
        require_apart({flags.document}, flags.output, "the season");
        require_writable(flags.output);
    }
    if (!flags.sheets.empty())
        require_sheets_folder(flags.sheets);
    const std::string text = read_text_file(flags.document, largest_list);
    const Value document = parse_document(text, flags.document, DocumentKind::season);
    SeasonList list = read_season(document, flags.document);
    list.move = merge(list.move, flags.move);
    require_apart(files_of(list.move), flags.output, "what the season is made from");
    KeptOpen kept;
    if (list.move.region)
        kept.region = std::make_shared<const Region>(Region::open(*list.move.region));
    Season season;
    {
        const Progress progress = progress_line();
        options.progress = [&](std::string_view step, double done) { progress(std::string(step), done); };
        season = make_season(list, now(), options, kept);
    }
    if (make != nullptr)
        write_file(flags.output, make(season));
    if (!flags.sheets.empty())
        write_sheets(season, *kept.region, flags.sheets);
    print(flags.json ? to_json(season_to_json(season), 1) + "\n" : season_text(season));
    return season.left_out.empty() ? 0 : something_cannot_be_done;
}

}  // namespace

void add_season_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub =
        app.add_subcommand("season", "which machine does which job when, each move driven, hauled or mixed");
    auto flags = std::make_shared<SeasonFlags>();
    sub->add_option("season", flags->document, "machines, low-beds and jobs (TOML or JSON)")
        ->required()
        ->type_name("SEASON.toml");
    const auto text = [sub](const char* name, std::optional<std::string>& to, const char* what,
                            const char* type) {
        sub->add_option_function<std::string>(
               name, [&to](const std::string& s) { to = s; }, what)
            ->type_name(type);
    };
    text("--region", flags->move.region, "region file (needed, here or in the season)", "FILE");
    text("--ledger", flags->move.ledger, "ledger that knows machines and belts by name", "FILE|URL");
    text("--rates", flags->move.rates, "wages, prices, times (stated defaults)", "FILE");
    text("--places", flags->move.places, "places and fields with names of your own", "FILE");
    text("--depart", flags->move.depart, "when the season begins, in the region's time zone (now)", "TIME");
    sub->add_option("-o,--output", flags->output,
                    "what to write: .pdf, .svg, .png (a picture), .txt or .json")
        ->type_name("FILE");
    sub->add_option("--sheets", flags->sheets, "folder for the sheets of each day's moves (PDF)")
        ->type_name("FOLDER");
    sub->add_flag("--compare", flags->compare, "say what fix and exclude cost");
    sub->add_option("--rounds", flags->rounds, "of the search, beyond a dozen jobs (20000)")->type_name("N");
    sub->add_option("--seconds", flags->seconds,
                    "the search ends after; then the answer depends on the machine's speed")
        ->type_name("S");
    sub->add_option("--seed", flags->seed, "of the search (1)")->type_name("N");
    sub->add_option("--threads", flags->threads, "at most so many (all); the answer is the same")
        ->type_name("N");
    sub->add_flag("--json", flags->json, "print JSON instead of text");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return run_season(*flags); }; });
}

}  // namespace loamway
