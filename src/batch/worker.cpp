// SPDX-License-Identifier: Apache-2.0
// A worker: takes moves from the queue, plans them on all cores, keeps the answers, then acknowledges.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <exception>
#include <list>
#include <mutex>
#include <set>
#include <thread>
#include <utility>
#include <vector>

#include "broker.h"
#include "loamway/base/error.h"
#include "loamway/base/mapped_files.h"
#include "loamway/batch/queue.h"
#include "loamway/text/value.h"
#include "patient_store.h"
#include "queue_message.h"

namespace loamway {

namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

constexpr milliseconds longest_wait{500};                // for one move; as long may a stop go unnoticed
constexpr milliseconds short_wait{20};                   // the same where several regions take turns
constexpr double longest_between_looks = 10;             // seconds, at what waits in the queue
constexpr auto longest_move = std::chrono::minutes(15);  // no sign of life after that: it may hang
constexpr std::uint64_t suspect_tries = 3;        // from here on a move is planned with nothing beside it
constexpr std::size_t in_hand_a_thread = 2;       // the one being planned and the next
constexpr std::string_view no_run = "set-aside";  // where messages go that are no moves

double seconds_since(Clock::time_point t) {
    return std::chrono::duration<double>(Clock::now() - t).count();
}

std::string record_of(const std::string& id_json, const Error& e) {
    return to_json(Value::Object{
        {"id", parse_json(id_json, "id")},
        {"error", Value::Object{{"kind", error_kind_name(e.kind())}, {"message", std::string(e.what())}}}});
}

/// A region the worker holds, and how its moves come.
struct Held {
    const Shelf* shelf = nullptr;
    CorrectionsWatch corrections;  // from before the digests were taken
    ShelfKey key;
    Clock::time_point asked{};
    bool forgotten = false;  // moves, when last looked for
    std::uint64_t deliveries = 0;
    Clock::time_point moved = Clock::now();  // when the queue was last seen empty or handing out
    explicit Held(const Shelf& s) : shelf(&s), corrections(s), key(shelf_key(s)) {}
};

/// A move this worker has taken and not yet acknowledged.
struct InHand {
    Delivery delivery;
    const Held* held = nullptr;
    QueueMove move;
    MoveResult result;
    bool set_aside = false;
    Clock::time_point taken = Clock::now(), told = taken;
};
using Hand = std::list<InHand>;

class Worker {
public:
    Worker(std::span<const Shelf* const> shelves, const WorkerSetup& setup)
        : m_setup(setup),
          m_threads(setup.threads > 0 ? setup.threads : std::max(1u, std::thread::hardware_concurrency())),
          m_seen(PatientStore::opened(setup.results, setup.patience)),
          m_broker(setup.queue, setup.patience) {
        for (const Shelf* shelf : shelves)
            m_held.emplace_back(*shelf);
        for (const Held& held : m_held)
            m_broker.listen(held.key, setup.sign_of_life);
    }

    WorkerSums run() {
        {
            std::vector<std::jthread> threads;
            for (unsigned i = 0; i < m_threads; ++i)
                threads.emplace_back([this] { watched([this] { plan_moves(); }); });
            threads.emplace_back([this] { watched([this] { keep_answers(); }); });
            threads.emplace_back([this] { watched([this] { give_signs_of_life(); }); });
            watched([this] { take_moves(); });
            drain();
            const std::lock_guard lock(m_mutex);
            m_over = true;
            m_changed.notify_all();
        }
        for (const InHand& left : m_hand)
            m_broker.give_back(left.delivery);
        m_hand.clear();
        m_broker.flush();
        if (m_fault)
            std::rethrow_exception(m_fault);
        m_sums.again = m_again;
        return m_sums;
    }

private:
    template <class Work>
    void watched(Work&& work) {
        try {
            work();
        } catch (...) {
            const std::lock_guard lock(m_mutex);
            if (!m_fault)
                m_fault = std::current_exception();
            m_over = true;
            m_changed.notify_all();
        }
    }

    // ---- taking, on the thread that called

    void take_moves() {
        Clock::time_point last = Clock::now();
        while (wait_for_room() && !m_setup.stop()) {
            if (take_one()) {
                last = Clock::now();
                continue;
            }
            if (time_to_look_around()) {
                find_forgotten();
                tell_of_strangers();
            }
            if (m_setup.idle && none_in_hand() && seconds_since(last) >= m_setup.idle->seconds())
                return;
        }
    }

