// SPDX-License-Identifier: Apache-2.0
// A season given as budget jobs, a machine as rates, a plan as a machine was met with the first key that did
// not fit ("start is missing"): it should be said what the file is and where it belongs.
#include "loamway/text/document_kind.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace loamway {
namespace {

namespace fs = std::filesystem;
using Kind = DocumentKind;

std::string message(const std::string& text, Kind wanted, const std::string& file = "f.toml") {
    try {
        require_kind(parse_document(text, file, wanted), file, wanted);
    } catch (const Error& e) {
        return e.what();
    }
    return "";
}

std::string content(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

TEST(DocumentKind, SaysWhatItIsAndWhereItBelongs) {
    EXPECT_EQ(message("[[machine]]\nname = \"a\"\n[[job]]\nname = \"b\"\n", Kind::jobs),
              "f.toml: this looks like a season (it has [[machine]]), wanted here: a list of jobs "
              "(give it to `loamway season`)");
    EXPECT_EQ(
        message("{\"schema\": \"loamway.plan/1\"}", Kind::rates, "plan.json"),
        "plan.json: this looks like a plan (its schema is loamway.plan/1), wanted here: rates (give it to "
        "`loamway sheet` or `loamway export`)");
    EXPECT_EQ(
        message("{\"schema\": \"loamway.budget/1\"}", Kind::plan, "b.json"),
        "b.json: this looks like what a command answered (its schema is loamway.budget/1), wanted here: a "
        "plan (no command reads it back)");
    EXPECT_EQ(
        message("from = \"a\"\n", Kind::plan),
        "f.toml: this looks like a move (it has from), wanted here: a plan (give it to `loamway plan`)");
    // Both readers ask for what such a list lacks: it may be either.
    const std::string jobs_alone = "[conditions]\nair_c = 20\n[[job]]\nname = \"b\"\n";
    EXPECT_EQ(message(jobs_alone, Kind::season), "");
    EXPECT_EQ(message(jobs_alone, Kind::jobs), "");
    EXPECT_EQ(message("[state]\n", Kind::machine), "");
    EXPECT_EQ(message("Drive it: 28 km, 25 of them paved\n", Kind::plan, "p.txt").substr(0, 46),
              "p.txt:1: this is no JSON, wanted here: a plan");
}

TEST(DocumentKind, KnowsFilesThatAreNoDocuments) {
    const auto is = [](std::string_view text) { return kind_of_text(text).kind; };
    EXPECT_EQ(is(std::string_view("LOAMRGN\n\0\0", 10)), Kind::region);
    EXPECT_EQ(is(std::string_view("SQLite format 3\0\0", 17)), Kind::database);
    EXPECT_EQ(is(std::string_view("\0\0\0\x0D\x0A\x09OSMHeader", 15)), Kind::extract);
    EXPECT_EQ(is("<?xml version='1.0'?>\n<osm version=\"0.6\">"), Kind::extract);
    EXPECT_EQ(is("<?xml version='1.0'?>\n<gpx>"), Kind::xml);
    EXPECT_EQ(is("n1 v1 dV c0 t i0 u T x-35.5 y47.3\n"), Kind::extract);
    EXPECT_EQ(is("\xEF\xBB\xBFname;kind;lat;lon\nHome;;1;2\n"), Kind::table);
    EXPECT_EQ(is("length_km,surface,speed_kmh\n1,asphalt,20\n"), Kind::trip);
    EXPECT_EQ(is("PK\x03\x04"), Kind::archive);
    EXPECT_EQ(is(std::string_view("\x01\0\x02", 3)), Kind::binary);
    EXPECT_EQ(is("a, b and c, all of it prose."), Kind::unknown);
    EXPECT_EQ(is(""), Kind::unknown);
    EXPECT_NE(message(std::string("LOAMRGN\n\0", 9), Kind::move).find("give it as --region"),
              std::string::npos);
    EXPECT_NE(message("name,lat,lon\na,1,2\n", Kind::machine).find("as --places"), std::string::npos);
}

TEST(DocumentKind, PlacesAndCorrectionsAreToldApart) {
    const std::string head =
        "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\",\"properties\":";
    EXPECT_EQ(kind_of_text(head + "{\"name\":\"Yard\",\"kind\":\"stop\"}}]}").kind, Kind::places);
    EXPECT_EQ(kind_of_text(head + "{\"id\":\"c1\",\"kind\":\"stop\"}}]}").kind, Kind::corrections);
    EXPECT_EQ(kind_of_text(head + "{}}]}").kind, Kind::unknown);
}

// What can be read as what it is wanted for must never be taken for something else.
TEST(DocumentKind, EveryExampleIsWhatItIs) {
    const fs::path source = LOAMWAY_SOURCE_DIR;
    const std::vector<std::pair<std::string, Kind>> folders{
        {"examples/moves", Kind::move},     {"examples/jobs", Kind::jobs}, {"examples/season", Kind::season},
        {"examples/two-roads", Kind::move}, {"regions", Kind::recipe},     {"regions/limits", Kind::limits},
        {"examples", Kind::rates}};
    int seen = 0;
    const auto check = [&](const fs::path& file, Kind kind) {
        EXPECT_EQ(kind_of_text(content(file)).kind, kind) << file;
        ++seen;
    };
    for (const auto& [folder, kind] : folders)
        for (const auto& entry : fs::directory_iterator(source / folder))
            if (entry.path().extension() == ".toml")
                check(entry.path(), kind);
    for (const auto& entry : fs::directory_iterator(source / "examples/profiles"))
        check(entry.path(), entry.path().stem() == "low-bed" ? Kind::low_bed : Kind::machine);
    check(source / "regions/demo/places.geojson", Kind::places);
    check(source / "examples/moves/mixed.corrections.geojson", Kind::corrections);
    check(source / "examples/trips/hot-road.csv", Kind::trip);
    EXPECT_GT(seen, 25);
}

}  // namespace
}  // namespace loamway
