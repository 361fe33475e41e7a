// SPDX-License-Identifier: Apache-2.0
#include "program.h"

#include <fcntl.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <stdexcept>
#include <thread>

#include "loamway/base/names.h"
#include "support/demo_region.h"

namespace loamway::test {

namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

[[noreturn]] void become(const std::vector<std::string>& arguments, const RunSetup& setup,
                         const std::string& out, const std::string& err) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    const int flags = O_WRONLY | O_CREAT | O_CLOEXEC;
    const int to = ::open(setup.output.empty() ? out.c_str() : setup.output.c_str(), flags, 0600);
    const int errors = ::open(err.c_str(), flags, 0600);
    const int in = ::open(setup.input.empty() ? "/dev/null" : setup.input.c_str(), O_RDONLY | O_CLOEXEC);
    if (to < 0 || errors < 0 || in < 0 || ::chdir(setup.folder.c_str()) != 0)
        ::_exit(126);
    ::dup2(in, 0);
    ::dup2(to, 1);
    ::dup2(errors, 2);
    for (const auto& [name, value] : setup.variables)
        ::setenv(name.c_str(), value.c_str(), 1);
    std::vector<char*> all{const_cast<char*>(LOAMWAY_PROGRAM)};
    for (const std::string& one : arguments)
        all.push_back(const_cast<char*>(one.c_str()));
    all.push_back(nullptr);
    if (setup.before)
        setup.before();
    ::execv(all[0], all.data());
    ::_exit(127);
}

}  // namespace

Ran run_program(const std::vector<std::string>& arguments, const RunSetup& setup) {
    const TempDir said;
    // Both are there even if it is killed before it gets to them.
    said.write("out", "");
    said.write("err", "");
    const auto begin = Clock::now();
    const pid_t child = ::fork();
    if (child == 0)
        become(arguments, setup, said.file("out"), said.file("err"));
    if (child < 0)
        throw std::runtime_error("no process");
    const auto longest = setup.kill_after.value_or(120s);
    int status = 0;
    bool killed = false;
    while (::waitpid(child, &status, WNOHANG) == 0) {
        if (!killed && Clock::now() - begin > longest) {
            ::kill(child, SIGKILL);
            killed = true;
        }
        std::this_thread::sleep_for(500us);
    }
    Ran ran;
    ran.took = std::chrono::duration_cast<std::chrono::milliseconds>(Clock::now() - begin);
    ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    ran.signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    ran.out = setup.output.empty() ? slurp(said.file("out")) : std::string();
    ran.err = slurp(said.file("err"));
    return ran;
}

bool failed_clearly(const Ran& ran, int status) {
    return ran.status == status && ran.err.starts_with("loamway: ") &&
           std::count(ran.err.begin(), ran.err.end(), '\n') == 1 && ran.err.back() == '\n' &&
           unprintable_in(ran.err).empty() && ran.err.find("fault of the program") == std::string::npos;
}

std::string unprintable_in(const std::string& text) {
    std::string lines = text;
    std::replace(lines.begin(), lines.end(), '\n', ' ');
    const std::string shown = printable(lines);
    const auto [a, b] = std::mismatch(lines.begin(), lines.end(), shown.begin(), shown.end());
    if (a == lines.end() && b == shown.end())
        return {};
    const auto at = static_cast<std::size_t>(a - lines.begin());
    return "byte " + std::to_string(at) + ": " + printable(text.substr(at > 40 ? at - 40 : 0, 80));
}

std::vector<std::string> names_in(const std::string& folder) {
    std::vector<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        out.push_back(entry.path().filename().string());
    std::sort(out.begin(), out.end());
    return out;
}

std::vector<std::string> demo_move(const std::string& region) {
    return {"plan",
            "--region",
            region,
            "--places",
            source_path("regions/demo/places.geojson"),
            "--machine",
            source_path("examples/profiles/medium.toml"),
            "--from",
            "Nettle Farm yard",
            "--to",
            "Kettle Quarter",
            "--belts",
            "run-in",
            "--air",
            "18",
            "--trials",
            "50",
            "--depart",
            "2026-07-14T09:00"};
}

const TempDir& demo_files() {
    static const TempDir& kept = []() -> const TempDir& {
        static const TempDir dir;
        write_demo_region(dir.file("demo.region"));
        std::vector<std::string> plan = demo_move(dir.file("demo.region"));
        plan.insert(plan.end(), {"-o", dir.file("plan.json")});
        if (const Ran ran = run_program(plan); ran.status != 0)
            throw std::runtime_error("the demo move was not planned: " + ran.err);
        return dir;
    }();
    return kept;
}

}  // namespace loamway::test
