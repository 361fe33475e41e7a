// SPDX-License-Identifier: Apache-2.0
// The answers under /api/1/, as a page gets them, on the invented county. The planner's own answers are the
// oracle: a front end may not have a second opinion.
#include "api.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <functional>
#include <sstream>

#include "loamway/base/file.h"
#include "loamway/ledger/belt_report.h"
#include "loamway/ledger/ledger.h"
#include "loamway/plan/inputs.h"
#include "loamway/region/correction.h"
#include "support/demo_region.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

/// Takes an answer; goes away after `leave_after` lines when that is set.
class Taken : public Exchange {
public:
    void reply(HttpReply reply) override {
        m_reply = std::move(reply);
        ++answers;
    }
    void begin(std::string_view type) override {
        m_reply.content_type = type;
        ++answers;
    }
    void write(std::string_view piece) override {
        m_reply.body += piece;
        ++lines;
    }
    void end() override { ended = true; }
    [[nodiscard]] bool gone() const override {
        if (while_it_works)
            while_it_works();
        return leave_after && lines >= *leave_after;
    }
    [[nodiscard]] const HttpReply& got() const { return m_reply; }
    [[nodiscard]] Value json() const { return parse_json(m_reply.body, "answer"); }

    int answers = 0;
    std::size_t lines = 0;
    bool ended = false;
    std::optional<std::size_t> leave_after;
    std::function<void()> while_it_works;

private:
    HttpReply m_reply;
};

const Value& at(const Value& v, std::string_view key) {
    const Value* found = v.find(key);
    if (found == nullptr)
        throw std::runtime_error("no key " + std::string(key));
    return *found;
}

class ApiTest : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_dir = new test::TempDir();
        test::write_demo_region(s_dir->file("demo.region"));
    }
    static void TearDownTestSuite() { delete s_dir; }

    ApiTest() {
        std::filesystem::remove(corrections_beside(s_dir->file("demo.region")));
        ShelfSetup setup;
        setup.region = s_dir->file("demo.region");
        setup.places = test::source_path("regions/demo/places.geojson");
        setup.ledger = m_own.file("a.ledger");
        Ledger ledger = Ledger::open(*setup.ledger, LedgerUse::write);
        const std::string profile = test::source_path("examples/profiles/medium.toml");
        Event machine;
        machine.kind = EventKind::machine_added;
        machine.machine = "red";
        machine.data = Value(Value::Object{{"profile", parse_toml(read_text_file(profile), profile)}});
        ledger.write(machine);
        Event belts;
        belts.kind = EventKind::belts_added;
        belts.belts = "red-1";
        belts.data =
            Value(Value::Object{{"hours", 300}, {"new_bar_mm", 55}, {"worn_mm", 15}, {"run_in", true}});
        ledger.write(belts);
        Event fitted;
        fitted.kind = EventKind::fitted;
        fitted.machine = "red";
        fitted.belts = "red-1";
        fitted.data = Value(Value::Object{});
        ledger.write(fitted);
        m_shelf.emplace(setup);
        m_api.emplace(*m_shelf);
    }

    Taken ask(std::string method, std::string path, const std::string& body = {},
              std::map<std::string, std::string> query = {}, std::string accept = {}) {
        HttpRequest r;
        r.method = std::move(method);
        r.path = std::move(path);
        r.body = body;
        r.query = std::move(query);
        if (!accept.empty())
            r.headers.emplace_back("accept", accept);
        Taken taken;
        m_api->answer(r, taken);
        EXPECT_EQ(taken.answers, 1) << r.path;
        return taken;
    }
    /// A move of the county that can be driven.
    static std::string move(const std::string& more = "") {
        const std::string file = test::source_path("examples/moves/demo.toml");
        const Value demo = parse_toml(read_text_file(file), file);
        return R"({"from":")" + *at(demo, "from").as_string() + R"(","to":")" + *at(demo, "to").as_string() +
               R"(","machine":"medium","depart":"2026-07-14T09:00","trials":50)" + more + "}";
    }
    static Value error_of(const Taken& t) { return at(t.json(), "error"); }
    std::string plan_body(const std::string& more = "") {
        return R"({"plan":)" + to_json(at(ask("POST", "/api/1/plan", move()).json(), "plan")) + more + "}";
    }

    static inline test::TempDir* s_dir = nullptr;
    test::TempDir m_own;
    std::optional<Shelf> m_shelf;
    std::optional<Api> m_api;
};