    bool wait_for_room() {
        std::unique_lock lock(m_mutex);
        while (!m_over && m_hand.size() >= in_hand_a_thread * m_threads && !m_setup.stop())
            m_changed.wait_for(lock, longest_wait);
        return !m_over;
    }

    [[nodiscard]] bool none_in_hand() {
        const std::lock_guard lock(m_mutex);
        return m_hand.empty();
    }

    /// Those of several regions take turns; one that had nothing is not asked again at once.
    bool take_one() {
        const bool single = m_held.size() == 1;
        for (std::size_t i = 0; i < m_held.size(); ++i) {
            Held& held = m_held[m_turn++ % m_held.size()];
            if (!single && Clock::now() - held.asked < longest_wait)
                continue;
            if (std::optional<Delivery> d = m_broker.take(held.key, single ? longest_wait : short_wait)) {
                receive(std::move(*d), held);
                return true;
            }
            held.asked = Clock::now();
        }
        if (!single)
            std::this_thread::sleep_for(longest_wait / 10);
        return false;
    }

    void receive(Delivery delivery, const Held& held) {
        InHand in{std::move(delivery), &held, {}, {}, false};
        m_sums.redelivered += in.delivery.tries > 1 ? 1 : 0;
        const int tries = static_cast<int>(std::min<std::uint64_t>(in.delivery.tries, 1'000'000));
        try {
            in.move = read_queue_move(in.delivery.bytes);
            if (in.move.shelf != held.key)
                throw Error(ErrorKind::input,
                            "a message of the queue was put where moves of another map are");
        } catch (const Error& e) {
            const std::string key = fmt::format("message {}", in.delivery.sequence);
            in.result = {std::string(no_run), key, "", record_of("null", e), tries};
            set_aside(std::move(in), e.what());
            return;
        }
        in.delivery.bytes.clear();
        in.result = {in.move.run, move_key(in.move), move_digest(in.move), "", tries};
        if (m_seen.ask([&](MoveResults& s) { return s.has(in.result.run, in.result.move); })) {
            m_broker.acknowledge(in.delivery);
            count_again(in.result);
            return;
        }
        if (in.delivery.tries > m_setup.most_tries)
            give_up(std::move(in));
        else
            plan(std::move(in));
    }

    void give_up(InHand in) {
        const Error e(
            ErrorKind::internal,
            fmt::format("handed out {} times and never answered: it may end the worker that plans it",
                        in.delivery.tries - 1),
            "plan it alone, by loamway plan", {fmt::format("line {}", in.move.number), {}, {}});
        const bool has_id = in.result.move.front() != 'l' && in.result.move.front() != '#';
        in.result.answer = record_of(has_id ? in.result.move : "null", e);
        const std::string said =
            fmt::format("move {} of run {}: {}", in.result.move, in.result.run, e.what());
        set_aside(std::move(in), said);
    }

    void set_aside(InHand in, const std::string& why) {
        m_setup.say(fmt::format("set aside: {}", why));
        in.set_aside = true;
        const std::lock_guard lock(m_mutex);
        m_hand.push_front(std::move(in));
        m_ready.push_back(m_hand.begin());
        m_changed.notify_all();
    }

    /// What has ended workers before is planned with nothing beside it, so that it takes no other move along.
    void plan(InHand in) {
        const bool suspect = in.delivery.tries >= suspect_tries;
        if (suspect)
            drain();
        {
            const std::lock_guard lock(m_mutex);
            m_hand.push_front(std::move(in));
            m_to_plan.push_back(m_hand.begin());
            m_changed.notify_all();
        }
        if (suspect)
            drain();
    }

    void drain() {
        std::unique_lock lock(m_mutex);
        m_changed.wait(lock, [&] { return m_over || m_hand.empty(); });
    }

    void count_again(const MoveResult& r) {
        ++m_again;
        m_setup.say(fmt::format("move {} of run {} had its answer: acknowledged", r.move, r.run));
    }

    [[nodiscard]] bool time_to_look_around() {
        const double between = std::min(longest_between_looks, m_setup.sign_of_life.seconds());
        if (seconds_since(m_looked) < between)
            return false;
        m_looked = Clock::now();
        return true;
    }

    /// A broker that was killed may hold moves that it believes to have been acknowledged, or to be in hands
    /// that are long gone. Seen twice, it is no move that came in between.
    void find_forgotten() {
        for (Held& held : m_held) {
            const std::optional<HandingOut> now = m_broker.handing_out(held.key);
            if (!now)
                continue;
            if (now->in_queue == 0 || now->deliveries != held.deliveries)
                held.moved = Clock::now();
            held.deliveries = now->deliveries;
            const bool before = std::exchange(held.forgotten, now->in_queue > now->accounted);
            if (!(before && held.forgotten) && Clock::now() - held.moved < longest_move)
                continue;
            m_setup.say("the queue holds moves that it handed to nobody: asked for again");
            m_broker.hand_out_again(held.key);
            held.forgotten = false;
            held.moved = Clock::now();
        }
    }

