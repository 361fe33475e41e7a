// SPDX-License-Identifier: Apache-2.0
// Publishing moves and collecting their answers in order.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <deque>
#include <optional>
#include <thread>
#include <utility>

#include "broker.h"
#include "line_source.h"
#include "loamway/base/error.h"
#include "loamway/batch/queue.h"
#include "loamway/region/digest.h"
#include "loamway/text/value.h"
#include "patient_store.h"
#include "queue_message.h"

namespace loamway {

namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t at_a_time = 64;  // moves published between two looks for answers
constexpr std::size_t most_text_ahead = std::size_t{64} << 20;  // bytes of the moves on the way
constexpr std::size_t around_a_move = 512;                      // bytes a message has besides it
constexpr auto between_looks = std::chrono::milliseconds(50);
constexpr auto between_searches = std::chrono::seconds(2);
constexpr std::size_t run_digits = 16;

std::string error_record(const QueueMove& m, ErrorKind kind, const std::string& what,
                         const std::string& to_do) {
    const Error e(kind, what, to_do, {fmt::format("line {}", m.number), {}, {}});
    Value id;
    if (const std::string text = id_in(m.line); text != "null")
        id = parse_json(text, "id");
    return to_json(Value::Object{
        {"id", id},
        {"error", Value::Object{{"kind", error_kind_name(kind)}, {"message", std::string(e.what())}}}});
}

class Publisher {
public:
    Publisher(const Shelf& shelf, const BatchSetup& setup, const PublishSetup& publish, const BatchRead& read,
              const BatchWrite& write)
        : m_shelf(shelf),
          m_setup(setup),
          m_publish(publish),
          m_lines(setup, read),
          m_write(write),
          m_key(shelf_key(shelf)),
          m_store(store_of(publish)),
          m_broker(publish.queue, publish.patience) {
        m_sums.run = publish.run;
    }

    PublishSums run() {
        while (!m_over || !m_out.empty()) {
            const bool published = publish_some();
            const bool collected = collect_some();
            if (collected)
                m_heard = m_told = Clock::now();
            if (!published && !collected)
                wait();
        }
        return std::move(m_sums);
    }

private:
    /// What can be wrong here shows before the queue is asked.
    static std::optional<PatientStore> store_of(const PublishSetup& publish) {
        if (!publish.run.empty())
            require_run_name(publish.run);
        if (!publish.results)
            return std::nullopt;
        return PatientStore::opened(*publish.results, publish.patience);
    }

    struct Out {
        QueueMove move;
        std::string key;
        unsigned times = 0;  // published
    };

    [[nodiscard]] bool room() const {
        return m_out.size() < std::max<std::size_t>(1, m_publish.ahead) && m_text < most_text_ahead;
    }

    bool publish_some() {
        std::size_t done = 0;
        while (done < at_a_time && (m_next || (!m_over && room()))) {
            if (!m_next && !read_next())
                break;
            if (!send(*m_next))
                break;
            if (m_store) {
                m_text += m_next->move.line.size();
                m_out.push_back(std::move(*m_next));
            }
            m_next.reset();
            ++done;
        }
        return done > 0;
    }

    bool read_next() {
        std::optional<BatchLine> line = m_lines.next();
        if (!line) {
            m_over = true;
            return false;
        }
        Out out;
        out.move = {{}, line->number, m_key, m_setup.choices, m_setup.at, std::move(line->text)};
        // The same moves for the same map are the same run, unless somebody says otherwise.
        if (m_sums.run.empty()) {
            QueueMove first = out.move;
            first.line = m_lines.first();
            m_sums.run = move_digest(first).substr(0, run_digits);
        }
        out.move.run = m_sums.run;
        out.key = move_key(out.move);
        m_next = std::move(out);
        return true;
    }

    /// False while the queue is full.
    bool send(Out& out) {
        if (answered(out)) {
            m_sums.known += out.times == 0 ? 1 : 0;
            return true;
        }
        const std::string bytes = write_queue_move(out.move);
        if (out.move.line.size() > longest_queue_line || bytes.size() + around_a_move > m_broker.largest()) {
            refuse(out);
            return true;
        }
        std::string id = fmt::format("{}.{}", out.move.run, digest_of_text(out.key));
        if (out.times > 0)
            id += fmt::format(".{}", out.times);
        const Put put = m_broker.publish(m_key, id, bytes);
        if (put == Put::full)
            return false;
        if (out.times++ == 0)
            ++(put == Put::known ? m_sums.known : m_sums.published);
        return true;
    }

