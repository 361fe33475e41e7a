// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BENCH_STOPWATCH_H
#define LOAMWAY_TESTS_BENCH_STOPWATCH_H

// What the benches measure with.

#include <algorithm>
#include <chrono>
#include <ctime>
#include <functional>
#include <vector>

namespace loamway::bench {

/// With --cpu: time of the processor instead of the wall's, for a machine that is busy with other things. Two
/// threads then show their sum.
inline bool count_processor_time = false;

inline double now() {
    if (count_processor_time)
        return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

inline double seconds(const std::function<void()>& work) {
    const double begin = now();
    work();
    return now() - begin;
}

inline double least_of(int times, const std::function<void()>& work) {
    double least = seconds(work);
    for (int i = 1; i < times; ++i)
        least = std::min(least, seconds(work));
    return least;
}

/// Of no values: 0.
inline double median(std::vector<double> values) {
    if (values.empty())
        return 0;
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                     values.end());
    return values[values.size() / 2];
}

}  // namespace loamway::bench

#endif
