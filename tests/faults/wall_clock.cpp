// SPDX-License-Identifier: Apache-2.0
// Preloaded into the program: the clock on the wall goes back an hour each time somebody looks at it, as
// when it is set by hand or by a time server. The steady clock is left alone.
#include <dlfcn.h>
#include <sys/time.h>

#include <atomic>
#include <ctime>

namespace {

std::atomic<long> looks{0};

}  // namespace

extern "C" int clock_gettime(clockid_t id, timespec* t) noexcept {
    using Real = int (*)(clockid_t, timespec*);
    static const Real real = reinterpret_cast<Real>(::dlsym(RTLD_NEXT, "clock_gettime"));
    const int status = real(id, t);
    if (status == 0 && (id == CLOCK_REALTIME || id == CLOCK_REALTIME_COARSE))
        t->tv_sec -= 3600 * ++looks;
    return status;
}

extern "C" int gettimeofday(timeval* t, void*) noexcept {
    timespec now{};
    const int status = clock_gettime(CLOCK_REALTIME, &now);
    t->tv_sec = now.tv_sec;
    t->tv_usec = now.tv_nsec / 1000;
    return status;
}

extern "C" time_t time(time_t* t) noexcept {
    timespec now{};
    (void)clock_gettime(CLOCK_REALTIME, &now);
    if (t != nullptr)
        *t = now.tv_sec;
    return now.tv_sec;
}
