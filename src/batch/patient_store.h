// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BATCH_PATIENT_STORE_H
#define LOAMWAY_SRC_BATCH_PATIENT_STORE_H

// A result store that is asked again while it is away: a database that is started anew, a disk that somebody
// clears. One object a thread.

#include <algorithm>
#include <chrono>
#include <optional>
#include <string>
#include <thread>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/units.h"
#include "loamway/ledger/move_results.h"

namespace loamway {

class PatientStore {
public:
    PatientStore(std::string where, Duration patience) : m_where(std::move(where)), m_patience(patience) {}

    /// The last io Error goes to the caller once the store has been away for `patience`.
    template <class Work>
    auto ask(Work&& work) {
        const auto begin = Clock::now();
        for (auto pause = std::chrono::milliseconds(100);; pause = std::min(2 * pause, longest_pause)) {
            try {
                if (!m_store)
                    m_store.emplace(MoveResults::open(m_where));
                return work(*m_store);
            } catch (const Error& e) {
                // The connection may be what is broken.
                m_store.reset();
                const std::chrono::duration<double> away = Clock::now() - begin;
                if (e.kind() != ErrorKind::io || away.count() >= m_patience.seconds())
                    throw;
            }
            std::this_thread::sleep_for(pause);
        }
    }

    /// Opened at once, so that a wrong name shows at the start.
    [[nodiscard]] static PatientStore opened(std::string where, Duration patience) {
        PatientStore out(std::move(where), patience);
        (void)out.ask([](MoveResults&) { return 0; });
        return out;
    }

private:
    using Clock = std::chrono::steady_clock;
    static constexpr std::chrono::milliseconds longest_pause{2000};
    std::string m_where;
    Duration m_patience;
    std::optional<MoveResults> m_store;
};

}  // namespace loamway

#endif