TEST_F(ApiTest, ThePlanIsThePlannersOwn) {
    const Taken taken = ask("POST", "/api/1/plan", move());
    ASSERT_EQ(taken.got().status, 200) << taken.got().body;
    MoveRequest r = read_move(parse_json(move(), "move"), "move");
    const std::string file = test::source_path("examples/profiles/medium.toml");
    r.machine.reset();
    r.machine_table = parse_toml(read_text_file(file), file);
    r.region = s_dir->file("demo.region");
    r.places = m_shelf->setup().places;
    r.ledger = m_shelf->setup().ledger;
    const Prepared prepared = prepare(r, now());
    EXPECT_EQ(to_json(at(taken.json(), "plan")), to_json(plan_to_json(make_plan(prepared.inputs))));
}

TEST_F(ApiTest, TheMapIsDrawnForABoxWithAndWithoutAWay) {
    const Value bounds = at(ask("GET", "/api/1/region").json(), "bounds");
    std::string box;
    for (const Value& degrees : *bounds.as_array())
        box += (box.empty() ? "" : ",") + std::to_string(degrees.number());
    const std::map<std::string, std::string> asked{{"bbox", box}, {"width", "320"}, {"height", "200"}};
    const Taken ground = ask("GET", "/api/1/map.png", {}, asked);
    ASSERT_EQ(ground.got().status, 200) << ground.got().body;
    EXPECT_EQ(ground.got().content_type, "image/png");
    EXPECT_THAT(ground.got().body, StartsWith("\x89PNG"));
    const Taken way = ask("POST", "/api/1/map.png", plan_body(), asked);
    ASSERT_EQ(way.got().status, 200) << way.got().body;
    EXPECT_NE(way.got().body, ground.got().body);
    auto night = asked;
    night["night"] = "1";
    EXPECT_NE(ask("GET", "/api/1/map.png", {}, night).got().body, ground.got().body);
    auto huge = asked;
    huge["width"] = "100000";
    EXPECT_EQ(ask("GET", "/api/1/map.png", {}, huge).got().status, 400);
    EXPECT_EQ(ask("GET", "/api/1/map.png").got().status, 400) << "no box";
    EXPECT_EQ(ask("POST", "/api/1/map.png", plan_body(R"(,"option":"none such")"), asked).got().status, 404);
}

TEST_F(ApiTest, ProgressComesLineByLineAndEndsWithThePlan) {
    const Taken taken = ask("POST", "/api/1/plan", move(), {}, "application/x-ndjson");
    EXPECT_TRUE(taken.ended);
    EXPECT_EQ(taken.got().content_type, "application/x-ndjson");
    std::istringstream in(taken.got().body);
    std::string line, last;
    double share = 0;
    std::size_t n = 0;
    for (; std::getline(in, line); ++n) {
        last = line;
        if (const Value v = parse_json(line, "line"); const Value* p = v.find("progress")) {
            EXPECT_GE(at(*p, "share").number(), share);
            share = at(*p, "share").number();
        }
    }
    EXPECT_GT(n, 4u);
    EXPECT_EQ(to_json(at(parse_json(last, "line"), "plan")),
              to_json(at(ask("POST", "/api/1/plan", move()).json(), "plan")));
}