    /// Moves that wait for regions this worker does not hold are left to others; it says so, once each.
    void tell_of_strangers() {
        for (const auto& [key, count] : m_broker.all_waiting()) {
            const auto same_region = [&k = key](const Held& h) { return h.key.region == k.region; };
            const auto same = [&k = key](const Held& h) { return h.key == k; };
            if (std::any_of(m_held.begin(), m_held.end(), same) || !m_strangers.insert(key).second)
                continue;
            m_setup.say(fmt::format(
                "{} moves for region {} are left to other workers: {}", count, key.region,
                std::any_of(m_held.begin(), m_held.end(), same_region)
                    ? "they ask for other places, corrections, profiles, another version, or a ledger"
                    : "this one does not hold it"));
        }
    }

    // ---- planning

    void plan_moves() {
        for (;;) {
            Hand::iterator in;
            {
                std::unique_lock lock(m_mutex);
                m_changed.wait(lock, [&] { return m_over || !m_to_plan.empty(); });
                if (m_over)
                    return;
                in = m_to_plan.front();
                m_to_plan.pop_front();
            }
            BatchSetup setup;
            setup.choices = in->move.choices;
            setup.at = in->move.at;
            in->result.answer = answer_line(*in->held->shelf, setup, in->move.line, in->move.number);
            require_mapped_unchanged();
            if (in->held->corrections.changed())
                throw Error(ErrorKind::io, "the corrections changed while the worker ran", "start it again",
                            {in->held->corrections.file(), {}, {}});
            const std::lock_guard lock(m_mutex);
            m_ready.push_back(in);
            m_changed.notify_all();
        }
    }

    // ---- keeping

    void keep_answers() {
        PatientStore store(m_setup.results, m_setup.patience);
        for (;;) {
            std::vector<Hand::iterator> ready;
            {
                std::unique_lock lock(m_mutex);
                m_changed.wait(lock, [&] { return m_over || !m_ready.empty(); });
                if (m_ready.empty())
                    return;
                ready.swap(m_ready);
            }
            // All that became ready meanwhile, in one transaction.
            std::vector<MoveResult> results;
            for (const Hand::iterator in : ready)
                results.push_back(in->result);
            const std::vector<bool> kept = store.ask([&](MoveResults& s) { return s.keep(results); });
            for (std::size_t i = 0; i < ready.size(); ++i)
                finish(ready[i], kept[i]);
        }
    }

    void finish(Hand::iterator in, bool kept) {
        m_broker.acknowledge(in->delivery);
        if (!kept)
            count_again(in->result);
        const std::lock_guard lock(m_mutex);
        if (in->set_aside)
            ++m_sums.set_aside;
        else if (kept)
            ++(is_fault(in->result.answer) ? m_sums.answers.faults : m_sums.answers.answered);
        m_hand.erase(in);
        m_changed.notify_all();
    }

    // ---- signs of life

    void give_signs_of_life() {
        const double between = m_setup.sign_of_life.seconds() / 4;
        std::unique_lock lock(m_mutex);
        while (!m_over) {
            m_changed.wait_for(lock, milliseconds(100));
            for (InHand& in : m_hand)
                if (seconds_since(in.told) > between && Clock::now() - in.taken < longest_move) {
                    in.told = Clock::now();
                    m_broker.still_at_it(in.delivery);
                }
        }
    }

    const WorkerSetup& m_setup;
    const unsigned m_threads;
    std::vector<Held> m_held;
    PatientStore m_seen;  // of the thread that takes
    Broker m_broker;
    std::size_t m_turn = 0;
    std::set<ShelfKey> m_strangers;
    Clock::time_point m_looked{};

    std::mutex m_mutex;
    std::condition_variable m_changed;
    Hand m_hand;
    std::deque<Hand::iterator> m_to_plan;
    std::vector<Hand::iterator> m_ready;
    bool m_over = false;
    std::exception_ptr m_fault;
    std::atomic<std::size_t> m_again{0};
    WorkerSums m_sums;
};

}  // namespace

WorkerSums run_worker(std::span<const Shelf* const> shelves, const WorkerSetup& setup) {
    return Worker(shelves, setup).run();
}

}  // namespace loamway
