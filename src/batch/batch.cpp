// SPDX-License-Identifier: Apache-2.0
#include "loamway/batch/batch.h"

#include <fmt/format.h>

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <exception>
#include <map>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

#include "line_source.h"
#include "loamway/base/error.h"
#include "loamway/base/mapped_files.h"
#include "loamway/base/names.h"
#include "loamway/plan/inputs.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t longest_line = std::size_t{1} << 20;
constexpr std::string_view fault_mark = "\"error\":{\"kind\":";

/// Reads, plans and writes in one go: a thread takes a line under the lock, plans it alone, and whoever holds
/// the next answer in order writes it.
class Line {
public:
    Line(const Shelf& shelf, const BatchSetup& setup, const BatchRead& read, const BatchWrite& write)
        : m_shelf(shelf), m_setup(setup), m_lines(setup, read), m_write(write) {}

    BatchSums run() {
        const unsigned machine = std::max(1u, std::thread::hardware_concurrency());
        const unsigned threads = m_setup.threads == 0 ? machine : m_setup.threads;
        m_window = std::max<std::size_t>(m_setup.window, threads);
        {
            std::vector<std::jthread> workers;
            for (unsigned i = 0; i < threads; ++i)
                workers.emplace_back([this] { work(); });
        }
        if (m_fault)
            std::rethrow_exception(m_fault);
        return m_sums;
    }

private:
    struct Taken {
        std::size_t place = 0;  // among the answers
        BatchLine line;
    };

    void work() {
        try {
            while (const std::optional<Taken> t = take()) {
                std::string answer = answer_line(m_shelf, m_setup, t->line.text, t->line.number);
                require_mapped_unchanged();
                give(t->place, std::move(answer));
            }
        } catch (...) {
            const std::lock_guard lock(m_mutex);
            if (!m_fault)
                m_fault = std::current_exception();
            m_over = true;
            m_room.notify_all();
        }
    }

    std::optional<Taken> take() {
        std::unique_lock lock(m_mutex);
        m_room.wait(lock, [&] { return m_over || m_taken < m_written + m_window; });
        if (m_over)
            return std::nullopt;
        std::optional<BatchLine> line = m_lines.next();
        if (line)
            return Taken{m_taken++, std::move(*line)};
        m_over = true;
        m_room.notify_all();
        return std::nullopt;
    }

    void give(std::size_t place, std::string answer) {
        const std::lock_guard lock(m_mutex);
        m_ready.emplace(place, std::move(answer));
        for (auto next = m_ready.find(m_written); next != m_ready.end() && !m_fault;
             next = m_ready.find(m_written)) {
            ++(is_fault(next->second) ? m_sums.faults : m_sums.answered);
            m_write(next->second, m_sums);
            m_ready.erase(next);
            ++m_written;
        }
        m_room.notify_all();
    }

    const Shelf& m_shelf;
    const BatchSetup& m_setup;
    LineSource m_lines;
    const BatchWrite& m_write;
    std::size_t m_window = 1;

    std::mutex m_mutex;
    std::condition_variable m_room;
    std::size_t m_taken = 0, m_written = 0;
    std::map<std::size_t, std::string> m_ready;
    BatchSums m_sums;
    bool m_over = false;
    std::exception_ptr m_fault;
};

Value fault_record(const Value& id, const Error& e) {
    return Value::Object{
        {"id", id},
        {"error", Value::Object{{"kind", error_kind_name(e.kind())}, {"message", std::string(e.what())}}}};
}

/// The move without its id; the id is set as soon as it is known.
Value move_of(std::string_view line, const std::string& name, Value& id) {
    Value document = parse_json(line, name, {.bytes = longest_line});
    if (document.as_object() == nullptr)
        throw Error(ErrorKind::input, "a move is a JSON object", "{\"id\": ..., \"from\": ..., \"to\": ...}",
                    {name, {}, {}});
    Value move{Value::Object{}};
    for (auto& [key, value] : *document.as_object()) {
        if (key != "id") {
            move.set(key, std::move(value));
            continue;
        }
        if (value.as_string() == nullptr && value.as_integer() == nullptr)
            throw Error(ErrorKind::input, "id is neither a text nor a whole number", {}, {name, {}, "id"});
        id = value;
    }
    if (id.is_null())
        throw Error(ErrorKind::input, "the move has no id", "give each line an \"id\" of its own",
                    {name, {}, "id"});
    return move;
}

}  // namespace

std::string answer_line(const Shelf& shelf, const BatchSetup& setup, std::string_view line,
                        std::size_t number) {
    Value id;
    try {
        const std::string name = fmt::format("line {}", number);
        const Value move = move_of(line, name, id);
        Prepared prepared = shelf.prepare(shelf.read(move, name), setup.at);
        prepared.inputs.front = prepared.inputs.front && setup.choices;
        return to_json(Value::Object{{"id", id}, {"plan", plan_to_json(make_plan(prepared.inputs))}});
    } catch (const Error& e) {
        return to_json(fault_record(id, e));
    } catch (const std::bad_alloc&) {
        return to_json(fault_record(id, Error(ErrorKind::limit, "the move takes more memory than there is")));
    } catch (const std::exception& e) {
        return to_json(fault_record(id, Error(ErrorKind::internal, e.what())));
    }
}

bool is_fault(std::string_view answer) {
    // The error stands right after the id, which cannot hold an unescaped quote.
    const auto at = answer.find(fault_mark);
    const auto plan = answer.find("\"plan\":{");
    return at != std::string_view::npos && at < plan;
}

BatchSums run_batch(const Shelf& shelf, const BatchSetup& setup, const BatchRead& read,
                    const BatchWrite& write) {
    return Line(shelf, setup, read, write).run();
}

}  // namespace loamway