TEST_F(ApiTest, WorkEndsWhenTheClientGoes) {
    HttpRequest r;
    r.method = "POST";
    r.path = "/api/1/plan";
    r.body = move();
    r.headers.emplace_back("accept", "application/x-ndjson");
    Taken taken;
    taken.leave_after = 2;
    m_api->answer(r, taken);
    EXPECT_TRUE(taken.ended);
    EXPECT_THAT(taken.got().body, ::testing::Not(HasSubstr("\"plan\"")));
}

TEST_F(ApiTest, FaultsNameWhatIsWrongAndWhere) {
    const Taken unknown = ask("POST", "/api/1/plan", R"({"from":"1,1","to":"2,2","machine":"mediun"})");
    EXPECT_EQ(unknown.got().status, 404);
    EXPECT_EQ(*at(error_of(unknown), "item").as_string(), "machine");
    EXPECT_EQ(*at(error_of(unknown), "what_to_do").as_string(), "did you mean medium?");
    EXPECT_EQ(ask("POST", "/api/1/plan", "{").got().status, 400);
    EXPECT_EQ(ask("POST", "/api/1/plan", "[]").got().status, 400);
    EXPECT_EQ(ask("POST", "/api/1/plan", R"({"frm":"1,1","machine":"medium"})").got().status, 400);
    EXPECT_EQ(ask("GET", "/api/1/plan").got().status, 405);
    EXPECT_EQ(ask("GET", "/api/1/nothing").got().status, 404);
    EXPECT_EQ(ask("GET", "/api/2/region").got().status, 404);
    // A fault after the stream has begun is its last line.
    const Taken streamed = ask("POST", "/api/1/plan", R"({"from":"nowhere","to":"2,2","machine":"medium"})",
                               {}, "application/x-ndjson");
    EXPECT_TRUE(streamed.ended);
    EXPECT_EQ(*at(error_of(streamed), "kind").as_string(), "not_found");
}

TEST_F(ApiTest, SheetsAndTracksAreFiles) {
    const std::string body = plan_body();
    for (const auto& [format, begins] :
         {std::pair("pdf", "%PDF"), std::pair("svg", "<?xml"), std::pair("png", "\x89PNG"),
          std::pair("html", "<!DOCTYPE html>"), std::pair("txt", "")}) {
        const Taken t = ask("POST", "/api/1/sheet", body, {{"format", format}});
        ASSERT_EQ(t.got().status, 200) << t.got().body;
        EXPECT_THAT(t.got().body, StartsWith(begins)) << format;
        EXPECT_THAT(t.got().headers.front().second, HasSubstr(std::string(".") + format + "\""));
    }
    for (const auto& [format, begins] :
         {std::pair("gpx", "<?xml"), std::pair("geojson", "{"), std::pair("gpkg", "SQLite format 3"),
          std::pair("kml", "<?xml"), std::pair("csv", "")})
        EXPECT_THAT(ask("POST", "/api/1/export", body, {{"format", format}}).got().body, StartsWith(begins))
            << format;
    EXPECT_EQ(ask("POST", "/api/1/sheet", body, {{"format", "exe"}}).got().status, 400);
    EXPECT_EQ(ask("POST", "/api/1/sheet", body, {{"option", "no-such"}}).got().status, 404);
    EXPECT_EQ(ask("POST", "/api/1/sheet", body, {{"for", "escort"}, {"format", "html"}}).got().status, 400);
    EXPECT_EQ(ask("POST", "/api/1/sheet", "{}").got().status, 400);
    EXPECT_THAT(ask("POST", "/api/1/sheet", body, {{"for", "escort"}}).got().body, StartsWith("%PDF"));
    EXPECT_THAT(ask("POST", "/api/1/load", R"({"machine":"medium","trailer":"low-bed"})").got().body,
                HasSubstr("loamway.load/1"));
    EXPECT_THAT(ask("POST", "/api/1/load", R"({"machine":"medium"})", {{"format", "svg"}}).got().body,
                StartsWith("<?xml"));
}

