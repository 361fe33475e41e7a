// SPDX-License-Identifier: Apache-2.0
#include "lost_files.h"

#include <signal.h>
#include <unistd.h>

#include <array>
#include <cstring>

#include "loamway/base/mapped_files.h"

namespace loamway {

namespace {

struct Watched {
    int signal;
    struct sigaction before;
};
std::array<Watched, 2> watched{{{SIGBUS, {}}, {SIGSEGV, {}}}};

void put(const char* text) {
    static_cast<void>(!::write(STDERR_FILENO, text, std::strlen(text)));
}

/// Behind the end of a file that became shorter there is no memory (SIGBUS), and what was written into it
/// since it was checked may lead anywhere (SIGSEGV).
void on_fault(int signal, siginfo_t* info, void*) {
    if (const char* name = lost_mapped_file(info->si_addr)) {
        put("loamway: ");
        put(name);
        put(": this file was cut or changed while it was in use, or its disk failed (put files in place by "
            "renaming them, then start again)\n");
        ::_exit(1);
    }
    // It comes again at once, and goes to whoever had it before.
    for (const Watched& w : watched)
        if (w.signal == signal)
            ::sigaction(signal, &w.before, nullptr);
}

}  // namespace

void say_when_files_are_lost() {
    for (Watched& w : watched) {
        struct sigaction ours {};
        ours.sa_sigaction = on_fault;
        ours.sa_flags = SA_SIGINFO;
        ::sigaction(w.signal, &ours, &w.before);
    }
}

}  // namespace loamway
