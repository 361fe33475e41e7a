// SPDX-License-Identifier: Apache-2.0
#include "work_queue.h"

#include <utility>

namespace loamway {

WorkQueue::WorkQueue(unsigned workers, std::size_t most_waiting) : m_most_waiting(most_waiting) {
    for (unsigned i = 0; i < workers; ++i)
        m_threads.emplace_back([this] { serve(); });
}

bool WorkQueue::offer(std::function<void()> work) {
    {
        const std::lock_guard lock(m_mutex);
        if (m_finish || m_waiting.size() >= m_most_waiting)
            return false;
        m_waiting.push_back(std::move(work));
    }
    m_more.notify_one();
    return true;
}

std::size_t WorkQueue::waiting() const {
    const std::lock_guard lock(m_mutex);
    return m_waiting.size();
}

void WorkQueue::finish() {
    {
        const std::lock_guard lock(m_mutex);
        m_finish = true;
    }
    m_more.notify_all();
    for (std::thread& thread : m_threads)
        if (thread.joinable())
            thread.join();
}

void WorkQueue::serve() {
    std::unique_lock lock(m_mutex);
    for (;;) {
        m_more.wait(lock, [this] { return m_finish || !m_waiting.empty(); });
        if (m_waiting.empty())
            return;
        const std::function<void()> work = std::move(m_waiting.front());
        m_waiting.pop_front();
        lock.unlock();
        work();
        lock.lock();
    }
}

}  // namespace loamway
