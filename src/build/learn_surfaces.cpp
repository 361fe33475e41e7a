// SPDX-License-Identifier: Apache-2.0
#include "learn_surfaces.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

constexpr double q_steps = 50.0;     // a witness is never more of a surprise than one step
constexpr double telling = 1.25;     // a hint is worth a word from this factor on
constexpr double enough_ways = 2.0;  // a count is worth showing from so many effective ways on

void scale(SurfaceShares& p, const SurfaceShares& factors) {
    double sum = 0.0;
    for (std::size_t c = 0; c < p.size(); ++c)
        sum += p[c] *= factors[c];
    for (double& share : p)
        share /= sum;
}

bool tells(const SurfaceShares& factors, const SurfaceShares& p) {
    const std::size_t c = static_cast<std::size_t>(std::max_element(p.begin(), p.end()) - p.begin());
    const double others = (factors[(c + 1) % 3] + factors[(c + 2) % 3]) / 2;
    return factors[c] > telling * others || others > telling * factors[c];
}

double ways_in(const SurfaceCell& c) {
    return c.squares > 0.0 ? c.sum() * c.sum() / c.squares : 0.0;
}

std::string_view word_for(SurfaceClass c) {
    return c == SurfaceClass::hard ? "paved" : name_of(c);
}

std::string count_text(const SurfaceCell& c) {
    const auto most = static_cast<std::size_t>(std::max_element(c.km.begin(), c.km.end()) - c.km.begin());
    const double km = c.sum();
    return fmt::format("{} km of {} here, {:.0f} % {}",
                       km < 10 ? fmt::format("{:.1f}", km) : fmt::format("{:.0f}", km), c.words,
                       100.0 * c.km[most] / km, word_for(static_cast<SurfaceClass>(most)));
}

std::string assumed_text(const SurfaceOdds& odds) {
    const SurfaceClass likeliest = odds.likeliest();
    const int steps = likeliest == SurfaceClass::hard     ? odds.hard
                      : likeliest == SurfaceClass::gravel ? odds.gravel
                                                          : odds.earth;
    return fmt::format("assumed {} ({} %)", word_for(likeliest), (steps + 1) / 2);
}

std::string_view opening_text(RoadOpening opening) {
    switch (opening) {
        case RoadOpening::open:
            return "open to traffic";
        case RoadOpening::purpose:
            return "open for some purposes only";
        case RoadOpening::closed:
            return "private or closed";
        case RoadOpening::unsaid:
            break;
    }
    return "nothing said of access";
}

std::string witness_text(SurfaceWitness kind, SurfaceClass says) {
    const std::string_view word = word_for(says);
    switch (kind) {
        case SurfaceWitness::continues:
        case SurfaceWitness::other_ahead:
            return fmt::format("continues {} {} road", says == SurfaceClass::earth ? "an" : "a", word);
        case SurfaceWitness::runs_on:
            return fmt::format("further on it is {}", word);
        case SurfaceWitness::meets:
        case SurfaceWitness::other_meets:
            break;
    }
    return fmt::format("meets {} {} road", says == SurfaceClass::earth ? "an" : "a", word);
}

}  // namespace

SurfaceOdds learned_odds(const SurfaceShares& p) {
    constexpr int steps = probability_steps;
    std::array<int, surface_class_count> n{};
    int sum = 0;
    for (std::size_t c = 0; c < n.size(); ++c)
        sum += n[c] = std::max(1, static_cast<int>(std::lround(p[c] * steps)));
    // What rounding left over or took too much is the likeliest's.
    *std::max_element(n.begin(), n.end()) += steps - sum;
    return {static_cast<std::uint8_t>(n[0]), static_cast<std::uint8_t>(n[1]),
            static_cast<std::uint8_t>(n[2])};
}

SurfaceReader::SurfaceReader(const SurfaceLessons& lessons, const SurfaceRoads& roads)
    : m_lessons(lessons), m_roads(roads), m_heard(roads.way_count()) {}

const SurfaceReader::Heard& SurfaceReader::hear(std::uint32_t way) {
    Heard& heard = m_heard[way];
    if (heard.asked)
        return heard;
    heard.asked = true;
    const std::optional<FoundWitness> found = m_roads.witness(way);
    if (!found || m_lessons.copy_rate(m_roads.untold(way).family, found->kind) <= 0.0)
        return heard;
    heard.says = true;
    heard.kind = found->kind;
    heard.surface = *m_roads.known(found->way);
    const double q = m_lessons.of_way(m_roads, found->way, true)[static_cast<std::size_t>(heard.surface)];
    heard.q_steps = static_cast<std::uint8_t>(std::max(1.0, std::round(q * q_steps)));
    return heard;
}

std::optional<LearnedSurface> SurfaceReader::judge(std::uint32_t way, bool built_up,
                                                   const Heard& heard) const {
    const SurfaceRoads::Untold& untold = m_roads.untold(way);
    SurfaceShares p = m_lessons.of_likes(m_roads, way, built_up);
    const SurfaceCell* shown = nullptr;  // the most particular count that holds something
    for (const SurfaceLevel& level : surface_levels(untold.traits, built_up))
        if (const SurfaceCell* c = m_lessons.cell(level.key))
            if (shown == nullptr || ways_in(*c) >= enough_ways)
                shown = c;
    const SurfaceShares opening = m_lessons.opening_factors(untold.family, untold.traits.opening);
    const SurfaceShares name = m_lessons.name_factors(untold.family, untold.traits.named);
    scale(p, opening);
    scale(p, name);
    if (heard.says)
        scale(p,
              m_lessons.witness_factors(untold.family, heard.kind, heard.surface, heard.q_steps / q_steps));
    std::string more;
    if (heard.says)
        more += "; " + witness_text(heard.kind, heard.surface);
    if (tells(opening, p))
        more += fmt::format("; {}", opening_text(untold.traits.opening));
    if (tells(name, p))
        more += untold.traits.named ? "; it has a name" : "; it has no name";
    if (shown == nullptr && more.empty())
        return std::nullopt;
    const SurfaceOdds odds = learned_odds(p);
    return LearnedSurface{odds, assumed_text(odds) + ": " +
                                    (shown != nullptr ? count_text(*shown) : m_roads.because(way, built_up)) +
                                    more};
}

const LearnedSurface* SurfaceReader::edge(std::uint32_t edge) {
    const std::uint32_t way = m_roads.way_of(edge);
    const bool built_up = m_roads.built_up(edge);
    const Heard& heard = hear(way);
    std::uint64_t key = std::uint64_t{m_roads.list_of(way)} * 2 + (built_up ? 1 : 0);
    key = key * 16 + (heard.says ? 1 + static_cast<std::uint64_t>(heard.kind) : 0);
    key = (key * 4 + static_cast<std::uint64_t>(heard.surface)) * 64 + heard.q_steps;
    const auto [at, is_new] = m_judged.try_emplace(key);
    if (is_new)
        at->second = judge(way, built_up, heard);
    return at->second ? &*at->second : nullptr;
}

void learn_surfaces(Assembly& a) {
    const SurfaceRoads roads(a);
    if (!roads.any_known())
        return;
    const SurfaceLessons lessons(roads);
    SurfaceReader reader(lessons, roads);
    for (std::uint32_t e = 0; e < a.out.edges.size(); ++e) {
        if (!roads.asks(roads.way_of(e)))
            continue;
        if (const LearnedSurface* learned = reader.edge(e)) {
            a.out.edges[e].odds = learned->odds;
            a.out.edges[e].reason = a.texts.add(learned->reason);
        }
    }
}

}  // namespace loamway
