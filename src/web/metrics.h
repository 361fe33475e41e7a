// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_METRICS_H
#define LOAMWAY_SRC_WEB_METRICS_H

// What the server counts, and how a collector reads it (Prometheus text exposition format). Not for several
// threads.

#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>

namespace loamway {

/// "plan" of "/api/1/plan", "page" of "/" and "/page/...", "health", "metrics"; "other" for what is not
/// there, so that strangers cannot make up labels.
[[nodiscard]] std::string_view route_class(std::string_view path);

/// What is so right now.
struct ServerState {
    std::size_t connections = 0;
    std::size_t queued = 0;
    std::size_t plans_running = 0;
};

class Metrics {
public:
    void count(std::string_view route, int status, double seconds);
    [[nodiscard]] std::string text(const ServerState& state) const;

private:
    static constexpr std::array<double, 12> bounds{0.005, 0.01, 0.025, 0.05, 0.1, 0.25,
                                                   0.5,   1,    2.5,   5,    10,  30};
    struct Times {
        std::array<std::uint64_t, bounds.size()> below{};  // each bound for itself
        std::uint64_t count = 0;
        double sum = 0;
    };
    std::map<std::pair<std::string, int>, std::uint64_t> m_requests;
    std::map<std::string, Times, std::less<>> m_times;
};

}  // namespace loamway

#endif
