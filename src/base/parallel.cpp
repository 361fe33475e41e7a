// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/parallel.h"

#include <algorithm>
#include <utility>

namespace loamway {

WorkerPool::WorkerPool(unsigned threads) {
    if (threads == 0)
        threads = std::max(1u, std::thread::hardware_concurrency());
    m_threads.reserve(threads - 1);
    for (unsigned worker = 1; worker < threads; ++worker)
        m_threads.emplace_back([this, worker] { serve(worker); });
}

WorkerPool::~WorkerPool() {
    {
        const std::lock_guard lock(m_mutex);
        m_stop = true;
    }
    m_begin.notify_all();
    m_threads.clear();  // joins, while the rest of the object is still there
}

void WorkerPool::run(std::size_t count, const Work& work) {
    {
        const std::lock_guard lock(m_mutex);
        m_work = &work;
        m_next = 0;
        m_count = count;
        m_busy = m_threads.size();
        m_error = nullptr;
        ++m_round;
    }
    m_begin.notify_all();
    take_pieces(0);
    std::unique_lock lock(m_mutex);
    m_end.wait(lock, [this] { return m_busy == 0; });
    m_work = nullptr;
    if (m_error)
        std::rethrow_exception(std::exchange(m_error, nullptr));
}

void WorkerPool::serve(unsigned worker) {
    std::uint64_t done = 0;
    for (;;) {
        {
            std::unique_lock lock(m_mutex);
            m_begin.wait(lock, [&] { return m_stop || m_round != done; });
            if (m_stop)
                return;
            done = m_round;
        }
        take_pieces(worker);
        bool last = false;
        {
            const std::lock_guard lock(m_mutex);
            last = --m_busy == 0;
        }
        if (last)
            m_end.notify_one();
    }
}

// Pieces are handed out under the lock: they are meant to be few and long.
void WorkerPool::take_pieces(unsigned worker) {
    for (;;) {
        std::size_t piece = 0;
        {
            const std::lock_guard lock(m_mutex);
            if (m_next >= m_count)
                return;
            piece = m_next++;
        }
        try {
            (*m_work)(piece, worker);
        } catch (...) {
            const std::lock_guard lock(m_mutex);
            m_next = m_count;
            if (!m_error)
                m_error = std::current_exception();
        }
    }
}

}  // namespace loamway
