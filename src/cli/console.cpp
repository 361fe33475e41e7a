// SPDX-License-Identifier: Apache-2.0
#include "console.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <system_error>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

using Clock = std::chrono::steady_clock;
constexpr auto quiet_time = std::chrono::seconds(1);
constexpr auto between_lines = std::chrono::milliseconds(100);

[[noreturn]] void output_failed() {
    const std::string why = std::error_code(errno, std::generic_category()).message();
    throw Error(ErrorKind::io, fmt::format("cannot write to standard output: {}", why));
}

/// One line on the terminal, written over and over.
class ProgressLine {
public:
    ProgressLine() = default;
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    ~ProgressLine() {
        if (m_shown)
            write("\r\x1b[K");
    }
    void show(std::string_view stage, double fraction) {
        const auto now = Clock::now();
        if (now - m_start < quiet_time || now - m_last < between_lines)
            return;
        m_last = now;
        m_shown = true;
        write(fmt::format("\r\x1b[K{} {:.0f} %", printable(stage), 100 * std::clamp(fraction, 0.0, 1.0)));
    }

private:
    static void write(std::string_view text) {
        // Nothing depends on a progress line: a failure to show it is not worth a word.
        static_cast<void>(std::fwrite(text.data(), 1, text.size(), stderr));
        static_cast<void>(std::fflush(stderr));
    }
    Clock::time_point m_start = Clock::now();
    Clock::time_point m_last{};
    bool m_shown = false;
};

bool variable_is_set(const char* name) {
    const char* value = std::getenv(name);
    return value != nullptr && *value != '\0';
}

}  // namespace

void print(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size())
        output_failed();
}

void finish_output() {
    if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0)
        output_failed();
}

void complain(std::string_view line) {
    const std::string text = fmt::format("loamway: {}\n", line);
    static_cast<void>(std::fwrite(text.data(), 1, text.size(), stderr));
}

void remark(std::string_view line) {
    if (::isatty(STDERR_FILENO) == 1)
        complain(line);
}

bool output_has_colour() {
    const char* terminal = std::getenv("TERM");
    return ::isatty(STDOUT_FILENO) == 1 && !variable_is_set("NO_COLOR") && terminal != nullptr &&
           std::string_view(terminal) != "dumb";
}

Progress progress_line() {
    if (::isatty(STDERR_FILENO) != 1)
        return [](std::string_view, double) {};
    auto line = std::make_shared<ProgressLine>();
    return [line](std::string_view stage, double fraction) { line->show(stage, fraction); };
}

}  // namespace loamway
