// SPDX-License-Identifier: Apache-2.0
#include "surface_lessons.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace loamway {

namespace {

// All weights are assumptions, in ways.
constexpr double like_weight = 5.0;
constexpr double hint_weight = 10.0;
constexpr double hint_cap_km = 1.0;  // a way counts by the root of its length, at most this much
constexpr double copy_weight = 2.0;
constexpr std::array<double, surface_witness_count> copy_before = {0.6, 0.3, 0.3, 0.3, 0.1};
constexpr double rate_step = 0.05;
constexpr double least_probability = 1e-4;

std::size_t index_of(SurfaceClass c) {
    return static_cast<std::size_t>(c);
}

SurfaceShares shares_of(const SurfaceOdds& odds) {
    constexpr double steps = probability_steps;
    return {odds.hard / steps, odds.gravel / steps, odds.earth / steps};
}

void set_hard(SurfaceShares& p, double hard) {
    const double soft = p[1] + p[2];
    const double factor = soft > 0.0 ? (1.0 - hard) / soft : 0.0;
    p = {soft > 0.0 ? hard : 1.0, p[1] * factor, p[2] * factor};
}

void refine(SurfaceShares& p, const SurfaceShares& km, double squares) {
    const double sum = km[0] + km[1] + km[2];
    if (sum <= 1e-6 || squares <= 1e-9)
        return;
    const double ways = sum * sum / squares;
    for (std::size_t c = 0; c < p.size(); ++c)
        p[c] = (like_weight * p[c] + ways * km[c] / sum) / (like_weight + ways);
}

/// Factors P(hint | class) / P(hint) from counts of the roads with the hint and of all; 1 for a hint nobody
/// has.
SurfaceShares factors(const SurfaceShares& with, const SurfaceShares& all) {
    const double sum_with = with[0] + with[1] + with[2];
    const double sum_all = all[0] + all[1] + all[2];
    SurfaceShares out{1.0, 1.0, 1.0};
    if (sum_with <= 0.0)
        return out;
    const double share = sum_with / sum_all;
    for (std::size_t c = 0; c < out.size(); ++c)
        out[c] = (hint_weight * share + with[c]) / (hint_weight + all[c]) / share;
    return out;
}

/// P(witness's surface | own surface).
double copied(double rate, bool same, double q) {
    return (same ? rate : 0.0) + (1.0 - rate) * q;
}

std::string plural_of(const SurfaceTraits& t) {
    const std::string grade = t.grade > 0 ? "grade" + std::to_string(t.grade) : "";
    if (t.road == "track")
        return grade.empty() ? "tracks without a grade" : grade + " tracks";
    const std::string name = t.road == "residential"     ? "residential streets"
                             : t.road == "living_street" ? "living streets"
                             : t.road == "path"          ? "paths"
                                                         : t.road + " roads";
    return grade.empty() ? name : name + " of " + grade;
}

std::string plural_of_service(const std::string& service) {
    if (service == "driveway" || service == "alley")
        return service + "s";
    return service == "parking_aisle" ? "parking aisles" : "service roads (" + service + ")";
}

}  // namespace

std::vector<SurfaceLevel> surface_levels(const SurfaceTraits& t, bool built_up) {
    std::vector<SurfaceLevel> levels;
    levels.push_back({t.road + (t.grade > 0 ? "/" + std::to_string(t.grade) : ""), plural_of(t)});
    const auto add = [&](const std::string& key, const std::string& words, SurfaceLevel::Hint hint) {
        levels.push_back({levels.back().key + "/" + key, words, hint});
    };
    const auto more = [&](const char* words) { return levels.back().words + words; };
    if (!t.service.empty())
        add("service=" + t.service, plural_of_service(t.service), SurfaceLevel::Hint::none);
    add(built_up ? "in" : "out", more(built_up ? " in built-up areas" : " outside built-up areas"),
        SurfaceLevel::Hint::none);
    if (t.feel != RoadFeel::unsaid)
        add(t.feel == RoadFeel::rough ? "rough" : "smooth",
            more(t.feel == RoadFeel::rough ? " that are rough" : " that are smooth"),
            t.grade == 0 ? SurfaceLevel::Hint::feel : SurfaceLevel::Hint::none);
    if (t.bridge)
        add("bridge", more(" on bridges"), SurfaceLevel::Hint::bridge);
    return levels;
}

SurfaceLessons::SurfaceLessons(const SurfaceRoads& roads) {
    if (!roads.any_known())
        return;
    count_ways(roads);
    measure_copying(roads);
}

const SurfaceCell* SurfaceLessons::cell(const std::string& key) const {
    const auto at = m_cells.find(key);
    return at == m_cells.end() ? nullptr : &at->second;
}

void SurfaceLessons::count_ways(const SurfaceRoads& roads) {
    for (std::uint32_t way = 0; way < roads.way_count(); ++way) {
        const std::optional<SurfaceClass> known = roads.known(way);
        if (!known)
            continue;
        const std::array<double, 2> km = roads.km(way);
        const SurfaceTraits& traits = roads.untold(way).traits;
        std::map<std::string, std::pair<double, std::string>> own;
        for (const bool inside : {false, true})
            if (km[inside ? 1 : 0] > 0.0)
                for (const SurfaceLevel& level : surface_levels(traits, inside)) {
                    own[level.key].first += km[inside ? 1 : 0];
                    own[level.key].second = level.words;
                }
        for (const auto& [key, part] : own) {
            SurfaceCell& c = m_cells[key];
            c.km[index_of(*known)] += part.first;
            c.squares += part.first * part.first;
            c.words = part.second;
        }
        m_known_km += km[0] + km[1];
        HintCounts& hints = m_hints[static_cast<std::size_t>(roads.untold(way).family)];
        const double weight = std::sqrt(std::min(km[0] + km[1], hint_cap_km));
        hints.opening[static_cast<std::size_t>(traits.opening)][index_of(*known)] += weight;
        hints.named[traits.named ? 1 : 0][index_of(*known)] += weight;
    }
}

