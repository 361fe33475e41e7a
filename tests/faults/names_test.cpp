// SPDX-License-Identifier: Apache-2.0
// Strangers' names (of roads, places, machines) that are made to move a cursor, turn a line round, run in a
// spreadsheet or a browser, or break a file: nothing of that reaches a terminal, and every file is
// well-formed.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "loamway/base/file.h"
#include "loamway/build/build.h"
#include "loamway/text/value.h"
#include "program.h"
#include "support/region_bytes.h"

namespace loamway {
namespace {

/// Escape sequences, C0 and C1 controls, overrides and isolates, separators, what is no character; emoji,
/// zero width, right to left and combining marks; markup, formulas, quotes, commas; long.
const std::string evil =
    "\x1b[2J\x1b]0;x\x07 \xC2\x9B"
    "31m \x7F \xE2\x80\xAE"
    "evil\xE2\x80\xAC \xE2\x81\xA6 \xE2\x80\xA8 \xEF\xBB\xBF "
    "\xEF\xBF\xBE \xE2\x80\x8B \xF0\x9F\x9A\x9C \xD9\x85\xD8\xB1 a\xCC\x81\xCC\x82 "
    "\"><script>alert(1)</script>&amp;]]>-->'\\,;\n\r\t%s{}";
/// A map's names have no limit; those of people's own places do.
const std::string long_evil = evil + " \xEF\xB7\x90 " + std::string(400, 'w');

std::string changed(std::string_view name, std::size_t i, const std::string& by = evil) {
    constexpr std::string_view starts[] = {"=1+1", "@SUM(1)", "-2+3",     "+cmd|",
                                           "\t=1", "<b>",     "\x1b[31m", "\r=1"};
    return std::string(starts[i % std::size(starts)]) + std::string(name) + by;
}

/// The invented county, every name in it made strange.
void write_evil_region(const std::string& path) {
    RegionData data =
        assemble(read_extract(test::source_path("regions/demo/demo.osm.pbf"), {}), {}, "demo", {});
    std::set<std::uint32_t> names;
    for (const EdgeRecord& e : data.edges)
        names.insert(e.name);
    for (const PlaceRecord& p : data.places)
        names.insert(p.name);
    for (const StopPlaceRecord& s : data.stop_places)
        names.insert(s.name);
    std::string bytes;
    std::vector<std::uint32_t> first;
    for (std::uint32_t s = 0; s + 1 < data.string_first.size(); ++s) {
        first.push_back(static_cast<std::uint32_t>(bytes.size()));
        const std::string text(data.string_bytes.begin() + data.string_first[s],
                               data.string_bytes.begin() + data.string_first[s + 1]);
        bytes += s > 0 && names.count(s) > 0 ? changed(text, s, long_evil) : text;
    }
    first.push_back(static_cast<std::uint32_t>(bytes.size()));
    data.string_first = first;
    data.string_bytes.assign(bytes.begin(), bytes.end());
    write_region(data, path);
}

class Names : public ::testing::Test {
protected:
    void SetUp() override {
        write_evil_region(m_dir.file("evil.region"));
        const std::string places = test::slurp(test::source_path("regions/demo/places.geojson"));
        std::size_t i = 0;
        Value::Array made;
        const Value all = parse_json(places, "places");
        for (const Value& f : *all.find("features")->as_array()) {
            const std::string name = changed(*f.find("properties")->find("name")->as_string(), i++);
            made.push_back(Value::Object{{"type", "Feature"},
                                         {"properties", Value::Object{{"name", name}}},
                                         {"geometry", *f.find("geometry")}});
        }
        m_dir.write("evil.geojson", to_json(Value::Object{{"type", "FeatureCollection"},
                                                          {"features", Value(std::move(made))}}));
        Value machine{Value::Object{}};
        machine.set("name", changed("machine", 0));
        const Value medium = parse_toml(test::slurp(test::source_path("examples/profiles/medium.toml")), "m");
        for (const auto& [key, value] : *medium.as_object())
            if (key != "name")
                machine.set(key, value);
        m_machine = to_json(machine);
    }
    [[nodiscard]] std::string file(std::string_view name) const { return m_dir.file(name); }
    /// Runs it; its two outputs are well for a terminal.
    test::Ran run(const std::vector<std::string>& arguments, int status = 0) {
        const test::Ran ran = test::run_program(arguments, {.folder = m_dir.path()});
        EXPECT_EQ(ran.status, status) << arguments[0] << " " << arguments[1] << ": " << ran.err;
        EXPECT_EQ(test::unprintable_in(ran.out), "") << arguments[0];
        EXPECT_EQ(test::unprintable_in(ran.err), "") << arguments[0];
        return ran;
    }
    void plan() {
        m_dir.write(
            "move.json",
            R"({"from":"Nettle","to":"Kettle","region":"evil.region","places":"evil.geojson","trials":20,)"
            R"("belts":"run-in","conditions":{"air_c":18},"machine":)" +
                m_machine + "}");
        run({"plan", "move.json", "-o", "plan.json"});
        run({"plan", "move.json", "--json"});
    }
    test::TempDir m_dir;
    std::string m_machine;
};

/// A cell that a spreadsheet would run, or empty.
std::string formula_in(const std::string& csv) {
    bool quoted = false;
    std::string cell;
    for (const char c : csv + "\n") {
        if (c == '"') {
            quoted = !quoted;
            continue;
        }
        if (!quoted && (c == ',' || c == '\n')) {
            if (!cell.empty() && std::string_view("=+-@").find(cell[0]) != std::string_view::npos &&
                cell.find_first_not_of("0123456789.-e") != std::string::npos)
                return cell;
            cell.clear();
            continue;
        }
        cell += c;
    }
    return {};
}

bool is_xml(const std::string& path) {
    // Expat's rules, by the reader of extracts' format; the tool is in every developer's system.
    return std::system(("python3 -c 'import sys,xml.dom.minidom as m; m.parse(sys.argv[1])' '" + path +
                        "' >/dev/null 2>&1")
                           .c_str()) == 0;
}

TEST_F(Names, ReachNoTerminalAndBreakNoFile) {
    ASSERT_TRUE(is_xml(test::source_path("examples/pictures/parts.svg"))) << "no python3 to read XML with";
    plan();
    for (const char* sheet : {"s.pdf", "s.svg", "s.png", "s.html", "s.txt"})
        run({"sheet", "plan.json", "--region", "evil.region", "-o", sheet});
    for (const char* picture : {"choices", "cost", "break-even"})
        run({"sheet", "plan.json", "--picture", picture, "-o", std::string(picture) + ".svg"});
    for (const char* track : {"t.gpx", "t.kml", "t.geojson", "t.csv", "t.gpkg"})
        run({"export", "plan.json", "-o", track});
    for (const char* xml : {"s.svg", "choices.svg", "cost.svg", "break-even.svg", "t.gpx", "t.kml"}) {
        EXPECT_TRUE(is_xml(file(xml))) << xml;
        EXPECT_EQ(test::unprintable_in(test::slurp(file(xml))), "") << xml;
    }
    for (const char* text : {"s.txt", "s.html", "t.csv", "plan.json", "t.geojson"})
        EXPECT_EQ(test::unprintable_in(test::slurp(file(text))), "") << text;
    EXPECT_EQ(test::slurp(file("s.html")).find("<script>alert"), std::string::npos);
    EXPECT_EQ(formula_in(test::slurp(file("t.csv"))), "");
    EXPECT_NO_THROW((void)parse_json(test::slurp(file("t.geojson")), "t"));
}

TEST_F(Names, OfRegionsLedgersAndBatches) {
    run({"region", "info", "evil.region"});
    run({"region", "info", "evil.region", "--json"});
    EXPECT_EQ(formula_in(run({"region", "roads", "evil.region", "--csv"}).out), "");
    m_dir.write("machine.toml", test::slurp(test::source_path("examples/profiles/medium.toml")));
    run({"ledger", "machine", "add", "=1+1 \xF0\x9F\x9A\x9C", "--profile", "machine.toml", "--ledger", "l"});
    run({"ledger", "machine", "add", evil, "--profile", "machine.toml", "--ledger", "l"}, 2);
    run({"ledger", "belts", "add", "@s\"<b>", "--machine", "=1+1 \xF0\x9F\x9A\x9C", "--fit", "--ledger",
         "l"});
    run({"ledger", "condition", "--machine", "=1+1 \xF0\x9F\x9A\x9C", "--note", evil, "--ledger", "l"});
    run({"ledger", "show", "--ledger", "l"});
    run({"ledger", "export", "--ledger", "l"});
    m_dir.write("c.geojson", test::no_corrections);
    run({"correct", "add", "--region", "evil.region", "--kind", "closed", "--at", "47.2411,-35.39957",
         "--note", evil, "--by", evil, "--corrections", "c.geojson"},
        0);
    run({"correct", "list", "--region", "evil.region", "--corrections", "c.geojson"});
    const Value id(changed("move", 6));
    m_dir.write(
        "moves",
        to_json(Value::Object{{"id", id}, {"from", "Nettle"}, {"to", "Kettle"}, {"machine", "medium"}}) +
            "\n" + to_json(Value::Object{{"id", "x"}, {"from", evil}, {"to", "Kettle"}}) + "\n");
    const test::Ran ran = test::run_program({"batch", "--region", "evil.region", "--places", "evil.geojson",
                                             "-o", "answers", "--summary", "summary.csv"},
                                            {.folder = m_dir.path(), .input = file("moves")});
    EXPECT_EQ(ran.status, 0) << ran.err;
    for (const char* text : {"answers", "summary.csv"})
        EXPECT_EQ(test::unprintable_in(test::slurp(file(text))), "") << text;
    EXPECT_EQ(formula_in(test::slurp(file("summary.csv"))), "");
}

}  // namespace
}  // namespace loamway
