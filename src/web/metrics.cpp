// SPDX-License-Identifier: Apache-2.0
#include "metrics.h"

#include <fmt/format.h>

#include <algorithm>

namespace loamway {

namespace {

constexpr std::array<std::string_view, 15> api_routes{
    "region",      "places", "machines",    "plan",  "sheet", "export",  "load", "road",
    "corrections", "budget", "stop-places", "belts", "moves", "map.png", "tiles"};

void head(std::string& out, std::string_view name, std::string_view type, std::string_view help) {
    out += fmt::format("# HELP {} {}\n# TYPE {} {}\n", name, help, name, type);
}

}  // namespace

std::string_view route_class(std::string_view path) {
    if (path == "/" || path.starts_with("/page/"))
        return "page";
    if (path == "/health" || path == "/metrics")
        return path.substr(1);
    constexpr std::string_view api = "/api/1/";
    if (!path.starts_with(api))
        return "other";
    path.remove_prefix(api.size());
    path = path.substr(0, path.find('/'));
    const auto* found = std::find(api_routes.begin(), api_routes.end(), path);
    return found == api_routes.end() ? "other" : *found;
}

void Metrics::count(std::string_view route, int status, double seconds) {
    ++m_requests[{std::string(route), status}];
    Times& times = m_times[std::string(route)];
    ++times.count;
    times.sum += seconds;
    const auto* bound = std::lower_bound(bounds.begin(), bounds.end(), seconds);
    if (bound != bounds.end())
        ++times.below[static_cast<std::size_t>(bound - bounds.begin())];
}

std::string Metrics::text(const ServerState& state) const {
    std::string out;
    head(out, "loamway_requests_total", "counter", "Requests answered, by route and status.");
    for (const auto& [key, n] : m_requests)
        out += fmt::format("loamway_requests_total{{route=\"{}\",status=\"{}\"}} {}\n", key.first, key.second,
                           n);
    head(out, "loamway_request_seconds", "histogram", "From a request's first byte to its answer's last.");
    for (const auto& [route, times] : m_times) {
        std::uint64_t sum = 0;
        for (std::size_t i = 0; i < bounds.size(); ++i) {
            sum += times.below[i];
            out += fmt::format("loamway_request_seconds_bucket{{route=\"{}\",le=\"{}\"}} {}\n", route,
                               bounds[i], sum);
        }
        out += fmt::format("loamway_request_seconds_bucket{{route=\"{}\",le=\"+Inf\"}} {}\n", route,
                           times.count);
        out += fmt::format("loamway_request_seconds_sum{{route=\"{}\"}} {:.6f}\n", route, times.sum);
        out += fmt::format("loamway_request_seconds_count{{route=\"{}\"}} {}\n", route, times.count);
    }
    const auto gauge = [&](std::string_view name, std::string_view help, std::size_t v) {
        head(out, name, "gauge", help);
        out += fmt::format("{} {}\n", name, v);
    };
    gauge("loamway_connections", "Connections open now.", state.connections);
    gauge("loamway_queued_requests", "Requests that wait for a worker.", state.queued);
    gauge("loamway_plans_running", "Plans worked out now.", state.plans_running);
    return out;
}

}  // namespace loamway