SurfaceShares SurfaceLessons::of_likes(const SurfaceRoads& roads, std::uint32_t way, bool built_up,
                                       bool without) const {
    const SurfaceRoads::Untold& untold = roads.untold(way);
    const std::array<double, 2> own_km = without ? roads.km(way) : std::array<double, 2>{};
    SurfaceShares p = shares_of(untold.odds[built_up ? 1 : 0]);
    bool inside_only = false;
    for (const SurfaceLevel& level : surface_levels(untold.traits, built_up)) {
        if (level.hint == SurfaceLevel::Hint::feel)
            set_hard(p, hard_by_feel(untold.traits.feel, p[0]));
        if (level.hint == SurfaceLevel::Hint::bridge)
            set_hard(p, hard_on_bridge(p[0]));
        inside_only = inside_only || level.key.ends_with(built_up ? "/in" : "/out");
        const SurfaceCell* c = cell(level.key);
        if (c == nullptr)
            continue;
        SurfaceShares km = c->km;
        double squares = c->squares;
        if (without) {
            const double own = inside_only ? own_km[built_up ? 1 : 0] : own_km[0] + own_km[1];
            double& mine = km[index_of(*roads.known(way))];
            mine = std::max(0.0, mine - own);
            squares -= own * own;
        }
        refine(p, km, squares);
    }
    return p;
}

SurfaceShares SurfaceLessons::of_way(const SurfaceRoads& roads, std::uint32_t way, bool without) const {
    const std::array<double, 2> km = roads.km(way);
    const double sum = km[0] + km[1];
    if (sum <= 0.0)
        return of_likes(roads, way, false, without);
    SurfaceShares p{};
    for (const bool inside : {false, true})
        if (km[inside ? 1 : 0] > 0.0) {
            const SurfaceShares part = of_likes(roads, way, inside, without);
            for (std::size_t c = 0; c < p.size(); ++c)
                p[c] += part[c] * km[inside ? 1 : 0] / sum;
        }
    return p;
}

SurfaceShares SurfaceLessons::opening_factors(RoadFamily family, RoadOpening opening) const {
    const HintCounts& hints = m_hints[static_cast<std::size_t>(family)];
    SurfaceShares all{};
    for (const SurfaceShares& part : hints.opening)
        for (std::size_t c = 0; c < all.size(); ++c)
            all[c] += part[c];
    return factors(hints.opening[static_cast<std::size_t>(opening)], all);
}

SurfaceShares SurfaceLessons::name_factors(RoadFamily family, bool named) const {
    const HintCounts& hints = m_hints[static_cast<std::size_t>(family)];
    SurfaceShares all{};
    for (std::size_t c = 0; c < all.size(); ++c)
        all[c] = hints.named[0][c] + hints.named[1][c];
    return factors(hints.named[named ? 1 : 0], all);
}

double SurfaceLessons::copy_rate(RoadFamily family, SurfaceWitness kind) const {
    return m_copy_rates[static_cast<std::size_t>(family)][static_cast<std::size_t>(kind)];
}

SurfaceShares SurfaceLessons::witness_factors(RoadFamily family, SurfaceWitness kind, SurfaceClass surface,
                                              double q) const {
    const double rate = copy_rate(family, kind);
    SurfaceShares out{};
    for (std::size_t c = 0; c < out.size(); ++c)
        out[c] = copied(rate, c == index_of(surface), q) / q;
    return out;
}

/// The likeliest rate in steps, with a before worth a few pairs.
void SurfaceLessons::measure_copying(const SurfaceRoads& roads) {
    struct Pair {
        bool same;
        double q;
    };
    std::array<std::array<std::vector<Pair>, surface_witness_count>, road_family_count> pairs;
    for (std::uint32_t way = 0; way < roads.way_count(); ++way) {
        const std::optional<SurfaceClass> known = roads.known(way);
        const std::optional<FoundWitness> found = known ? roads.witness(way) : std::nullopt;
        if (!found)
            continue;
        const SurfaceClass said = *roads.known(found->way);
        const double q = std::max(of_way(roads, found->way, true)[index_of(said)], least_probability);
        pairs[static_cast<std::size_t>(roads.untold(way).family)][static_cast<std::size_t>(found->kind)]
            .push_back({said == *known, q});
    }
    for (std::size_t f = 0; f < road_family_count; ++f)
        for (std::size_t k = 0; k < surface_witness_count; ++k) {
            double best = -INFINITY;
            for (double rate = 0.0; rate < 1.0 - rate_step / 2; rate += rate_step) {
                double sum = copy_weight * (copy_before[k] * std::log(std::max(rate, 0.01)) +
                                            (1.0 - copy_before[k]) * std::log(1.0 - rate));
                for (const Pair& pair : pairs[f][k])
                    sum += std::log(copied(rate, pair.same, pair.q));
                if (sum > best) {
                    best = sum;
                    m_copy_rates[f][k] = rate;
                }
            }
        }
}

}  // namespace loamway
