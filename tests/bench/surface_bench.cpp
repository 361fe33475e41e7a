// SPDX-License-Identifier: Apache-2.0
// How well surfaces are guessed: surface_bench EXTRACT... Within each extract half the surface tags are
// hidden, both halves in turn, for five fixed seeds; and each extract teaches each other.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "build/surface_accuracy.h"
#include "loamway/base/error.h"

namespace loamway::test {
namespace {

constexpr int seeds = 5;

struct Named {
    std::string name;
    SurfaceMap map;
};

std::string stem(const std::string& path) {
    const std::string file = path.substr(path.find_last_of('/') + 1);
    return file.substr(0, file.find('.'));
}

void print_row(const std::string& taught, const std::string& asked, double km, const SurfaceScores& s) {
    const auto pair = [](double plain, double learned, int digits) {
        return fmt::format("{:.{}f} | {:.{}f}", plain, digits, learned, digits);
    };
    fmt::print("| {} | {} | {:.0f} | {} | {} | {} | {} | {} |\n", taught, asked, km,
               pair(100 * s.plain.share_right(), 100 * s.learned.share_right(), 1),
               pair(100 * s.plain.share_right_class(), 100 * s.learned.share_right_class(), 1),
               pair(s.plain.mean_log_loss(), s.learned.mean_log_loss(), 3),
               pair(s.plain.mean_brier(), s.learned.mean_brier(), 4),
               pair(100 * s.plain.miscalibration(), 100 * s.learned.miscalibration(), 1));
}

void print_bins(const std::string& name, const SurfaceScore& s) {
    fmt::print("| {} |", name);
    for (const SurfaceScore::Bin& bin : s.bins)
        fmt::print(" {} |", bin.km <= 0.0
                                ? std::string("-")
                                : fmt::format("{:.0f}: {:.0f} -> {:.0f}", bin.km / seeds,
                                              100 * bin.expected / bin.km, 100 * bin.hard / bin.km));
    fmt::print("\n");
}

template <class Key>
std::vector<std::pair<Key, WrongKm>> worst(const std::map<Key, WrongKm>& of) {
    std::vector<std::pair<Key, WrongKm>> rows(of.begin(), of.end());
    std::stable_sort(rows.begin(), rows.end(),
                     [](const auto& x, const auto& y) { return x.second.wrong > y.second.wrong; });
    return rows;
}

void print_errors(const std::string& name, const SurfaceScores& s) {
    constexpr std::size_t most = 6;
    fmt::print("\n{}: {:.1f} of {:.0f} km wrong, hard or not", name, (s.learned.km - s.learned.right) / seeds,
               s.learned.km / seeds);
    const auto sorts = worst(s.by_sort);
    for (std::size_t i = 0; i < std::min(most, sorts.size()); ++i)
        fmt::print("{} {:.1f} of {:.1f} km of {}", i == 0 ? ":" : ",", sorts[i].second.wrong / seeds,
                   sorts[i].second.asked / seeds, sorts[i].first);
    const auto ways = worst(s.by_way);
    double sum = 0.0;
    std::string ids;
    for (std::size_t i = 0; i < std::min(most, ways.size()); ++i) {
        sum += ways[i].second.wrong / seeds;
        ids += fmt::format("{}{}", ids.empty() ? "" : ", ", ways[i].first);
    }
    fmt::print(". {:.1f} km of it lie on {} ways ({}).\n", sum, std::min(most, ways.size()), ids);
}

int run(const std::vector<std::string>& paths) {
    std::vector<Named> maps;
    for (const std::string& path : paths)
        maps.push_back({stem(path), SurfaceMap(path)});
    fmt::print(
        "Surfaces where they are known and hidden; weighted by km; \"tags\" is the plain table, \"learned\" is "
        "with what the other roads teach.\n\n"
        "| taught by | asked | km known | % right, hard or not: tags | learned | % right of three: tags | "
        "learned | log loss: tags | learned | Brier: tags | learned | % off in ten bins: tags | learned |\n"
        "|---|---|---|---|---|---|---|---|---|---|---|---|---|\n");
    std::vector<SurfaceScores> within;
    for (const Named& m : maps) {
        within.push_back(score_within(m.map, seeds));
        print_row("its other half", m.name, m.map.known_km(), within.back());
    }
    for (const Named& teacher : maps)
        for (const Named& asked : maps)
            if (&teacher != &asked)
                print_row(teacher.name, asked.name, asked.map.known_km(),
                          score_across(teacher.map, asked.map));
    fmt::print(
        "\nCalibration, by P(hard) in tenths: km: % expected -> % that was so.\n\n"
        "| learned | 0- | 10- | 20- | 30- | 40- | 50- | 60- | 70- | 80- | 90- |\n"
        "|---|---|---|---|---|---|---|---|---|---|---|\n");
    for (std::size_t i = 0; i < maps.size(); ++i)
        print_bins(maps[i].name, within[i].learned);
    for (std::size_t i = 0; i < maps.size(); ++i)
        print_errors(maps[i].name, within[i]);
    return 0;
}

}  // namespace
}  // namespace loamway::test

int main(int argc, char** argv) {
    try {
        return loamway::test::run(std::vector<std::string>(argv + 1, argv + argc));
    } catch (const loamway::Error& e) {
        fmt::print(stderr, "surface_bench: {}\n", e.what());
        return 1;
    }
}
