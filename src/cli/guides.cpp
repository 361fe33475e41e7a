// SPDX-License-Identifier: Apache-2.0
#include "guides.h"

#include <algorithm>
#include <array>

namespace loamway {

namespace {

constexpr auto all_guides = std::to_array<Guide>({
    {"",
     "Reads OpenStreetMap extracts, finds the ways with the least paved length, cost and time, places the stops "
     "where belts are powdered, works out heat and wear of the belts, compares driving with hauling, and writes "
     "what people act on. It flags and permits nothing: local codes, the road authority and the makers' manuals "
     "decide.",
     "loamway region build regions/demo/demo.osm.pbf -o demo.region --recipe regions/demo.toml\n"
     "loamway plan examples/moves/demo.toml --region demo.region -o plan.json\n"
     "loamway sheet plan.json --region demo.region -o stops.pdf\n"
     "loamway export plan.json -o track.gpx"},
    {"region", "A region file holds the roads of an extract, ready to plan on. Build it once for each map.",
     "loamway region info demo.region"},
    {"region build",
     "Reads one or more extracts and makes one region file. The recipe says what holds in that part of the world "
     "and is not in its map: time zone, units, widths, how likely untagged roads are paved. With elevation roads "
     "get heights; without, flat is assumed. The file appears whole or not at all.",
     "loamway region build regions/demo/demo.osm.pbf -o demo.region --recipe regions/demo.toml \\\n"
     "                     --elevation regions/demo/hills.tif"},
    {"region info",
     "Says what a region holds: kilometres by surface, known and assumed, dates, bounds, digest.",
     "loamway region info demo.region --json"},
    {"region verify",
     "Reads the whole file and compares every sum. Status 1: it is not as it was written; build it again.",
     "loamway region verify demo.region"},
    {"region roads",
     "One line a road: class, known or assumed, probabilities, length and the reason, to look at what a map's tags "
     "led to.",
     "loamway region roads demo.region --csv"},
    {"plan",
     "Plans one move: drive it, haul it or a part of each; along which roads, how fast, with which stops; what it "
     "costs and what the belts pay. Everything nobody said is assumed and listed. Status 3: a valid question, but "
     "nothing can be done; the plan is printed and says why. A move document says what flags cannot: "
     "loading_places = [\"LAT,LON\", \"NAME\"], where machine and low-bed can meet besides the places of the map; haul_from "
     "= \"2026-07-14T16:00\", when the low-bed can be there at the earliest; [[what_else_moves]], [conditions], "
     "[belts_state].",
     "loamway plan --region demo.region --places regions/demo/places.geojson \\\n"
     "             --from \"Nettle Farm yard\" --to \"Long Forty\" \\\n"
     "             --machine examples/profiles/medium.toml --belts run-in --air 28\n"
     "loamway plan examples/moves/demo.toml --region demo.region -o plan.json\n"
     "loamway plan examples/moves/demo.toml --region demo.region --depart 2026-07-14 --when 5-21"},
    {"load",
     "How to get a machine onto a low-bed: outriggers, boards and ramp, where it stands, axle loads, tie-downs, "
     "height and width beside published limits, without cutting belts. Status 3: not like this.",
     "loamway load --machine examples/profiles/medium.toml --trailer examples/profiles/low-bed.toml\n"
     "loamway load --machine examples/profiles/medium.toml --limits regions/limits/eu-96-53.toml -o loading.pdf"},
    {"sheet",
     "Writes the sheet for the cab, the phone, the low-bed's driver or the escort from a plan, or one of its "
     "pictures. Several plans make a day's sheets with a front page.",
     "loamway sheet plan.json --region demo.region -o stops.pdf\n"
     "loamway sheet plan.json --region demo.region -o phone.html\n"
     "loamway sheet plan.json --for low-bed --option haul --move examples/moves/demo.toml -o low-bed.pdf\n"
     "loamway sheet plan.json --picture break-even -o break-even.svg"},
    {"export",
     "Writes a plan for navigators and map programs: track, short route and waypoints (GPX), lines and stops "
     "(GeoJSON, KML, GeoPackage) or the stops as a table (CSV). The ending of -o says which.",
     "loamway export plan.json -o track.gpx\n"
     "loamway export plan.json --option haul -o haul.geojson"},
    {"correct",
     "What only you know, laid over a region without a new build: surfaces, closures, limits, gates, places to "
     "stop and to load. Corrections are kept in a file of their own beside the region and outlive a newer map.",
     "loamway correct list --region demo.region"},
    {"correct add",
     "Notes one correction. Status 2: it lies on no road or would change nothing; then nothing is written.",
     "loamway correct add --region demo.region --kind stop --at 47.1367787,-35.5303512 \\\n"
     "                    --value \"elevator apron\" --by Jo\n"
     "loamway correct add --region demo.region --kind closed --at 47.1367787,-35.5303512 \\\n"
     "                    --from 2026-07-13 --to 2026-07-24 --note \"bridge works\""},
    {"correct list", "The corrections with their ids, and when they hold.",
     "loamway correct list --region demo.region --json"},
    {"correct remove", "Takes one correction out, by its id.",
     "loamway correct remove c2 --region demo.region"},
    {"correct check",
     "Whether the corrections still match the map, for instance after a new build. Status 3: at least one no "
     "longer matches, changes nothing, or says other than another.",
     "loamway correct check --region demo.region"},
    {"tags", "How the tags of one road are read, and why: surface, access, limits.",
     "loamway tags highway=track tracktype=grade2 maxweight=12"},
    {"belt",
     "Heat, wear and fuel of belts along a trip that is given piece by piece, without a map. The table has the "
     "columns length_km, surface and speed_kmh, and may have grade_pct, air_c, sun and stop_min. With --flank a "
     "reading settles the estimate of heat.",
     "loamway belt examples/trips/hot-road.csv --machine examples/profiles/medium.toml --air 30\n"
     "loamway belt examples/trips/hot-road.csv --machine examples/profiles/medium.toml --air 25 --flank 1,61"},
    {"breakin",
     "What new or washed belts need before the road, and the first 100 hours: a list to print and tick. Plans keep to "
     "its speeds.",
     "loamway breakin --machine examples/profiles/medium.toml --air 28"},
    {"ledger",
     "A ledger notes what happened to machines and belts and adds it up: hours, km, powder, wear, money. It is one "
     "file, made on first use, or a PostgreSQL database; events are added, never changed. Plans that name it know "
     "the belts as they are. No region is read here: times say their zone, by Z or an offset such as +02:00.",
     "loamway ledger machine add red --profile examples/profiles/medium.toml --at 2025-04-01T08:00Z"},
    {"ledger machine", "Machines of the ledger.", ""},
    {"ledger machine add",
     "Gives a machine its name and its profile; a later profile replaces the one before.",
     "loamway ledger machine add red --profile examples/profiles/medium.toml --at 2025-04-01T08:00Z"},
    {"ledger belts", "Sets of belts of the ledger.", ""},
    {"ledger belts add", "A new set of belts, on a machine at once with --fit.",
     "loamway ledger belts add red-2025 --machine red --fit --price 17000 --currency CU \\\n"
     "                         --at 2025-04-01T08:00Z\n"
     "loamway ledger belts add spare --machine red --run-in --hours 400"},
    {"ledger belts fit", "Puts a set on a machine that carries none.",
     "loamway ledger machine add blue --profile examples/profiles/small.toml\n"
     "loamway ledger belts fit spare --machine blue"},
    {"ledger belts remove", "Takes a set off its machine and notes the cause, which later forecasts count.",
     "loamway ledger belts remove red-2025 --cause season\n"
     "loamway ledger belts fit red-2025 --machine red"},
    {"ledger belts swap", "Notes that left and right belt were changed over.",
     "loamway ledger belts swap red-2025"},
    {"ledger belts rotate", "Notes that the belts were turned to run the other way round.",
     "loamway ledger belts rotate red-2025"},
    {"ledger move", "Moves by road that were driven.", ""},
    {"ledger move add",
     "Notes a move that was driven: as planned, from a plan, with what was otherwise in reality; or its kilometres "
     "by surface.",
     "loamway ledger move add plan.json --machine red --driven-km 28.4\n"
     "loamway ledger move add --machine red --paved-km 12 --gravel-km 3 --hours 0.6 --lubricated"},
    {"ledger field", "Notes work in the field, which wears belts too.",
     "loamway ledger field --machine red --hours 6 --ha 20"},
    {"ledger relube", "Notes dry powder on the inside of the belts: kilometres count from there.",
     "loamway ledger relube --machine red"},
    {"ledger wash", "Notes that belts were washed or went through a ford: no powder is left on them.",
     "loamway ledger wash --machine red"},
    {"ledger reading",
     "Notes an infrared reading of a tread bar after a run at one speed. Readings settle the estimate of heat for "
     "this machine.",
     "loamway ledger reading --machine red --c 47 --km 14 --kmh 30 --air 18 --after-min 2"},
    {"ledger height",
     "Notes the heights of tread bars, the same bars each time; ten or more at two surveys teach how fast they "
     "wear.",
     "loamway ledger height --machine red --mm 55,55.2,54.9,55,55.1,54.8,55,55.1,54.9,55"},
    {"ledger condition", "Notes what the belts look like since the last look.",
     "loamway ledger condition --machine red --guide-lugs-lost 1 --note \"cut by a stone\""},
    {"ledger fault", "Notes that something went wrong.",
     "loamway ledger fault --machine red --note \"left roller hot\""},
    {"ledger cost", "Notes money spent on a machine or its belts.",
     "loamway ledger cost --machine red --amount 120 --currency CU --note powder"},
    {"ledger show",
     "What it all adds up to: hours, km, bar height, money, what was learnt, when wear would end the set. The "
     "hottest moves are estimates, no evidence of a belt's condition.",
     "loamway ledger show red\n"
     "loamway ledger show red --events"},
    {"ledger export", "Every event, one JSON object a line, to keep or to carry to another store.",
     "loamway ledger export -o events.jsonl"},
    {"ledger import", "Adds events as exported; those that are there already are left alone.",
     "loamway ledger import events.jsonl --ledger copy.ledger"},
    {"ledger undo", "Takes an event back by another event; both stay.", "loamway ledger undo 3"},
    {"ledger verify", "Whether the store is whole and its sums are what its events say.",
     "loamway ledger verify --json"},
    {"budget",
     "What a list of jobs and the moves between them take: belts, fuel, time, money, drive or haul, what if; and a "
     "quote for the customer. Status 3: a move cannot be done; it is named and left out of the sums.",
     "loamway budget examples/jobs/demo.toml --region demo.region -o quote.pdf"},
    {"season",
     "Which machine does which job in which order and when, each move driven, hauled or mixed, low-beds shared, for "
     "the least total cost. Status 3: a job cannot be done; it is named with its reasons, the others are done.",
     "loamway season examples/season/demo.toml --region demo.region -o season.pdf"},
    {"serve",
     "Serves the page and the same over HTTP, for this computer unless --listen says otherwise. The first line on "
     "standard output is the page's address, once it answers. Ctrl-C ends it.",
     "loamway serve --region demo.region\n"
     "loamway serve --region demo.region --listen 0.0.0.0 --ledger farm.ledger",
     false},
    {"batch",
     "Plans many moves, one a line: {\"id\": ..., and the keys of a move}; machine and trailer are names of "
     "profiles, or tables. Answers keep the order; a line that cannot be answered gets an error and stops nothing "
     "(status 0). With --queue the moves go to workers on other computers.",
     "loamway batch --region demo.region --places regions/demo/places.geojson \\\n"
     "              -o plans.jsonl --summary plans.csv < examples/moves/day.jsonl\n"
     "loamway batch --region demo.region --places regions/demo/places.geojson \\\n"
     "              -o plans.jsonl --resume < examples/moves/day.jsonl"},
    {"worker",
     "Plans the moves of a queue, on any number of computers. A move is taken only by a worker with the same "
     "region, places, corrections, profiles and version as its publisher. Each answer is stored before it is "
     "acknowledged; what a worker had when it died goes to another. Ctrl-C or SIGTERM: what it has begun it ends. "
     "Status 1: queue or store stayed away. Passwords are never printed; keep them in files, not in arguments.",
     "loamway worker --queue nats://broker:4222 --region demo.region \\\n"
     "               --results postgresql://loamway@database/loamway",
     false},
});

constexpr auto words = std::to_array<StatusWords>({
    {0, "done"},
    {1, "the work failed: damaged region, disk full, unreadable file"},
    {2, "wrong command line or input: one line says where, what is wrong and what to do"},
    {3, "a valid question, but something asked for cannot be done; the answer is printed and says why"},
});

}  // namespace

std::span<const Guide> guides() {
    return all_guides;
}

const Guide* guide_of(std::string_view command) {
    const auto at = std::find_if(all_guides.begin(), all_guides.end(),
                                 [&](const Guide& g) { return g.command == command; });
    return at == all_guides.end() ? nullptr : &*at;
}

std::span<const StatusWords> status_words() {
    return words;
}

}  // namespace loamway
