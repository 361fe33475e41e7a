// SPDX-License-Identifier: Apache-2.0
// Every number of every example document given as what no number should be: refused by one line that says
// where and within what range, or worked with; never carried through. Options: hostile_options_test.cpp.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/desk/desk.h"
#include "loamway/haul/limits.h"
#include "loamway/plan/plan.h"
#include "loamway/profile/recipe.h"
#include "loamway/season/jobs.h"
#include "loamway/season/season_list.h"
#include "support/demo_region.h"
#include "support/plan_invariants.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::slurp;
using test::source_path;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// As TOML and as JSON write them; JSON has no words for the first four and is refused as no JSON.
constexpr const char* hostile[] = {"nan",
                                   "inf",
                                   "-inf",
                                   "+nan",
                                   "-0.0",
                                   "0",
                                   "-1",
                                   "1e308",
                                   "-1e308",
                                   "1e999",
                                   "1e-300",
                                   "5e-324",
                                   "1e19",
                                   "9223372036854775807",
                                   "-9223372036854775808",
                                   "99999999999999999999",
                                   "0.1",
                                   "1.5"};

struct Number {
    std::size_t at = 0, size = 0;  // in the text
    std::string key;
};

bool of_number(char c) {
    return (c >= '0' && c <= '9') || c == '.' || c == '-' || c == '+' || c == 'e';
}

/// The numbers of a document, outside text and comments: what follows "key =" or "key :", alone or in a list.
std::vector<Number> numbers_of(const std::string& text, bool json) {
    std::vector<Number> out;
    std::string key, word;
    bool value = json;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '"') {
            const std::size_t end = text.find('"', i + 1);
            word = text.substr(i + 1, end - i - 1);
            i = end;
        } else if (!json && c == '#') {
            i = text.find('\n', i) - 1;
        } else if (c == '\n' && !json) {
            // A list may go on; a new line without one starts with a key.
            value = false;
            word.clear();
        } else if (c == (json ? ':' : '=')) {
            key = word;
            word.clear();
            value = true;
        } else if (value && of_number(c) && !std::isalpha(static_cast<unsigned char>(text[i - 1]))) {
            const std::size_t from = i;
            while (i < text.size() && of_number(text[i]))
                ++i;
            if (!std::isalpha(static_cast<unsigned char>(text[i])))
                out.push_back({from, i - from, key});
            --i;
        } else if (!value && c != ' ') {
            word += c;
        }
    }
    return out;
}

struct Tried {
    int numbers = 0, values = 0, refused = 0, taken = 0;
};

/// `use` reads the document and works with it; what it throws has to be an input or limit Error with a place
/// that names the key, or the line where the text itself cannot be read.
void try_document(const std::string& text, bool json, const std::function<void(const Value&)>& use, Tried& n,
                  const std::string& file) {
    for (const Number& number : numbers_of(text, json)) {
        ++n.numbers;
        for (const char* value : hostile) {
            ++n.values;
            std::string changed = text;
            changed.replace(number.at, number.size, value);
            SCOPED_TRACE(fmt::format("{}: {} = {}", file, number.key, value));
            try {
                use(json ? parse_json(changed, file) : parse_toml(changed, file));
                ++n.taken;
            } catch (const Error& e) {
                ++n.refused;
                const std::string line = e.what();
                EXPECT_TRUE(e.kind() == ErrorKind::input || e.kind() == ErrorKind::limit) << line;
                EXPECT_EQ(line.find('\n'), std::string::npos) << line;
                EXPECT_THAT(line, HasSubstr(file)) << "no place";
                EXPECT_TRUE(!e.place().item.empty() || e.place().line) << line;
            }
        }
    }
}

std::vector<std::string> examples(const std::string& folder) {
    std::vector<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(source_path(folder)))
        if (entry.path().extension() == ".toml")
            out.push_back(folder + "/" + entry.path().filename().string());
    std::sort(out.begin(), out.end());
    return out;
}

class HostileNumbers : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_folder = new test::TempDir;
        test::write_demo_region(s_folder->file("demo.region"));
        s_kept.region = std::make_shared<const Region>(Region::open(s_folder->file("demo.region")));
        s_kept.places = std::make_shared<const std::vector<PlaceEntry>>(
            read_places(source_path("regions/demo/places.geojson")));
        s_kept.roads = std::make_shared<KeptRoads>(s_kept.region->view());
    }
    static void TearDownTestSuite() {
        s_kept = {};
        delete s_folder;
    }
    /// The demo move with one of its parts another; planned, and all that must hold checked.
    static void plan_with(const std::function<void(MoveRequest&)>& change) {
        MoveRequest r;
        r.region = s_folder->file("demo.region");
        r.from = "Nettle Farm yard";
        r.to = "Long Forty";
        r.machine = source_path("examples/profiles/medium.toml");
        r.depart = "2026-07-14T13:00";
        r.trials = 3;
        r.modes = {"drive", "haul"};
        change(r);
        if (r.trials > 3)
            r.trials = 3;
        r.places.reset();
        const Prepared p = prepare(r, s_kept, {1784000000});
        PlanInputs in = p.inputs;
        in.front = false;
        in.other_hours = false;
        EXPECT_THAT(test::check_invariants(make_plan(in)), IsEmpty());
    }
    /// As written, and as JSON, for which reading is enough: the values are the same.
    static void in_both_forms(const std::string& file, const std::function<void(const Value&)>& use,
                              const std::function<void(const Value&)>& read, Tried& n) {
        const std::string text = slurp(source_path(file));
        try_document(text, false, use, n, file);
        try_document(to_json(parse_toml(text, file), 1), true, read, n, file);
    }
    static void in_both_forms(const std::string& file, const std::function<void(const Value&)>& read,
                              Tried& n) {
        in_both_forms(file, read, read, n);
    }
    static inline test::TempDir* s_folder = nullptr;
    static inline KeptOpen s_kept;
};

