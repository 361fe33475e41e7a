// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_PARALLEL_H
#define LOAMWAY_BASE_PARALLEL_H

// Worker threads for work that falls into many independent pieces, in several rounds.

#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace loamway {

/// Threads that wait between rounds; they end with the object. With one thread everything runs on the
/// caller's.
class WorkerPool {
public:
    /// Called with the number of a piece and the number of the worker (below thread_count()), so that each
    /// worker can have its own memory.
    using Work = std::function<void(std::size_t piece, unsigned worker)>;

    /// 0 takes as many threads as the machine runs at once. The caller's thread counts as one of them.
    explicit WorkerPool(unsigned threads = 0);
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;
    ~WorkerPool();

    [[nodiscard]] unsigned thread_count() const { return static_cast<unsigned>(m_threads.size()) + 1; }
    /// Does pieces 0 .. count - 1, in about this order, and returns when all are done. Not to be called from
    /// within a piece or by two threads at once. When a piece throws, no further piece is begun and one of
    /// the exceptions is thrown again here.
    void run(std::size_t count, const Work& work);

private:
    void serve(unsigned worker);
    void take_pieces(unsigned worker);

    std::mutex m_mutex;
    std::condition_variable m_begin, m_end;
    const Work* m_work = nullptr;
    std::size_t m_next = 0, m_count = 0;
    std::uint64_t m_round = 0;
    std::size_t m_busy = 0;  // workers that have not finished this round
    bool m_stop = false;
    std::exception_ptr m_error;
    std::vector<std::jthread> m_threads;
};

}  // namespace loamway

#endif