TEST_F(ApiTest, WhatThereIs) {
    const Value region = ask("GET", "/api/1/region").json();
    EXPECT_EQ(*at(region, "digest").as_string(), m_shelf->region().digest());
    EXPECT_EQ(at(region, "bounds").as_array()->size(), 4u);
    EXPECT_TRUE(*at(region, "has_ledger").as_bool());
    const Value machines = ask("GET", "/api/1/machines").json();
    EXPECT_EQ(*at(at(machines, "machines").as_array()->front(), "name").as_string(), "red");
    EXPECT_FALSE(at(machines, "trailers").as_array()->empty());
    const auto small_ones = [&] {
        std::vector<std::string> sources;
        const Value answer = ask("GET", "/api/1/machines").json();
        for (const Value& m : *at(answer, "machines").as_array())
            if (*at(m, "name").as_string() == "small")
                sources.push_back(*at(m, "source").as_string());
        return sources;
    };
    EXPECT_EQ(small_ones(), std::vector<std::string>{"profile"});
    {
        Ledger ledger = Ledger::open(*m_shelf->setup().ledger, LedgerUse::write);
        const std::string profile = test::source_path("examples/profiles/small.toml");
        Event machine;
        machine.kind = EventKind::machine_added;
        machine.machine = "small";
        machine.data = Value(Value::Object{{"profile", parse_toml(read_text_file(profile), profile)}});
        ledger.write(machine);
    }
    EXPECT_EQ(small_ones(), std::vector<std::string>{"ledger"}) << "one name is one machine";
    const Value largest = ask("GET", "/api/1/places", {}, {{"limit", "3"}}).json();
    const Value& first = at(largest, "places");
    ASSERT_EQ(first.as_array()->size(), 3u);
    const std::string name = *at(first.as_array()->front(), "name").as_string();
    const Value found = ask("GET", "/api/1/places", {}, {{"q", name.substr(0, 3)}}).json();
    bool there = false;
    for (const Value& p : *at(found, "places").as_array())
        there = there || *at(p, "name").as_string() == name;
    EXPECT_TRUE(there) << name;
    EXPECT_EQ(ask("GET", "/api/1/places", {}, {{"limit", "0"}}).got().status, 400);
    EXPECT_EQ(ask("GET", "/api/1/places", {}, {{"limit", "nan"}}).got().status, 400);
}

// As a person does it: points at a road, sees what it is taken for, says what it is, sees that, takes it
// back.
TEST_F(ApiTest, ARoadIsLookedAtCorrectedAndPutBack) {
    const RegionView& view = m_shelf->region().view();
    std::size_t e = 0;
    while ((view.edges[e].flags & edge_flag::known) != 0 || view.edges[e].length_dm < 3000)
        ++e;
    const auto line = view.edge_points(EdgeId{e});
    const GeoPoint p = line[line.size() / 2];
    const std::map<std::string, std::string> where{{"lat", std::to_string(p.lat())},
                                                   {"lon", std::to_string(p.lon())}};
    const Value before = ask("GET", "/api/1/road", {}, where).json();
    EXPECT_FALSE(*at(before, "known").as_bool());
    EXPECT_THAT(*at(before, "reason").as_string(), HasSubstr("assumed"));
    EXPECT_NEAR(
        at(before, "p_hard").number() + at(before, "p_gravel").number() + at(before, "p_earth").number(), 1.0,
        1e-9);
    std::string text;
    for (const GeoPoint q : line)
        text += (text.empty() ? "" : ";") + std::to_string(q.lat()) + "," + std::to_string(q.lon());
    const Taken added = ask("POST", "/api/1/corrections",
                            R"({"kind":"surface","value":"gravel","by":"Jo","line":")" + text + R"("})");
    ASSERT_EQ(added.got().status, 201) << added.got().body;
    const std::string id = *at(added.json(), "id").as_string();
    const Value after = ask("GET", "/api/1/road", {}, where).json();
    EXPECT_TRUE(*at(after, "known").as_bool());
    EXPECT_EQ(*at(after, "class").as_string(), "gravel");
    EXPECT_EQ(*at(after, "corrections").as_array()->front().as_string(), id);
    const Value all = ask("GET", "/api/1/corrections").json();
    ASSERT_EQ(at(all, "features").as_array()->size(), 1u);
    EXPECT_TRUE(*at(at(at(all, "features").as_array()->front(), "properties"), "in_force").as_bool());
    EXPECT_EQ(ask("DELETE", "/api/1/corrections/" + id).got().status, 200);
    EXPECT_EQ(ask("DELETE", "/api/1/corrections/" + id).got().status, 404);
    EXPECT_EQ(ask("DELETE", "/api/1/corrections").got().status, 400);
    EXPECT_FALSE(*at(ask("GET", "/api/1/road", {}, where).json(), "known").as_bool());
    EXPECT_EQ(ask("GET", "/api/1/road", {}, {{"lat", "0"}, {"lon", "0"}}).got().status, 404);
    EXPECT_EQ(ask("GET", "/api/1/road", {}, {{"lat", "91"}, {"lon", "0"}}).got().status, 400);
    EXPECT_EQ(ask("GET", "/api/1/road").got().status, 400);
}