void report(const char* what, const Tried& n) {
    std::printf("%s: %d numbers, %d values, %d refused, %d worked with\n", what, n.numbers, n.values,
                n.refused, n.taken);
}

TEST_F(HostileNumbers, OfMachines) {
    Tried n;
    for (const std::string& file : examples("examples/profiles")) {
        if (file.find("low-bed") != std::string::npos)
            continue;
        const auto read = [&](const Value& v) { (void)read_machine(v, file); };
        const auto plan = [&](const Value& v) {
            plan_with([&](MoveRequest& r) {
                r.machine_table = v;
                r.machine.reset();
                r.said_at["machine"] = {file, {}, "machine"};
            });
        };
        if (file.find("half-track") != std::string::npos)
            in_both_forms(file, plan, read, n);
        else
            in_both_forms(file, read, n);
    }
    report("machines", n);
    EXPECT_GT(n.numbers, 100);
}

TEST_F(HostileNumbers, OfALowBed) {
    Tried n;
    const std::string file = "examples/profiles/low-bed.toml";
    in_both_forms(
        file,
        [&](const Value& v) {
            plan_with([&](MoveRequest& r) {
                r.low_bed_table = v;
                r.said_at["trailer"] = {file, {}, "trailer"};
            });
        },
        [&](const Value& v) { (void)read_low_bed(v, file); }, n);
    report("low-bed", n);
    EXPECT_GT(n.numbers, 60);
}

// A stop of 5e-324 minutes made every temperature after it no number at all.
TEST_F(HostileNumbers, OfRates) {
    Tried n;
    const std::string file = "examples/rates.toml";
    in_both_forms(
        file,
        [&](const Value& v) {
            plan_with([&](MoveRequest& r) {
                r.rates_table = v;
                r.said_at["rates"] = {file, {}, "rates"};
            });
        },
        [&](const Value& v) { (void)read_rates(v, file); }, n);
    report("rates", n);
    EXPECT_GT(n.numbers, 80);
}

TEST_F(HostileNumbers, OfMoves) {
    Tried n;
    const std::string file = "move.toml";
    // Every number a move may have.
    const std::string text =
        "detour_cap = 0.6\nsnap_km = 1\nfront_point = 1\ntrials = 3\nseed = 1\n"
        "[conditions]\nair_c = 20\nsun = 0.5\n[belts_state]\nhours = 200\nsince_lube_km = 2\nbar_mm = 50\n"
        "[[what_else_moves]]\nname = \"header\"\nhow = \"same-deck\"\nmass_kg = 3000\nlength_m = 4\nload_min = 15\n"
        "[[what_else_moves]]\nname = \"tank\"\nhow = \"own-trip\"\ncost = 90\n";
    const std::string day = "[conditions]\nair_min_c = 10\nair_max_c = 30\ncloud = 0.5\n";
    const auto use = [&](const Value& v) {
        plan_with([&](MoveRequest& r) {
            r = merge(r, read_move(v, file));
            for (auto& [key, place] : r.said_at)
                place.file = file;
        });
    };
    for (const std::string& t : {text, day}) {
        try_document(t, false, use, n, file);
        try_document(to_json(parse_toml(t, file), 1), true, use, n, file);
    }
    report("moves", n);
    EXPECT_GT(n.numbers, 30);
}

TEST_F(HostileNumbers, OfRecipesLimitsJobsAndSeasons) {
    Tried n;
    for (const std::string& folder : {std::string("regions"), std::string("regions/limits")})
        for (const std::string& file : examples(folder))
            in_both_forms(
                file,
                [&](const Value& v) {
                    if (folder == "regions")
                        (void)read_recipe(v, file);
                    else
                        (void)read_limits_table(v, file);
                },
                n);
    in_both_forms(
        "examples/jobs/demo.toml", [](const Value& v) { (void)read_jobs(v, "examples/jobs/demo.toml"); }, n);
    in_both_forms(
        "examples/season/demo.toml",
        [](const Value& v) { (void)read_season(v, "examples/season/demo.toml"); }, n);
    report("recipes, limits, jobs, seasons", n);
    EXPECT_GT(n.numbers, 150);
}

}  // namespace
}  // namespace loamway
