// SPDX-License-Identifier: Apache-2.0
// loamway correct add | list | remove | check
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/names.h"
#include "loamway/desk/correction_book.h"
#include "loamway/graph/corrected_region.h"
#include "loamway/graph/correction_match.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr int needs_a_look = 3;

struct BookFlags {
    std::string region;
    std::optional<std::string> file;
    bool json = false;
    CorrectionWanted wanted;
    std::string way, id;

    [[nodiscard]] CorrectionBook book() const {
        require_readable(region);
        return {region, file};
    }
};

std::string_view when_word(const Validity& v, Instant at) {
    return v.holds_at(at) ? "now" : v.over_at(at) ? "over" : "later";
}

std::string length_words(Length l) {
    return l < Length::from_km(1) ? fmt::format("{:.0f} m", l.metres()) : fmt::format("{:.2f} km", l.km());
}

std::string where_words(const Correction& c) {
    const GeoPoint p = c.line.front();
    return c.is_point() ? fmt::format("at {:.5f},{:.5f}", p.lat(), p.lon())
                        : fmt::format("{} long, from {:.5f},{:.5f}", length_words(polyline_length(c.line)),
                                      p.lat(), p.lon());
}

/// " of Mill Lane"; nothing when its roads have no name, or several.
std::string road_words(const RegionView& region, const Correction& c) {
    std::string name;
    for (const EdgeId e : match_correction(region, c).edges) {
        const std::string here(region.string(region.edges[e.index()].name));
        if (!name.empty() && !here.empty() && name != here)
            return {};
        if (!here.empty())
            name = here;
    }
    return name.empty() ? name : " on " + name;
}

Value point_value(GeoPoint p) {
    return Value::Object{{"lat", p.lat_e7 / 1e7}, {"lon", p.lon_e7 / 1e7}};
}

// ---- add, remove

int add_correction(BookFlags& f) {
    if (!f.way.empty()) {
        const double way = flag_number("--way", f.way, "an OpenStreetMap way id");
        if (way < 1 || way > 1e15 || std::trunc(way) != way)
            throw Error(ErrorKind::input, fmt::format("--way \"{}\" is no way id", printable(f.way)));
        f.wanted.way = static_cast<std::int64_t>(way);
    }
    CorrectionBook book = f.book();
    const Region region = Region::open(f.region);
    const Instant at = now();
    const Correction added = book.add(f.wanted, region, at);
    print(fmt::format("{}: {}{}, {}, kept in {}\n", added.id, printable(words_for(added)),
                      printable(road_words(region.view(), added)), where_words(added),
                      printable(book.path())));
    const CorrectedRegion corrected(region, book.corrections(), at);
    for (const CorrectionConflict& c : corrected.conflicts())
        if (corrected.corrections()[c.winner].id == added.id ||
            corrected.corrections()[c.loser].id == added.id)
            print(fmt::format("  {}\n", printable(c.text)));
    return 0;
}

int remove_correction(const BookFlags& f) {
    CorrectionBook book = f.book();
    book.remove(f.id);
    print(fmt::format("{} removed from {}\n", printable(f.id), printable(book.path())));
    return 0;
}

// ---- list

Value list_json(const CorrectionBook& book, const TimeZone& zone, Instant at) {
    Value::Array all;
    for (const Correction& c : book.corrections()) {
        Value points{Value::Array{}};
        for (const GeoPoint p : c.line)
            points.as_array()->push_back(point_value(p));
        Value::Object said = correction_said(c);
        said.emplace_back("valid", when_word(validity_of(c, zone), at));
        said.emplace_back("points", std::move(points));
        all.push_back(std::move(said));
    }
    return Value::Object{{"file", book.path()}, {"corrections", std::move(all)}};
}

std::string list_line(const Correction& c, std::string_view when) {
    std::string line =
        fmt::format("{:<5} {:<8} {}, {}", c.id, name_of(c.kind), printable(words_for(c)), where_words(c));
    if (!c.from.empty() || !c.to.empty())
        line += fmt::format(", {} to {}", c.from.empty() ? "..." : c.from, c.to.empty() ? "..." : c.to);
    if (when != "now")
        line += when == "over" ? " (over)" : " (not yet)";
    if (!c.by.empty())
        line += fmt::format(", by {}", printable(c.by));
    if (!c.note.empty())
        line += fmt::format(": {}", printable(c.note));
    return line + "\n";
}

int list_corrections(const BookFlags& f) {
    const CorrectionBook book = f.book();
    const TimeZone zone = zone_of(Region::open(f.region).meta());
    const Instant at = now();
    if (f.json) {
        print(to_json(list_json(book, zone, at), 1) + "\n");
        return 0;
    }
    if (book.corrections().empty())
        print(fmt::format("no corrections in {}\n", printable(book.path())));
    for (const Correction& c : book.corrections())
        print(list_line(c, when_word(validity_of(c, zone), at)));
    return 0;
}

// ---- check

std::string_view state_word(CorrectionMatch::State s) {
    return s == CorrectionMatch::State::matched    ? "matched"
           : s == CorrectionMatch::State::no_match ? "no_match"
                                                   : "no_effect";
}

Value whole_metres(Length l) {
    return static_cast<std::int64_t>(std::llround(l.metres()));
}