TEST_F(ApiTest, AMoveIsRecordedOnceWithItsReading) {
    const std::string tail =
        R"(,"machine":"red","arrived":"2026-07-14T12:00","readings":[{"c":61,"km":12,"kmh":25,"air":22,"after_min":1}])";
    const std::string body = plan_body(tail);
    const Taken once = ask("POST", "/api/1/moves", body);
    ASSERT_EQ(once.got().status, 201) << once.got().body;
    const Taken twice = ask("POST", "/api/1/moves", body);
    EXPECT_TRUE(*at(at(twice.json(), "events").as_array()->front(), "was_there").as_bool());
    std::string other = body;
    other.insert(other.size() - 1, R"(,"driven_km":12)");
    const Taken lost = ask("POST", "/api/1/moves", other);
    EXPECT_EQ(lost.got().status, 400) << "its trip meter would be lost";
    EXPECT_NE(lost.got().body.find("would be lost"), std::string::npos) << lost.got().body;
    const Taken later =
        ask("POST", "/api/1/moves", plan_body(R"(,"machine":"red","arrived":"2026-07-14T16:00")"));
    EXPECT_EQ(later.got().status, 400) << "the same plan at another time";
    EXPECT_NE(later.got().body.find("this plan is event"), std::string::npos) << later.got().body;
    const Value belts = ask("GET", "/api/1/belts").json();
    const Value& set = at(belts, "belts").as_array()->front();
    EXPECT_EQ(*at(set, "moves").as_integer(), 1);
    EXPECT_GT(at(at(set, "km"), "hard").number() + at(at(set, "km"), "gravel").number(), 1.0);
    const Ledger ledger = Ledger::open(*m_shelf->setup().ledger, LedgerUse::read);
    EXPECT_EQ(to_json(at(ask("GET", "/api/1/belts/red-1").json(), "belts").as_array()->front()),
              to_json(at(to_value(report_on_ledger(ledger, "red-1")), "belts").as_array()->front()));
    EXPECT_EQ(ask("GET", "/api/1/belts/none").got().status, 404);
    EXPECT_EQ(ask("POST", "/api/1/moves", plan_body(R"(,"machine":"blue")")).got().status, 400);
    EXPECT_EQ(ask("POST", "/api/1/moves", plan_body(R"(,"machin":"red")")).got().status, 400);
}

