// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/corrections.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "support/damage.h"
#include "support/test_files.h"

using namespace loamway;

namespace {

constexpr const char* file_text = R"({
"type": "FeatureCollection", "schema": "loamway.corrections/1", "last_number": 9,
"features": [
{"type": "Feature", "properties": {"id": "c1", "kind": "surface", "value": "gravel", "by": "Jo", "noted": "2026-05-01",
 "note": "graded in spring"}, "geometry": {"type": "LineString", "coordinates": [[-35.5, 47.3], [-35.51, 47.3, 12]]}},
{"type": "Feature", "properties": {"id": "c2", "kind": "limit", "value": "maxheight=12.5", "unit": "ft",
 "from": "2026-07-01", "to": "2026-07-31T18:00", "by": null},
 "geometry": {"type": "Point", "coordinates": [-35.5, 47.31]}}
]})";

std::string one(const std::string& properties,
                const std::string& geometry = R"({"type":"Point","coordinates":[-35.5,47.3]})") {
    return R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{)" +
           properties + R"(},
"geometry":)" +
           geometry + "}]}";
}

std::string fault_of(const std::string& json) {
    try {
        (void)parse_corrections(json, "c.geojson");
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "no error";
}

void expect_fault(const std::string& json, const std::string& part) {
    const std::string fault = fault_of(json);
    EXPECT_NE(fault.find(part), std::string::npos) << fault;
    EXPECT_EQ(fault.rfind("c.geojson:", 0), 0u) << fault;
}

TEST(Corrections, AreReadWithAllTheirParts) {
    const CorrectionFile file = parse_corrections(file_text, "c.geojson");
    ASSERT_EQ(file.corrections.size(), 2u);
    const Correction& c = file.corrections[0];
    EXPECT_EQ(c.id, "c1");
    EXPECT_EQ(c.kind, CorrectionKind::surface);
    EXPECT_EQ(c.value, "gravel");
    EXPECT_EQ(c.by, "Jo");
    EXPECT_EQ(c.noted, "2026-05-01");
    EXPECT_EQ(c.note, "graded in spring");
    ASSERT_EQ(c.line.size(), 2u);
    EXPECT_EQ(c.line[1], GeoPoint::from_degrees(47.3, -35.51));
    EXPECT_TRUE(file.corrections[1].is_point());
    EXPECT_EQ(file.corrections[1].by, "");
    EXPECT_EQ(file.last_number, 9);
}

TEST(Corrections, AreWrittenTheSameEachTime) {
    const CorrectionFile file = parse_corrections(file_text, "c.geojson");
    const std::string text = corrections_to_json(file);
    EXPECT_EQ(corrections_to_json(parse_corrections(text, "again")), text);
    // The order of the keys is that of the documentation, whatever it was in the file.
    EXPECT_LT(text.find("\"id\": \"c2\""), text.find("\"kind\": \"limit\""));
    EXPECT_LT(text.find("\"unit\": \"ft\""), text.find("\"from\": \"2026-07-01\""));
    test::TempDir dir;
    const std::string path = dir.file("x.corrections.geojson");
    write_corrections(file, path);
    EXPECT_EQ(read_text_file(path), text);
}

// An id stays with its correction: one that was removed is not handed out again.
TEST(Corrections, IdsAreNeverUsedTwice) {
    CorrectionFile file = parse_corrections(file_text, "c.geojson");
    EXPECT_EQ(file.next_id(), "c10");
    Correction added = file.corrections[0];
    added.id = "c10";
    file.corrections.push_back(added);
    file.corrections.pop_back();
    CorrectionFile again = parse_corrections(corrections_to_json(file), "again");
    EXPECT_EQ(again.next_id(), "c11");
}

TEST(Corrections, FaultsAreNamedWithFileAndLine) {
    EXPECT_EQ(fault_of(one(R"("id":"c1","kind":"surface","value":"gravle")")).rfind("c.geojson:2: ", 0), 0u)
        << fault_of(one(R"("id":"c1","kind":"surface","value":"gravle")"));
    expect_fault(one(R"("id":"c1","kind":"surface","value":"gravle")"),
                 "\"gravle\" is no surface known here");
    expect_fault(one(R"("id":"c1","kind":"surfaces","value":"gravel")"), "did you mean \"surface\"?");
    expect_fault(one(R"("id":"c1","knid":"surface","value":"gravel")"), "kind");
    expect_fault(one(R"("kind":"closed")"), "id");
    expect_fault(one(R"("id":"c 1","kind":"closed")"), "letters");
    expect_fault(one(R"("id":"c1","kind":"closed","value":"yes")"), "takes no value");
    expect_fault(one(R"("id":"c1","kind":"surface")"), "needs a value");
    expect_fault(one(R"("id":"c1","kind":"closed","unit":"m")"), "only a limit has a unit");
    expect_fault(one(R"("id":"c1","kind":"gate","value":"shut")"), "locked, key or open");
    expect_fault(one(R"("id":"c1","kind":"closed","from":"14.7.2026")"), "YYYY-MM-DD");
    expect_fault(one(R"("id":"c1","kind":"closed","from":"2026-02-30")"), "does not exist");
    expect_fault(one(R"("id":"c1","kind":"closed","from":"2026-07-15","to":"2026-07-14")"),
                 "before it begins");
    expect_fault(one(R"("id":"c1","kind":"closed")", "null"), "no position");
    expect_fault(one(R"("id":"c1","kind":"closed")", R"({"type":"Polygon","coordinates":[]})"),
                 "cannot be a Polygon");
    expect_fault(one(R"("id":"c1","kind":"closed")", R"({"type":"LineString","coordinates":[[1,2]]})"),
                 "two points");
    expect_fault(one(R"("id":"c1","kind":"closed")", R"({"type":"LineString","coordinates":[[1,2],[1,2]]})"),
                 "shorter than a metre");
    expect_fault(one(R"("id":"c1","kind":"closed")", R"({"type":"LineString","coordinates":[[1,2],[9,9]]})"),
                 "road by road");
    expect_fault(one(R"("id":"c1","kind":"closed")", R"({"type":"Point","coordinates":[47.3,-135.5]})"),
                 "swapped");
    expect_fault(one(R"("id":"c1","kind":"stop")", R"({"type":"LineString","coordinates":[[1,2],[1,2.01]]})"),
                 "one point");
    expect_fault(R"({"type":"FeatureCollection","schema":"loamway.corrections/2","features":[]})", "schema");
    expect_fault(R"([])", "not GeoJSON");
    std::string twice = file_text;
    twice.replace(twice.find("\"c2\""), 4, "\"c1\"");
    expect_fault(twice, "two corrections have the id c1");
}

TEST(Corrections, LimitsHaveAKeyAFigureAndAUnit) {
    const auto limit = [](const std::string& value, const std::string& unit) {
        Correction c;
        c.kind = CorrectionKind::limit;
        c.value = value;
        c.unit = unit;
        return stated_limit(c);
    };
    EXPECT_EQ(limit("maxheight=3.8", "").figure, 3.8);
    EXPECT_NEAR(*limit("maxheight=12.5", "ft").figure, 3.81, 1e-9);
    EXPECT_NEAR(*limit("maxweight=13000", "lb").figure, 5.8967, 1e-4);
    EXPECT_EQ(limit("maxweight=none", "").figure, std::nullopt);
    EXPECT_EQ(limit("maxaxleload=8", "t").key, "maxaxleload");
    EXPECT_THROW((void)limit("maxheight=3,8", ""), Error);
    EXPECT_THROW((void)limit("maxheight", ""), Error);
    EXPECT_THROW((void)limit("maxheight=3.8", "t"), Error);
    EXPECT_THROW((void)limit("maxheight=380", ""), Error);
    EXPECT_THROW((void)limit("maxheigth=3.8", ""), Error);
    EXPECT_THROW((void)limit("maxheight=nan", ""), Error);
}

TEST(Corrections, ADateCountsToItsEndInTheRegionsZone) {
    Correction c;
    c.from = "2026-03-29";  // clocks go forward that day in this zone
    c.to = "2026-03-29";
    const TimeZone zone("Europe/Berlin");
    const Validity v = validity_of(c, zone);
    EXPECT_EQ((*v.ends - *v.begins).hours(), 23.0);
    EXPECT_TRUE(v.holds_at(parse_time("2026-03-29T00:00", zone)));
    EXPECT_TRUE(v.holds_at(parse_time("2026-03-29T23:59", zone)));
    EXPECT_FALSE(v.holds_at(parse_time("2026-03-30T00:00", zone)));
    EXPECT_FALSE(v.holds_at(parse_time("2026-03-28T23:59", zone)));
    c.to = "2026-03-29T18:00";
    EXPECT_FALSE(validity_of(c, zone).holds_at(parse_time("2026-03-29T18:00", zone)));
    EXPECT_TRUE(validity_of(Correction{}, zone).holds_at(Instant{0}));
}

TEST(DamagedCorrections, AreRefusedInOneLineOrRead) {
    test::Damage damage(20260601);
    int read = 0;
    for (int i = 0; i < 5000; ++i) {
        try {
            const CorrectionFile file = parse_corrections(damage.of(file_text), "c.geojson");
            const std::string text = corrections_to_json(file);
            EXPECT_EQ(corrections_to_json(parse_corrections(text, "again")), text);
            ++read;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input) << e.what();
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos);
        }
    }
    EXPECT_GT(read, 10);
}

// The corpus of the fuzz target, replayed in every build.
TEST(CorrectionsCorpus, EveryEntryIsReadOrRefused) {
    int files = 0, read = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(test::source_path("tests/fuzz/corpus/exchange"))) {
        SCOPED_TRACE(entry.path().filename());
        ++files;
        std::string text;
        try {
            text = corrections_to_json(parse_corrections(test::slurp(entry.path().string()), "corpus"));
            ++read;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input) << e.what();
            continue;
        }
        EXPECT_EQ(corrections_to_json(parse_corrections(text, "again")), text);
    }
    EXPECT_GE(files, 6);
    EXPECT_EQ(read, 2);
}

}  // namespace