Value check_json(const CorrectionBook& book, const CorrectedRegion& corrected, Instant at) {
    Value::Array all, conflicts;
    const auto corrections = corrected.corrections();
    for (std::size_t i = 0; i < corrections.size(); ++i) {
        const CorrectionMatch& m = corrected.matches()[i];
        const bool line = !corrections[i].is_point();
        all.push_back(Value::Object{{"id", corrections[i].id},
                                    {"state", state_word(m.state)},
                                    {"valid", when_word(corrected.validity()[i], at)},
                                    {"roads", static_cast<std::int64_t>(m.edges.size())},
                                    {"length_m", line ? whole_metres(m.length) : Value()},
                                    {"on_roads_m", line ? whole_metres(m.on_roads) : Value()},
                                    {"nearest_m", m.nearest ? whole_metres(*m.nearest) : Value()},
                                    {"why", m.why.empty() ? Value() : Value(m.why)}});
    }
    for (const CorrectionConflict& c : corrected.conflicts())
        conflicts.push_back(Value::Object{
            {"counts", corrections[c.winner].id}, {"overruled", corrections[c.loser].id}, {"text", c.text}});
    return Value::Object{
        {"file", book.path()}, {"corrections", std::move(all)}, {"conflicts", std::move(conflicts)}};
}

std::string check_line(const Correction& c, const CorrectionMatch& m, std::string_view when) {
    const std::string what = fmt::format("{:<5} {}", c.id, printable(words_for(c)));
    if (when == "over")
        return fmt::format("{}: over since {}\n", what, c.to);
    if (m.state == CorrectionMatch::State::no_match)
        return fmt::format("{}: no longer matches: {}\n", what, m.why);
    if (m.state == CorrectionMatch::State::no_effect)
        return fmt::format("{}: changes nothing: {}\n", what, m.why);
    return fmt::format("{}: matches{}\n", what,
                       when == "later" ? fmt::format(", valid from {}", c.from) : "");
}

int check_corrections(const BookFlags& f) {
    const CorrectionBook book = f.book();
    const Region region = Region::open(f.region);
    const Instant at = now();
    const CorrectedRegion corrected(region, book.corrections(), at);
    bool look = !corrected.conflicts().empty();
    std::string text;
    for (std::size_t i = 0; i < corrected.corrections().size(); ++i) {
        const std::string_view when = when_word(corrected.validity()[i], at);
        const CorrectionMatch& m = corrected.matches()[i];
        look = look || (when != "over" && m.state != CorrectionMatch::State::matched);
        text += check_line(corrected.corrections()[i], m, when);
    }
    for (const CorrectionConflict& c : corrected.conflicts())
        text += fmt::format("conflict: {}\n", printable(c.text));
    if (text.empty())
        text = fmt::format("no corrections in {}\n", printable(book.path()));
    print(f.json ? to_json(check_json(book, corrected, at), 1) + "\n" : text);
    return look ? needs_a_look : 0;
}

// ---- the command line

CLI::App* add_verb(CLI::App& correct, const char* name, const char* what,
                   const std::shared_ptr<BookFlags>& flags) {
    CLI::App* sub = correct.add_subcommand(name, what);
    sub->add_option("--region", flags->region, "region file")->required()->type_name("FILE");
    sub->add_option_function<std::string>(
           "--corrections", [flags](const std::string& s) { flags->file = s; },
           "file of corrections (FILE.region.corrections.geojson beside the region)")
        ->type_name("FILE");
    return sub;
}

void add_add(CLI::App& correct, Chosen& chosen) {
    auto flags = std::make_shared<BookFlags>();
    CLI::App* sub = add_verb(correct, "add", "note what the map does not know", flags);
    CorrectionWanted& w = flags->wanted;
    sub->add_option("--kind", w.kind, "surface, closed, limit, stop, no_stop, gate, loading or entrance")
        ->required()
        ->type_name("KIND");
    sub->add_option_function<std::string>(
           "--at", [flags](const std::string& s) { flags->wanted.at = s; },
           "a point of the road, or the place")
        ->type_name("LAT,LON");
    sub->add_option_function<std::string>(
           "--line", [flags](const std::string& s) { flags->wanted.line = s; },
           "along the road, within 15 m of it: LAT,LON;LAT,LON...")
        ->type_name("LINE");
    sub->add_option("--way", flags->way, "a whole OpenStreetMap way")->type_name("ID");
    sub->add_option(
           "--value", w.value,
           "surface: asphalt, gravel, earth ...; limit: maxheight=3.8 (maxwidth, maxweight, maxaxleload; "
           "none lifts it); gate: locked, key or open; stop, loading, entrance: a name")
        ->type_name("VALUE");
    sub->add_option("--unit", w.unit, "of a limit: m, cm, ft, in; t, kg, lb, short_ton (m or t)")
        ->type_name("UNIT");
    sub->add_option("--from", w.from, "valid from this date or time on, in the region's zone")
        ->type_name("DATE");
    sub->add_option("--to", w.to, "valid to the end of this date, or to this time")->type_name("DATE");
    sub->add_option("--by", w.by, "who knows it")->type_name("NAME");
    sub->add_option("--note", w.note, "what else people should know; plans print it")->type_name("TEXT");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return add_correction(*flags); }; });
}

}  // namespace

void add_correct_command(CLI::App& app, Chosen& chosen) {
    CLI::App* correct =
        app.add_subcommand("correct", "local knowledge laid over a region without a new build");
    correct->require_subcommand(1);
    add_add(*correct, chosen);
    const auto add = [&](const char* name, const char* what, int (*work)(const BookFlags&), bool json) {
        auto flags = std::make_shared<BookFlags>();
        CLI::App* sub = add_verb(*correct, name, what, flags);
        if (json)
            sub->add_flag("--json", flags->json, "print JSON");
        sub->callback([flags, work, &chosen] { chosen.work = [flags, work] { return work(*flags); }; });
        return std::pair{sub, flags};
    };
    add("list", "the corrections and when they hold", list_corrections, true);
    const auto [remove, flags] = add("remove", "take a correction out", remove_correction, false);
    remove->add_option("id", flags->id, "its id")->required()->type_name("ID");
    add("check", "do they still match the map, and each other", check_corrections, true);
}

}  // namespace loamway
