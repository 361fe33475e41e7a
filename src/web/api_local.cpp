// SPDX-License-Identifier: Apache-2.0
// Local knowledge and the ledger: what people on the road know better than the map and the models.
#include <fmt/format.h>

#include "api.h"
#include "api_help.h"
#include "loamway/desk/correction_book.h"
#include "loamway/graph/corrected_region.h"
#include "loamway/ledger/belt_report.h"
#include "loamway/ledger/ledger.h"
#include "loamway/ledger/noting.h"
#include "loamway/ledger/plan_move.h"
#include "loamway/ledger/plausible.h"
#include "loamway/region/digest.h"
#include "loamway/text/table.h"

namespace loamway {

namespace {

/// "corrections/c7" -> "c7"; empty without a name.
std::string name_below(const HttpRequest& request, std::string_view route) {
    const std::string_view path = request.path;
    const std::size_t begin = path.find(route) + route.size() + 1;
    return begin < path.size() ? std::string(path.substr(begin)) : std::string();
}

Value feature(const CorrectedRegion& corrected, std::size_t i) {
    const Correction& c = corrected.corrections()[i];
    Value::Array points;
    for (const GeoPoint p : c.line)
        points.push_back(Value::Array{p.lon(), p.lat()});
    Value geometry = c.is_point() ? Value(Value::Object{{"type", "Point"}, {"coordinates", points.front()}})
                                  : Value(Value::Object{{"type", "LineString"}, {"coordinates", points}});
    Value::Object properties = correction_said(c);
    properties.emplace_back("says", words_for(c));
    properties.emplace_back("in_force", corrected.in_force(i));
    return Value::Object{
        {"type", "Feature"}, {"properties", std::move(properties)}, {"geometry", std::move(geometry)}};
}

CorrectionWanted wanted_of(const Value& body) {
    Table t(body, body_name);
    CorrectionWanted w;
    w.kind = t.require_text("kind");
    w.at = t.text("at");
    w.line = t.text("line");
    w.way = t.integer("way", {1, 1e15});
    for (auto [key, to] :
         {std::pair("value", &w.value), std::pair("unit", &w.unit), std::pair("from", &w.from),
          std::pair("to", &w.to), std::pair("by", &w.by), std::pair("note", &w.note)})
        *to = t.text(key).value_or("");
    t.finish();
    return w;
}

Ledger ledger_of(const Shelf& shelf, LedgerUse use) {
    if (!shelf.setup().ledger)
        throw Error(ErrorKind::not_found, "no ledger is kept here",
                    "start the server with --ledger to keep belts and moves");
    return Ledger::open(*shelf.setup().ledger, use);
}

/// One infrared reading as the sheet has room for it.
Event reading_event(Table& t, const Event& move) {
    Event e = move;
    e.kind = EventKind::reading;
    e.data = Value(Value::Object{});
    e.data.set("reading_c", t.require_number("c", {-40, 400}));
    e.data.set("length_km", t.require_number("km", {0.1, 1000}));
    e.data.set("speed_kmh", t.require_number("kmh", {1, 100}));
    if (const auto air = t.number("air", {-50, 60}))
        e.data.set("air_c", *air);
    e.data.set("after_stop_min", t.number_or("after_min", 0, {0, 60}));
    if (const auto place = t.text("place"))
        e.data.set("place", *place);
    t.finish();
    e.token += fmt::format(" reading {}", digest_of_text(to_json(e.data)));
    return e;
}

/// What the driver noted on the sheet.
AsDriven as_driven(Table& t, const TimeZone& zone) {
    AsDriven out;
    if (const auto km = t.number("driven_km", {0.01, 2000}))
        out.length = Length::from_km(*km);
    for (auto [key, to] : {std::pair("departed", &out.departed), std::pair("arrived", &out.arrived)})
        if (const auto text = t.text(key))
            check_happened(*(*to = parse_time(*text, zone)), now(), key);
    return out;
}

}  // namespace

void Api::corrections(const HttpRequest& request, Exchange& exchange) {
    CorrectionBook book(m_shelf.setup().region, m_shelf.setup().corrections);
    const std::string id = name_below(request, "corrections");
    if (request.method == "DELETE") {
        if (id.empty())
            throw Error(ErrorKind::input, "the correction is not named", "DELETE /api/1/corrections/ID");
        book.remove(id);
        reply_json(exchange, Value::Object{{"removed", id}});
        return;
    }
    if (!id.empty()) {
        exchange.reply(method_not_allowed("DELETE"));
        return;
    }
    if (request.method == "POST") {
        const Correction added = book.add(wanted_of(body_of(request)), m_shelf.region(), now());
        reply_json(exchange, Value::Object{{"id", added.id}, {"says", words_for(added)}}, 201);
        return;
    }
    const CorrectedRegion corrected(m_shelf.region(), book.corrections(), now());
    Value::Array features;
    for (std::size_t i = 0; i < corrected.corrections().size(); ++i)
        features.push_back(feature(corrected, i));
    reply_json(exchange, Value::Object{{"type", "FeatureCollection"}, {"features", std::move(features)}});
}

void Api::belts(const HttpRequest& request, Exchange& exchange) {
    const Ledger ledger = ledger_of(m_shelf, LedgerUse::read);
    const std::string name = name_below(request, "belts");
    reply_json(exchange, to_value(report_on_ledger(ledger, name)));
}

// The planned figures stand for what the sheet leaves open.
void Api::moves(const HttpRequest& request, Exchange& exchange) {
    const Value body = body_of(request);
    const Plan plan = plan_of(body);
    Table t(body, body_name);
    (void)t.value("plan");
    const std::string wanted = t.text("option").value_or("");
    if (wanted.empty() && plan.verdict.option.empty())
        throw Error(ErrorKind::input, "this plan advises no option", "name the one that was driven");
    const Option& option = plan.option_for_output(wanted);
    Ledger ledger = ledger_of(m_shelf, LedgerUse::write);
    Event e;
    e.kind = EventKind::moved;
    e.machine = t.text("machine").value_or(plan.move.machine);
    e.by = t.text("by").value_or("");
    const AsDriven driven = as_driven(t, zone_of(m_shelf.region().meta()));
    e.data = to_value(move_done(plan, option, driven));
    e.at = driven.arrived ? *driven.arrived : option.arrive.value_or(now());
    check_happened(e.at, now(), "arrival of the plan");
    // The same plan driven at the same time is one move, however often a button is pressed.
    const std::string start = fmt::format("page {} ", digest_of_text(to_json(*body.find("plan"))));
    e.token = start + fmt::format("{} {} {}", option.id, e.machine, e.at.unix_seconds);
    e.belts = belts_then(ledger, e.machine, e.at);
    std::vector<Event> events{e};
    for (Table& reading : t.tables("readings"))
        events.push_back(reading_event(reading, e));
    t.finish();
    for (Event& each : events)
        settle_repeat(ledger, each);
    require_driven_once(ledger, events.front(), start,
                        "if it was driven once more, plan it again and note that");
    require_possible(ledger, events.front());
    Value::Array written;
    for (const Written& w : ledger.write_all(events))
        written.push_back(Value::Object{{"event", w.id}, {"was_there", w.was_there}});
    reply_json(exchange, Value::Object{{"events", std::move(written)}, {"belts", e.belts}}, 201);
}

}  // namespace loamway
