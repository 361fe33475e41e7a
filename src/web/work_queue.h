// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_WORK_QUEUE_H
#define LOAMWAY_SRC_WEB_WORK_QUEUE_H

// Worker threads behind a queue that says no when it is full, so that a rush is answered with "later" instead
// of with a wait nobody knows the end of. All members may be called by any thread.

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace loamway {

class WorkQueue {
public:
    /// `workers` and `most_waiting` from 1.
    WorkQueue(unsigned workers, std::size_t most_waiting);
    WorkQueue(const WorkQueue&) = delete;
    WorkQueue& operator=(const WorkQueue&) = delete;
    ~WorkQueue() { finish(); }

    /// False when as many wait as may, or once finish() was called. Work must not throw.
    [[nodiscard]] bool offer(std::function<void()> work);
    [[nodiscard]] std::size_t waiting() const;
    /// Work that waits is still done; returns when all is. Not from within work.
    void finish();

private:
    void serve();

    mutable std::mutex m_mutex;
    std::condition_variable m_more;
    std::deque<std::function<void()>> m_waiting;
    std::size_t m_most_waiting;
    bool m_finish = false;
    std::vector<std::thread> m_threads;
};

}  // namespace loamway

#endif