TEST_F(ApiTest, AMoveIsKeptAsDrivenBesideWhatWasPlanned) {
    const Value plan = parse_json(plan_body(""), "body");
    const Option option = plan_from_json(at(plan, "plan"), "plan").option_for_output("");
    const double planned_m = *option.length_m;
    // Ten minutes longer than planned, and a quarter farther.
    const std::string left =
        format_rfc3339(*option.arrive + Duration::from_seconds(-*option.duration_s - 600), TimeZone());
    const Taken kept =
        ask("POST", "/api/1/moves",
            plan_body(R"(,"machine":"red","driven_km":)" + std::to_string(planned_m / 1000 * 1.25) +
                      R"(,"departed":")" + left + "\""));
    ASSERT_EQ(kept.got().status, 201) << kept.got().body;
    const Ledger ledger = Ledger::open(*m_shelf->setup().ledger, LedgerUse::read);
    const Value answer = kept.json();
    const auto id = at(at(answer, "events").as_array()->front(), "event").as_integer();
    const MoveDone m = read_move_done(ledger.event(*id)->data, "event");
    EXPECT_NEAR(m.length_m(), planned_m * 1.25, 1);
    EXPECT_NEAR(m.planned_m.value_or(0), planned_m, 1e-6);
    EXPECT_NEAR(m.hours, *option.driving_s / 3600 + 1.0 / 6, 2.0 / 3600);
    EXPECT_NEAR(m.planned_hours.value_or(0), *option.driving_s / 3600, 1e-9);
    EXPECT_EQ(format_rfc3339(*m.departed, TimeZone()), left);
    for (const char* wrong :
         {R"(,"machine":"red","driven_km":0.02)",
          R"(,"machine":"red","departed":"2026-07-14T12:01","arrived":"2026-07-14T12:00")",
          R"(,"machine":"red","departed":"noon")", R"(,"machine":"red","arrived":"2926-07-14T12:00")"})
        EXPECT_EQ(ask("POST", "/api/1/moves", plan_body(wrong)).got().status, 400) << wrong;
}

TEST_F(ApiTest, ABudgetIsTheCommandsOwn) {
    const std::string file = test::source_path("examples/jobs/demo.toml");
    Value jobs = parse_toml(read_text_file(file), file);
    Value body{Value::Object{}};
    for (const auto& [key, value] : *jobs.as_object())
        if (key == "machine")
            body.set("machine", "medium");
        else if (key != "rates" && key != "places")
            body.set(key, value);
    const Taken taken = ask("POST", "/api/1/budget", to_json(body));
    ASSERT_EQ(taken.got().status, 200) << taken.got().body;
    EXPECT_EQ(*at(taken.json(), "schema").as_string(), "loamway.budget/1");
    EXPECT_THAT(ask("POST", "/api/1/budget", to_json(body), {{"format", "pdf"}}).got().body,
                StartsWith("%PDF"));
    body.set("region", "/etc/passwd");
    EXPECT_EQ(ask("POST", "/api/1/budget", to_json(body)).got().status, 400);
}

TEST_F(ApiTest, StopPlacesOfABox) {
    const Value region = ask("GET", "/api/1/region").json();
    std::string box;
    for (const Value& v : *at(region, "bounds").as_array())
        box += (box.empty() ? "" : ",") + std::to_string(v.number());
    const Value all = ask("GET", "/api/1/stop-places", {}, {{"bbox", box}}).json();
    EXPECT_EQ(at(all, "places").as_array()->size(), m_shelf->region().view().stop_places.size());
    for (const char* bad : {"", "1,2,3", "3,2,1,4", "a,b,c,d", "1,2,3,4,5", "0,0,1,91", "181,0,182,1",
                            "-10,0,541,1", "10,0,370,1"})
        EXPECT_EQ(ask("GET", "/api/1/stop-places", {}, {{"bbox", bad}}).got().status, 400) << bad;
}

