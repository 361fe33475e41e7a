// SPDX-License-Identifier: Apache-2.0
// Moves, and what is handed over for them.
#include <fmt/format.h>

#include <array>

#include "api.h"
#include "api_help.h"
#include "loamway/base/mapped_files.h"
#include "loamway/exchange/tracks.h"
#include "loamway/haul/loading_plan.h"
#include "loamway/plan/inputs.h"
#include "loamway/report/load_report.h"
#include "loamway/report/sheet.h"
#include "loamway/report/sheet_html.h"
#include "loamway/report/text_report.h"
#include "loamway/season/budget.h"
#include "loamway/season/quote_sheet.h"

namespace loamway {

namespace {

constexpr std::string_view lines_type = "application/x-ndjson";
constexpr std::size_t load_text_width = 80;

/// Progress and the plan as lines of JSON, one after the other.
class PlanLines {
public:
    explicit PlanLines(Exchange& exchange) : m_exchange(exchange) { exchange.begin(lines_type); }
    void progress(std::string_view step, double share) {
        line(Value::Object{{"progress", Value::Object{{"step", step}, {"share", share}}}});
    }
    void line(const Value& value) { m_exchange.write(to_json(value) + "\n"); }
    /// What went wrong after the answer had begun.
    void fault(const Error& e) { m_exchange.write(error_reply(e).body + "\n"); }
    void end() { m_exchange.end(); }

private:
    Exchange& m_exchange;
};

Plan planned(const Shelf& shelf, const HttpRequest& request, Exchange& exchange, PlanLines* lines) {
    Prepared prepared = shelf.prepare(shelf.read(body_of(request), body_name), now());
    prepared.inputs.watch = [&exchange, lines](std::string_view step, double share) {
        if (lines != nullptr)
            lines->progress(step, share);
        return !exchange.gone();
    };
    return make_plan(prepared.inputs);
}

template <PictureFormat format>
std::string drawn(const Plan& plan, const SheetSetup& setup) {
    SheetSetup s = setup;
    s.format = format;
    return draw_sheet(plan, s);
}

std::string html_sheet(const Plan& plan, const SheetSetup& setup) {
    return sheet_html(std::span(&plan, 1), setup);
}

std::string text_sheet(const Plan& plan, const SheetSetup& setup) {
    return sheet_text(plan, setup.option);
}

using MakeSheet = std::string (*)(const Plan&, const SheetSetup&);
using MakeTrack = std::string (*)(const Plan&, const std::string&);
using MakeLoad = std::string (*)(const LoadingPlan&);
using MakeBudget = std::string (*)(const Budget&);

template <PictureFormat format>
std::string load_drawing(const LoadingPlan& plan) {
    return load_picture(plan, format);
}

/// A list of jobs as read_jobs() takes it, with names in place of files, in its what_ifs too.
JobList jobs_on(const Shelf& shelf, const Value& body) {
    Value document = shelf.without_files(body, body_name);
    for (auto& [key, value] : *document.as_object())
        if (key == "what_if" && value.as_array() != nullptr)
            for (Value& entry : *value.as_array())
                entry = shelf.without_files(entry, body_name);
    JobList list = read_jobs(document, body_name);
    list.move = shelf.placed(std::move(list.move), body);
    return list;
}

std::string file_name(std::string_view what, const Plan& plan, std::string_view ending) {
    return fmt::format("{}-{}-{}.{}", what, plan.move.from_name, plan.move.to_name, ending);
}

}  // namespace

void Api::plan(const HttpRequest& request, Exchange& exchange) {
    if (request.header("accept").find(lines_type) == std::string_view::npos) {
        const Plan plan = planned(m_shelf, request, exchange, nullptr);
        reply_json(exchange, Value::Object{{"plan", plan_to_json(plan)}});
        return;
    }
    PlanLines lines(exchange);
    try {
        const Plan plan = planned(m_shelf, request, exchange, &lines);
        require_mapped_unchanged();
        lines.line(Value::Object{{"plan", plan_to_json(plan)}});
    } catch (const Error& e) {
        lines.fault(e);
    } catch (const Stopped&) {
        // The client is gone: nothing is left to be said.
    }
    lines.end();
}

void Api::sheet(const HttpRequest& request, Exchange& exchange) {
    constexpr std::array<std::pair<std::string_view, MakeSheet>, 5> formats{
        {{"pdf", drawn<PictureFormat::pdf>},
         {"svg", drawn<PictureFormat::svg>},
         {"png", drawn<PictureFormat::png>},
         {"html", html_sheet},
         {"txt", text_sheet}}};
    constexpr std::array<std::pair<std::string_view, SheetReader>, 3> readers{
        {{"cab", SheetReader::cab}, {"low-bed", SheetReader::low_bed}, {"escort", SheetReader::escort}}};
    const MakeSheet make = choice_of(request, "format", formats, "pdf");
    SheetSetup setup;
    setup.reader = choice_of(request, "for", readers, "cab");
    setup.option = request.parameter("option");
    setup.region = &m_shelf.region();
    const std::string_view format = request.parameter("format").empty() ? "pdf" : request.parameter("format");
    if (setup.reader != SheetReader::cab && (format == "html" || format == "txt"))
        throw Error(ErrorKind::input, "this sheet is drawn", "format pdf, svg or png", {{}, {}, "format"});
    const Value body = body_of(request);
    const Plan plan = plan_of(body);
    std::optional<LoadingPlan> loading;
    if (setup.reader == SheetReader::low_bed)
        if (const Value* move = body.find("move")) {
            MoveRequest r = m_shelf.read(*move, body_name);
            r.units = plan.units;
            loading = make_loading_plan(m_shelf.prepare_loading(r));
            setup.loading = &*loading;
        }
    reply_file(exchange, make(plan, setup), type_of(format),
               file_name(setup.reader == SheetReader::cab       ? "stops"
                         : setup.reader == SheetReader::low_bed ? "low-bed"
                                                                : "escort",
                         plan, format));
}

void Api::track(const HttpRequest& request, Exchange& exchange) {
    constexpr std::array<std::pair<std::string_view, MakeTrack>, 5> formats{{{"gpx", to_gpx},
                                                                             {"geojson", to_geojson},
                                                                             {"gpkg", to_geopackage},
                                                                             {"kml", to_kml},
                                                                             {"csv", to_stops_csv}}};
    const MakeTrack make = choice_of(request, "format", formats, "gpx");
    const std::string_view format = request.parameter("format").empty() ? "gpx" : request.parameter("format");
    const Plan plan = plan_of(body_of(request));
    reply_file(exchange, make(plan, std::string(request.parameter("option"))), type_of(format),
               file_name(format == "csv" ? "stops" : "track", plan, format));
}

void Api::load(const HttpRequest& request, Exchange& exchange) {
    constexpr std::array<std::pair<std::string_view, MakeLoad>, 5> formats{
        {{"json", [](const LoadingPlan& p) { return to_json(loading_plan_to_json(p)) + "\n"; }},
         {"svg", load_drawing<PictureFormat::svg>},
         {"pdf", load_drawing<PictureFormat::pdf>},
         {"png", load_drawing<PictureFormat::png>},
         {"txt", [](const LoadingPlan& p) {
              return load_text(p, TextStyle{false, load_text_width});
          }}}};
    const MakeLoad make = choice_of(request, "format", formats, "json");
    const LoadingPlan plan =
        make_loading_plan(m_shelf.prepare_loading(m_shelf.read(body_of(request), body_name)));
    const std::string_view format =
        request.parameter("format").empty() ? "json" : request.parameter("format");
    exchange.reply({.content_type = std::string(type_of(format)), .body = make(plan)});
}

void Api::budget(const HttpRequest& request, Exchange& exchange) {
    constexpr std::array<std::pair<std::string_view, MakeBudget>, 4> formats{
        {{"json", [](const Budget& b) { return to_json(budget_to_json(b)) + "\n"; }},
         {"pdf", [](const Budget& b) { return quote_sheet(b, PictureFormat::pdf); }},
         {"csv", budget_csv},
         {"txt", budget_text}}};
    const MakeBudget make = choice_of(request, "format", formats, "json");
    const std::string_view format =
        request.parameter("format").empty() ? "json" : request.parameter("format");
    const auto stop_when_gone = [&](double) {
        if (exchange.gone())
            throw Stopped();
    };
    const Budget budget =
        make_budget(jobs_on(m_shelf, body_of(request)), now(), stop_when_gone, m_shelf.kept());
    if (format == "json")
        exchange.reply({.body = make(budget)});
    else
        reply_file(exchange, make(budget), type_of(format), fmt::format("quote.{}", format));
}

}  // namespace loamway
