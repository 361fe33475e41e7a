// SPDX-License-Identifier: Apache-2.0
// Times reading an extract, up to where its roads are split, beside `osmium fileinfo -e` on the same file:
// read_bench MAP.osm.pbf ... Each reading has a process of its own, for its peak memory; the two take turns.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "stopwatch.h"

namespace loamway {
namespace {

using namespace bench;

struct Run {
    double seconds = 0;  // inside the process
    std::int64_t nodes = 0;
    double kilobytes = 0;  // peak
};

/// In a child; ends the program when that fails.
Run apart(const std::function<Run()>& work) {
    int ends[2];
    if (pipe(ends) != 0)
        std::exit(1);
    const pid_t child = fork();
    if (child == 0) {
        Run r;
        try {
            r = work();
        } catch (const Error& e) {
            std::fprintf(stderr, "read_bench: %s\n", e.what());
            _exit(1);
        }
        _exit(write(ends[1], &r, sizeof r) == static_cast<ssize_t>(sizeof r) ? 0 : 1);
    }
    close(ends[1]);
    Run r;
    const bool read_all = read(ends[0], &r, sizeof r) == static_cast<ssize_t>(sizeof r);
    close(ends[0]);
    int status = 0;
    rusage use{};
    if (wait4(child, &status, 0, &use) != child || status != 0 || !read_all)
        std::exit(1);
    r.kilobytes = static_cast<double>(use.ru_maxrss);
    return r;
}

void measure(const std::string& path) {
    std::vector<double> reading, beside;
    Run last;
    for (int i = 0; i < 5; ++i) {
        beside.push_back(seconds([&] {
            const pid_t child = fork();
            if (child == 0) {
                if (std::freopen("/dev/null", "w", stdout) != nullptr)
                    execlp("osmium", "osmium", "fileinfo", "-e", path.c_str(), nullptr);
                _exit(1);
            }
            int status = 0;
            if (waitpid(child, &status, 0) != child || status != 0) {
                std::fprintf(stderr, "read_bench: osmium fileinfo failed on %s\n", path.c_str());
                std::exit(1);
            }
        }));
        last = apart([&] {
            Run r;
            r.seconds = seconds([&] { r.nodes = read_extract(path, {}).nodes_read; });
            return r;
        });
        reading.push_back(last.seconds);
    }
    std::printf("| %s | %lld | %.0f ms | %.0f ms | %.2f x | %.0f |\n",
                path.substr(path.rfind('/') + 1).c_str(), static_cast<long long>(last.nodes),
                median(reading) * 1e3, median(beside) * 1e3, median(reading) / median(beside),
                last.kilobytes * 1024 / static_cast<double>(last.nodes));
    std::fflush(stdout);
}

}  // namespace
}  // namespace loamway

int main(int argc, char** argv) {
    std::puts("| map | OSM nodes | reading | osmium fileinfo -e | beside it | peak bytes a node |");
    std::puts("|---|---|---|---|---|---|");
    std::fflush(stdout);  // else each child would print it again
    for (int i = 1; i < argc; ++i)
        loamway::measure(argv[i]);
    return 0;
}
