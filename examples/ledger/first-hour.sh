# SPDX-License-Identifier: Apache-2.0
# A first hour with the ledger, on the invented county. Where `loamway` is on the path and $SOURCE names the source
# tree (scripts/demo builds both):
#   SOURCE=. PATH=build:$PATH sh examples/ledger/first-hour.sh
# Dates are said only so that the story is the same whenever it is run; leave --at out for "now".
set -e
demo=$SOURCE/regions/demo
export LOAMWAY_LEDGER=${LOAMWAY_LEDGER:-first-hour.ledger}
loamway region build "$demo/demo.osm.pbf" -o first-hour.region --recipe "$demo.toml"

echo "== A machine, a new set of belts on it, and what the set needs before the road"
loamway ledger machine add red --profile "$SOURCE/examples/profiles/medium.toml" --at 2025-04-01T08:00Z
loamway ledger belts add red-2025 --machine red --fit --price 17000 --currency CU --at 2025-04-01T08:00Z
loamway breakin --belts red-2025 --ledger "$LOAMWAY_LEDGER" | head -1
loamway ledger height --machine red --mm 55,55.2,54.9,55,55.1,54.8,55,55.1,54.9,55 --at 2025-04-01T09:00Z

echo "== Powder, first work, a season of it"
loamway ledger relube --machine red --at 2025-04-02T07:00Z
loamway ledger field --machine red --hours 6 --ha 20 --at 2025-04-02T18:00Z
loamway ledger field --machine red --hours 140 --ha 500 --at 2025-05-20T18:00Z

echo "== A move: planned with what the ledger knows, driven, noted"
move() { # FROM TO DEPARTURE
    loamway plan --ledger "$LOAMWAY_LEDGER" --machine red --region first-hour.region --places "$demo/places.geojson" \
        --from "$1" --to "$2" --air 18 --modes drive --depart "$3" -o move.json | sed -n 1p
    loamway ledger move add move.json
}
move "Nettle Farm yard" "Long Forty" 2025-06-10T06:00
loamway ledger reading --machine red --c 47 --km 14 --kmh 30 --air 18 --after-min 2 --at 2025-06-10T07:40Z

echo "== The next move starts from there: powder while there is time, then the way counts from nothing"
loamway ledger relube --machine red --at 2025-06-11T05:45Z
move "Long Forty" "Kettle Quarter" 2025-06-11T06:00
loamway ledger field --machine red --hours 180 --ha 640 --at 2025-06-25T18:00Z

echo "== Ten bars again: what was learnt, and what to measure next"
loamway ledger height --machine red --mm 51.2,51.5,51,51.3,51.1,50.9,51.4,51.2,51.1,51.3 --at 2025-06-26T08:00Z
loamway ledger condition --machine red --guide-lugs-lost 1 --note "one guide lug cut by a stone" --at 2025-06-26T08:00Z
loamway ledger show red --as-of 2025-06-27T08:00Z

echo "== A slip of the pen is taken back, not rubbed out"
loamway ledger wash --machine red --at 2025-06-26T12:00Z
loamway ledger undo 15
loamway ledger show red --events --as-of 2025-06-26T13:00Z | tail -2

echo "== What the next job will take"
loamway budget "$SOURCE/examples/jobs/demo.toml" --ledger "$LOAMWAY_LEDGER" --machine red --region first-hour.region \
    -o quote.pdf | sed -n 2,6p
