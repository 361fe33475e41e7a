// SPDX-License-Identifier: Apache-2.0
// The state of belts out of what the store keeps beside the events is that of the events alone, whatever is
// noted late or undone; and stores of the first version are brought up.
#include <gtest/gtest.h>
#include <soci/soci.h>

#include <random>

#include "../../src/ledger/belt_tally.h"
#include "../../src/ledger/schema.h"
#include "loamway/base/error.h"
#include "test_store.h"

namespace loamway {
namespace {

using test::ledger_event;
using test::LedgerPlace;

class RandomWork {
public:
    explicit RandomWork(unsigned seed) : m_random(seed) {}
    int below(int n) { return static_cast<int>(m_random() % static_cast<unsigned>(n)); }
    Event event(std::int64_t at) {
        const auto e = [&](EventKind kind, Value data = Value::Object{}) {
            return ledger_event(kind, "red", "set", at, std::move(data));
        };
        switch (below(20)) {
            case 0:
                return e(EventKind::washed);
            case 1:
                return e(EventKind::lubricated);
            case 2:
                return e(EventKind::heights,
                         Value::Object{{"mm", Value::Array(12, Value(55 - 1e-5 * static_cast<double>(at)))}});
            case 3:
                return e(EventKind::condition,
                         Value::Object{{"guide_lugs_lost", below(2)}, {"chunking", below(2) == 0}});
            case 4:
                return e(EventKind::cost, Value::Object{{"amount", below(1000)}});
            case 5:
                return e(EventKind::fault, Value::Object{{"note", "a stone"}});
            case 6:
                return e(EventKind::reading, Value::Object{{"reading_c", 50 + below(30)},
                                                           {"after_stop_min", 1},
                                                           {"length_km", 12},
                                                           {"speed_kmh", 30},
                                                           {"air_c", 20},
                                                           {"bar_mm", 50}});
            case 7:
            case 8:
            case 9:
                return e(EventKind::moved, Value::Object{{"hard_m", 100 * below(200)},
                                                         {"gravel_m", below(5000)},
                                                         {"hours", 0.01 * below(100)},
                                                         {"sharp_turns", below(20)},
                                                         {"bar_peak_c", 60 + 0.1 * below(500)},
                                                         {"lubricated", below(3) == 0},
                                                         {"since_relube_m", below(9000)}});
            case 10:
                return e(EventKind::swapped);
            case 11:
                return e(EventKind::rotated);
            default:
                return e(EventKind::field_work, Value::Object{{"hours", 0.1 * below(100)}});
        }
    }

private:
    std::mt19937 m_random;
};

/// All that is added up and estimated, to the last bit.
std::string all_of(const BeltRecord& r) {
    std::string out = fmt::format("{} {} {} {} {} {} {} {} {} {} {} {}", r.machine, r.hours, r.field_hours,
                                  r.road_hours, r.hard_km, r.gravel_km, r.moves, r.run_in, r.washed, r.costs,
                                  r.since_lube_km.value_or(-1), r.faults.size());
    if (r.last_turn)
        out += fmt::format(" {} {} {}", name_of(r.last_turn->kind), r.last_turn->event,
                           r.last_turn->at.unix_seconds);
    for (const HotMove& m : r.hottest)
        out += fmt::format(" hot {} {}", m.event, m.bar_peak_c);
    for (const Survey& s : r.surveys)
        out += fmt::format(" survey {} {} {}", s.event, s.hours, s.mean_mm);
    for (const BeltReading& s : r.readings)
        out += fmt::format(" reading {} {} {}", s.event, s.note.reading_c, s.driven_since[3]);
    for (const WearRateEstimate& e : r.wear.rates)
        out += fmt::format(" rate {} {}", e.mean, e.sd);
    return out + fmt::format(" bars {} {} used {} lugs {} {}", r.bar_mm.value, r.bar_mm.low,
                             r.money_used.value, r.condition.guide_lugs_lost, r.condition.chunking);
}

TEST(LedgerKilled, KeptStatesSayWhatTheEventsSay) {
    const LedgerPlace store;
    Ledger ledger = store.open();
    test::add_red_and_set(ledger);
    RandomWork work(11);
    std::vector<std::int64_t> ids;
    const auto compare = [&](std::optional<Instant> until) {
        EventQuery q;
        q.belts = "set";
        q.until = until;
        const std::vector<Event> events = ledger.events(q);
        ASSERT_EQ(all_of(ledger.record("set", until)), all_of(belt_record(events, "set")));
    };
    for (int round = 0; round < 16; ++round) {
        std::vector<Event> batch;
        // Most are noted in their order, some late.
        for (int i = 0; i < 240; ++i)
            batch.push_back(work.event(
                1 + (work.below(40) == 0 && round > 12 ? work.below(240000) : 1000 * (240 * round + i))));
        for (const Written& w : ledger.write_all(batch))
            ids.push_back(w.id);
        compare({});
        compare(Instant{work.below(240000 * (round + 1))});
        if (round % 3 == 2) {
            Event undo = ledger_event(
                EventKind::undone, "", "", 5'000'000,
                Value::Object{
                    {"event", ids[static_cast<std::size_t>(work.below(static_cast<int>(ids.size())))]}});
            if (!ledger.is_undone(*undo.data.find("event")->as_integer()))
                (void)ledger.write(undo);
            compare({});
        }
    }
}

TEST(BeltTally, WhatIsKeptGoesOnAsIfNothingHadHappened) {
    RandomWork work(5);
    std::vector<Event> events{
        ledger_event(EventKind::belts_added, "", "set", 0,
                     Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}, {"price", 16000}})};
    for (int i = 1; i < 400; ++i)
        events.push_back(work.event(1000 * i));
    BeltTally straight("set"), kept("set");
    for (const Event& e : events) {
        straight.add(e);
        kept = BeltTally::from_value(parse_json(to_json(kept.to_value()), "kept"), "set");
        kept.add(e);
    }
    EXPECT_EQ(all_of(kept.record()), all_of(straight.record()));
    EXPECT_THROW((void)BeltTally::from_value(parse_json(R"({"was_added":true})", "kept"), "set"), Error);
}

TEST(LedgerMigration, AStoreOfTheFirstVersionIsBroughtUp) {
    const test::TempDir folder;
    const std::string place = folder.file("old.ledger");
    {
        soci::session sql("sqlite3", "db=\"" + place + "\"");
        for (const std::string& statement : ledger_tables.migration_to(1, true))
            sql << statement;
        sql << "insert into ledger_event (happened, noted, kind, machine, belts, person, token, data, undoes) values "
               "(5, 6, 2, '', 'set', 'jo', '', '{\"new_bar_mm\":55,\"worn_mm\":15,\"hours\":7}', null)";
    }
    try {
        (void)Ledger::open(place, LedgerUse::read);
        ADD_FAILURE() << "an old store was read";
    } catch (const Error& e) {
        EXPECT_NE(std::string(e.what()).find("any writing command brings it up"), std::string::npos)
            << e.what();
    }
    const Ledger ledger = Ledger::open(place, LedgerUse::write);
    EXPECT_DOUBLE_EQ(ledger.record("set").hours, 7);
    EXPECT_DOUBLE_EQ(Ledger::open(place, LedgerUse::read).record("set").hours, 7);
    ledger.verify();
}

}  // namespace
}  // namespace loamway
