// SPDX-License-Identifier: Apache-2.0
#include "case_file.h"

#include <sstream>
#include <stdexcept>

namespace loamway::test {

namespace {

constexpr std::string_view anything = "***";

[[noreturn]] void fail(int line, const std::string& what) {
    throw std::runtime_error("line " + std::to_string(line) + ": " + what);
}

bool match_from(const std::vector<std::string>& wanted, std::size_t w, const std::vector<std::string>& there,
                std::size_t t) {
    for (; w < wanted.size(); ++w, ++t) {
        if (wanted[w] == anything) {
            for (std::size_t skip = t; skip <= there.size(); ++skip)
                if (match_from(wanted, w + 1, there, skip))
                    return true;
            return false;
        }
        if (t == there.size() || !line_matches(wanted[w], there[t]))
            return false;
    }
    return t == there.size();
}

}  // namespace

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        out.push_back(line);
    return out;
}

bool line_matches(std::string_view wanted, std::string_view there) {
    const auto star = wanted.find(anything);
    if (star == std::string_view::npos)
        return wanted == there;
    if (there.substr(0, star) != wanted.substr(0, star) || there.size() < star)
        return false;
    const std::string_view rest = wanted.substr(star + anything.size());
    for (std::size_t at = star; at <= there.size(); ++at)
        if (line_matches(rest, there.substr(at)))
            return true;
    return false;
}

bool lines_match(const std::vector<std::string>& wanted, const std::vector<std::string>& there) {
    return match_from(wanted, 0, there, 0);
}

std::vector<CaseStep> read_case_file(const std::string& text) {
    std::vector<CaseStep> steps;
    std::vector<std::string>* block = nullptr;
    int number = 0;
    for (const std::string& line : lines_of(text)) {
        ++number;
        if (line.empty() || line[0] == '#')
            continue;
        if (line[0] == '|') {
            if (block == nullptr)
                fail(number, "a content line belongs to nothing");
            block->push_back(line.size() > 1 ? line.substr(2) : std::string());
            continue;
        }
        const auto blank = line.find(' ');
        const std::string word = line.substr(0, blank);
        const std::string rest = blank == std::string::npos ? std::string() : line.substr(blank + 1);
        block = nullptr;
        if (word == "file" || word == "run") {
            steps.push_back({});
            steps.back().line = number;
            (word == "file" ? steps.back().file : steps.back().command) = rest;
            if (word == "file")
                block = &steps.back().content;
            continue;
        }
        if (steps.empty() || steps.back().command.empty())
            fail(number, "\"" + word + "\" before any run");
        if (word == "status")
            steps.back().status = std::stoi(rest);
        else if (word == "out")
            block = &steps.back().out;
        else if (word == "err")
            block = &steps.back().err;
        else
            fail(number, "\"" + word + "\" is no word of a case file");
    }
    return steps;
}

}  // namespace loamway::test
