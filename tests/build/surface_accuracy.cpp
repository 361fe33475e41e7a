// SPDX-License-Identifier: Apache-2.0
#include "surface_accuracy.h"

#include <algorithm>
#include <cmath>

#include "../../src/build/learn_surfaces.h"
#include "../../src/build/map_areas.h"
#include "loamway/build/build.h"

namespace loamway::test {

namespace {

constexpr double steps = probability_steps;

/// One bit of a way's id, well mixed (splitmix64).
bool in_half(std::int64_t way, int seed) {
    auto x = static_cast<std::uint64_t>(way) + 0x9e3779b97f4a7c15u * static_cast<std::uint64_t>(seed);
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
    return ((x ^ (x >> 31)) & 1u) != 0;
}

/// Asks for every edge of a hidden way whose surface is known.
void ask(const SurfaceMap& map, const SurfaceRoads& roads, const SurfaceLessons& lessons,
         SurfaceScores& scores) {
    SurfaceReader reader(lessons, roads);
    const Assembly& a = map.assembly();
    for (std::uint32_t e = 0; e < a.out.edges.size(); ++e) {
        const std::uint32_t way = roads.way_of(e);
        const SurfaceRoads::Untold& untold = roads.untold(way);
        if (!untold.known || roads.known(way))
            continue;
        const double km = a.out.edges[e].length_dm / 10000.0;
        const SurfaceOdds plain = untold.odds[roads.built_up(e) ? 1 : 0];
        const LearnedSurface* learned = reader.edge(e);
        scores.plain.add(plain, *untold.known, km);
        const SurfaceOdds odds = learned != nullptr ? learned->odds : plain;
        scores.learned.add(odds, *untold.known, km);
        const bool hard = *untold.known == SurfaceClass::hard;
        const bool wrong = (odds.likeliest() == SurfaceClass::hard) != hard;
        const std::string sort = surface_levels(untold.traits, false).front().words + " that are " +
                                 std::string(name_of(*untold.known));
        for (WrongKm* sum : {&scores.by_sort[sort], &scores.by_way[a.out.edge_way[e]]}) {
            sum->asked += km;
            sum->wrong += wrong ? km : 0.0;
        }
    }
}

}  // namespace

void SurfaceScore::add(const SurfaceOdds& odds, SurfaceClass truth, double km_of_edge) {
    const std::array<std::uint8_t, 3> n = {odds.hard, odds.gravel, odds.earth};
    const bool hard = truth == SurfaceClass::hard;
    const double p_hard = odds.hard / steps;
    // A class given no step at all counts as half a step: the loss stays finite.
    const double p_truth = std::max<double>(n[static_cast<std::size_t>(truth)], 0.5) / steps;
    km += km_of_edge;
    right += (odds.likeliest() == SurfaceClass::hard) == hard ? km_of_edge : 0.0;
    right_class += odds.likeliest() == truth ? km_of_edge : 0.0;
    log_loss -= km_of_edge * std::log(p_truth);
    brier += km_of_edge * (p_hard - (hard ? 1.0 : 0.0)) * (p_hard - (hard ? 1.0 : 0.0));
    Bin& bin = bins[std::min<std::size_t>(bins.size() - 1, odds.hard / (probability_steps / bins.size()))];
    bin.km += km_of_edge;
    bin.expected += km_of_edge * p_hard;
    bin.hard += hard ? km_of_edge : 0.0;
}

void SurfaceScore::add(const SurfaceScore& other) {
    km += other.km;
    right += other.right;
    right_class += other.right_class;
    log_loss += other.log_loss;
    brier += other.brier;
    for (std::size_t i = 0; i < bins.size(); ++i) {
        bins[i].km += other.bins[i].km;
        bins[i].expected += other.bins[i].expected;
        bins[i].hard += other.bins[i].hard;
    }
}

double SurfaceScore::miscalibration() const {
    double sum = 0.0;
    for (const Bin& bin : bins)
        sum += std::abs(bin.expected - bin.hard);
    return sum / km;
}

SurfaceMap::SurfaceMap(const std::string& path)
    : m_recipe(std::make_unique<Recipe>()),
      m_assembly(std::make_unique<Assembly>(read_extract(path, {}), *m_recipe)) {
    resolve_refs(*m_assembly);
    split_roads(*m_assembly);
    const MapAreas areas(*m_assembly);
    describe_edges(*m_assembly, areas);
}

double SurfaceMap::known_km() const {
    double km = 0.0;
    for (const EdgeRecord& e : m_assembly->out.edges)
        if ((e.flags & edge_flag::known) != 0)
            km += e.length_dm / 10000.0;
    return km;
}

SurfaceScores score_within(const SurfaceMap& map, int seeds) {
    SurfaceScores scores;
    for (int seed = 1; seed <= seeds; ++seed)
        for (const bool half : {false, true}) {
            const SurfaceRoads roads(map.assembly(),
                                     [&](std::int64_t way) { return in_half(way, seed) == half; });
            const SurfaceLessons lessons(roads);
            ask(map, roads, lessons, scores);
        }
    return scores;
}

SurfaceScores score_across(const SurfaceMap& teacher, const SurfaceMap& asked) {
    SurfaceScores scores;
    const SurfaceLessons lessons{SurfaceRoads(teacher.assembly())};
    const SurfaceRoads roads(asked.assembly(), [](std::int64_t) { return true; });
    ask(asked, roads, lessons, scores);
    return scores;
}

}  // namespace loamway::test