    [[nodiscard]] bool answered(const Out& out) {
        return m_store && m_store->ask([&](MoveResults& s) { return s.has(out.move.run, out.key); });
    }

    /// A line beyond what any batch reads says so in a batch's own words.
    void refuse(const Out& out) {
        ++m_sums.refused;
        const std::string answer =
            out.move.line.size() > longest_queue_line
                ? answer_line(m_shelf, m_setup, out.move.line, out.move.number)
                : error_record(out.move, ErrorKind::limit, "the move is larger than the queue carries",
                               "describe machine and trailer by name");
        if (!m_store) {
            m_publish.say(
                fmt::format("line {} is larger than the queue carries: not published", out.move.number));
            return;
        }
        keep({out.move.run, out.key, move_digest(out.move), answer, 1});
    }

    void keep(const MoveResult& result) {
        (void)m_store->ask([&](MoveResults& s) { return s.keep(std::span(&result, 1)); });
    }

    bool collect_some() {
        bool some = false;
        while (!m_out.empty()) {
            const Out& head = m_out.front();
            const std::optional<MoveResult> found =
                m_store->ask([&](MoveResults& s) { return s.find(head.move.run, head.key); });
            if (!found)
                return some;
            write(found->digest == move_digest(head.move) ? found->answer : other_move(head));
            m_text -= head.move.line.size();
            m_out.pop_front();
            some = true;
            if (!m_over && m_out.size() < m_publish.ahead / 2)
                return some;
        }
        return some;
    }

    void write(const std::string& answer) {
        ++(is_fault(answer) ? m_sums.answers.faults : m_sums.answers.answered);
        m_write(answer, m_sums.answers);
    }

    static std::string other_move(const Out& out) {
        return error_record(out.move, ErrorKind::input,
                            fmt::format("the run {} has another move with this id", out.move.run),
                            "give each move an id of its own, or name another run by --run");
    }

    void wait() {
        std::this_thread::sleep_for(between_looks);
        const auto now = Clock::now();
        if (!m_out.empty() && now - std::max(m_heard, m_searched) > between_searches) {
            m_searched = now;
            search_for_lost();
        }
        const std::chrono::duration<double> silent = now - m_told;
        if (silent.count() > m_publish.silence_told.seconds()) {
            m_told = now;
            tell_silence();
        }
    }

    /// A broker that lost its power may have lost moves it had taken. A move leaves the queue only after its
    /// answer is kept: an empty queue and no answer means that it was lost.
    void search_for_lost() {
        const std::optional<std::size_t> there = m_broker.waiting(m_key);
        if (!there || *there > 0 || m_next)
            return;
        std::size_t lost = 0;
        for (Out& out : m_out) {
            if (answered(out))
                continue;
            if (!send(out))
                break;
            ++lost;
        }
        if (lost > 0)
            m_publish.say(fmt::format("the queue had lost {} moves: published again", lost));
    }

    void tell_silence() {
        const std::optional<std::size_t> there = m_broker.waiting(m_key);
        const std::chrono::duration<double> silent = Clock::now() - m_heard;
        m_publish.say(fmt::format(
            "no answer for {:.0f} s; {} moves for this map are in the queue: do workers "
            "with region {} and the same places, corrections and profiles run?",
            silent.count(), there ? fmt::format("{}", *there) : std::string("some"), m_key.region));
    }

    const Shelf& m_shelf;
    const BatchSetup& m_setup;
    const PublishSetup& m_publish;
    LineSource m_lines;
    const BatchWrite& m_write;
    ShelfKey m_key;
    std::optional<PatientStore> m_store;
    Broker m_broker;

    std::optional<Out> m_next;  // read, and not yet in the queue
    std::deque<Out> m_out;      // in the queue, not yet collected, in order
    std::size_t m_text = 0;     // bytes of their lines
    bool m_over = false;
    PublishSums m_sums;
    Clock::time_point m_heard = Clock::now(), m_told = m_heard, m_searched = m_heard;
};

}  // namespace

PublishSums publish_batch(const Shelf& shelf, const BatchSetup& setup, const PublishSetup& publish,
                          const BatchRead& read, const BatchWrite& write) {
    return Publisher(shelf, setup, publish, read, write).run();
}

}  // namespace loamway