// East of 180 degrees where the box lies across the date line.
TEST_F(ApiTest, BoxesOverTheDateLine) {
    const Value region = ask("GET", "/api/1/region").json();
    const auto& bounds = *at(region, "bounds").as_array();
    const auto places = [&](double west, double east) {
        const std::string box = std::to_string(west) + ",-90," + std::to_string(east) + ",90";
        EXPECT_EQ(ask("GET", "/api/1/map.png", {}, {{"bbox", box}}).got().status, 200) << box;
        return at(ask("GET", "/api/1/stop-places", {}, {{"bbox", box}}).json(), "places").as_array()->size();
    };
    const std::size_t all = m_shelf->region().view().stop_places.size();
    const double west = bounds[0].number(), east = bounds[2].number();
    EXPECT_EQ(places(170, west + 359.9), 0u);
    EXPECT_EQ(places(170, east + 360.1), all);
    EXPECT_EQ(places(170, 190), 0u);
    const std::size_t half = places(170, (west + east) / 2 + 360);
    EXPECT_GT(half, 0u);
    EXPECT_LT(half, all);
}

// What was begun before the change was answered out of changed roads.
TEST_F(ApiTest, AFileChangedWhileAPlanIsMadeKeepsItBack) {
    const std::string body =
        R"({"from":"Nettle Farm yard","to":"Kettle Quarter","machine":"medium","conditions":{"air_c":20},"trials":20})";
    for (const bool in_lines : {false, true}) {
        const std::string path = m_own.write("mapped", "as it was");
        const FileBytes mapped(path, 0);
        HttpRequest request;
        request.method = "POST";
        request.path = "/api/1/plan";
        request.body = body;
        if (in_lines)
            request.headers.emplace_back("accept", "application/x-ndjson");
        Taken taken;
        taken.while_it_works = [&] { std::filesystem::resize_file(path, 2); };
        m_api->answer(request, taken);
        EXPECT_EQ(taken.answers, 1);
        EXPECT_THAT(taken.got().body, HasSubstr("was cut or changed while it was in use")) << in_lines;
        EXPECT_THAT(taken.got().body, Not(HasSubstr("loamway.plan/1"))) << in_lines;
        EXPECT_EQ(taken.got().status, in_lines ? 200 : 500);
        EXPECT_EQ(ask("GET", "/api/1/region").got().status, 500);
    }
    EXPECT_EQ(ask("GET", "/api/1/region").got().status, 200);
}

TEST_F(ApiTest, TilesAreThoseOfTheRegionWithItsCorrections) {
    const GeoPoint node = m_shelf->region().view().node_point(NodeId(0u));
    const auto frames = static_cast<double>(1 << 8);
    const double s = std::sin(node.lat() * 0.017453292519943295);
    const TileId id{8, static_cast<std::uint32_t>((node.lon() / 360 + 0.5) * frames),
                    static_cast<std::uint32_t>((0.5 - std::atanh(s) / 6.283185307179586) * frames)};
    const std::string path = "/api/1/tiles/8/" + std::to_string(id.x) + "/" + std::to_string(id.y) + ".mvt";
    const Taken plain = ask("GET", path);
    EXPECT_EQ(plain.got().status, 200);
    EXPECT_EQ(plain.got().content_type, "application/vnd.mapbox-vector-tile");
    EXPECT_EQ(plain.got().body, make_tile(m_shelf->region().view(), nullptr, id));
    const std::string at_node = std::to_string(node.lat()) + "," + std::to_string(node.lon());
    EXPECT_EQ(ask("POST", "/api/1/corrections", R"({"kind":"closed","by":"A","at":")" + at_node + R"("})")
                  .got()
                  .status,
              201);
    EXPECT_THAT(ask("GET", path).got().body, HasSubstr("corrections"));
    EXPECT_EQ(ask("GET", "/api/1/tiles/8/0/0.mvt").got().status, 204);
    for (const char* bad :
         {"", "/", "/8", "/8/1/2", "/8/1/2.png", "/8/1/2.mvt/", "/-1/0/0.mvt", "/16/0/0.mvt", "/8/256/0.mvt",
          "/8/1/.mvt", "/8/99999999999/0.mvt", "/4294967296/0/0.mvt"})
        EXPECT_EQ(ask("GET", std::string("/api/1/tiles") + bad).got().status, 400) << bad;
}

}  // namespace
}  // namespace loamway
