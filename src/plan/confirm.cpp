// SPDX-License-Identifier: Apache-2.0
#include "confirm.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "loamway/plan/plan_words.h"
#include "uncertainty.h"

namespace loamway {

namespace {

// Assumptions: how many stretches are tried, from which probability on a surface is tried at all, by how much
// paved length a stretch must be able to move to be worth a line, and how far a place may lie to name a
// track.
constexpr std::size_t most_tried = 4;
constexpr double least_probability = 0.05;
constexpr double worth_a_line_m = 100;
constexpr double near_place_m = 5000;
constexpr double a_cent = 0.005;

using Costs =
    std::vector<std::optional<SupposedCost>>;  // of each option of the plan; nothing: cannot be done

std::string highway_of(const Setting& setting, ArcId a) {
    return std::string(setting.graph().tags(setting.graph().edge_of(a)).get("highway").value_or("road"));
}

double metres(std::uint64_t dm) {
    return static_cast<double>(dm) / 10.0;
}

bool uses(const PricedWay& way, const Setting& setting, const std::vector<EdgeId>& edges) {
    return std::any_of(way.path->pieces.begin(), way.path->pieces.end(), [&](const PathPiece& p) {
        return !p.spur &&
               std::binary_search(edges.begin(), edges.end(), setting.graph().edge_of(p.piece.arc));
    });
}

// Rough, to choose what is tried: prices follow in full.
double worth_of(Setting& setting, const AssumedStretch& s) {
    const Length length = Length::from_decimetres(static_cast<std::int64_t>(s.length_dm));
    const auto cost = [&](bool hard) {
        setting.suppose(s.edges, hard);
        const Speed cap = setting.cap_on(setting.surface(s.first));
        return setting.driving_cost(setting.drive(s.first, length, cap)).units();
    };
    const double hard = s.hard_dm / static_cast<double>(s.length_dm);
    const double worth = std::abs(cost(true) - cost(false)) * hard * (1 - hard);
    setting.suppose({}, false);
    return worth;
}

class Grouper {
public:
    Grouper(Setting& setting, std::size_t way, std::vector<AssumedStretch>& out)
        : m_setting(setting), m_way(way), m_out(out) {}

    void add(const PathPiece& p) {
        const ArcId a = p.piece.arc;
        if (m_setting.known(a)) {
            end();
            return;
        }
        const std::string name = m_setting.road_name(a);
        const std::string road = name.empty() ? "/" + highway_of(m_setting, a) : name;
        if (!m_open || road != m_road)
            begin(p, road);
        const std::uint32_t dm = p.piece.length_dm();
        m_now.edges.push_back(m_setting.graph().edge_of(a));
        m_now.length_dm += dm;
        m_now.hard_dm += static_cast<double>(dm) * m_setting.graph().edge(a).odds.hard / probability_steps;
        m_now.to_dm = p.at_dm + dm;
        m_arcs.push_back(a);
    }
    void end() {
        if (m_open && m_now.length_dm > 0) {
            std::sort(m_now.edges.begin(), m_now.edges.end());
            m_now.edges.erase(std::unique(m_now.edges.begin(), m_now.edges.end()), m_now.edges.end());
            m_now.middle = m_arcs[m_arcs.size() / 2];
            m_now.worth = worth_of(m_setting, m_now);
            m_out.push_back(m_now);
        }
        m_open = false;
    }

private:
    void begin(const PathPiece& p, const std::string& road) {
        end();
        m_open = true;
        m_road = road;
        m_now = AssumedStretch();
        m_now.way = m_way;
        m_now.from_dm = p.at_dm;
        m_now.first = p.piece.arc;
        m_arcs.clear();
    }

    Setting& m_setting;
    std::size_t m_way;
    std::vector<AssumedStretch>& m_out;
    AssumedStretch m_now;
    std::vector<ArcId> m_arcs;
    std::string m_road;
    bool m_open = false;
};

std::string kind_text(const std::string& highway) {
    return highway == "track" ? "track" : highway == "service" ? "service road" : "road";
}

// "Mill Lane", "track near Alder Farm".
std::string name_of_stretch(const Setting& setting, const AssumedStretch& s) {
    std::string name = setting.road_name(s.first);
    if (!name.empty())
        return name;
    const RegionView& region = setting.region();
    const GeoPoint middle = setting.point_on(s.middle, setting.graph().arc(s.middle).length_dm / 2);
    const PlaceRecord* nearest = nullptr;
    double best = near_place_m;
    for (const PlaceRecord& place : region.places) {
        const double d = distance(middle, {place.lat_e7, place.lon_e7}).metres();
        if (place.name != 0 && d < best) {
            best = d;
            nearest = &place;
        }
    }
    const std::string kind = kind_text(highway_of(setting, s.first));
    return nearest == nullptr ? kind + " without a name"
                              : fmt::format("{} near {}", kind, region.string(nearest->name));
}

class Confirmer {
public:
    Confirmer(Setting& setting, const std::vector<PricedWay>& ways, Plan& plan)
        : m_setting(setting), m_ways(ways), m_plan(plan), m_stretches(assumed_stretches(setting, ways)) {
        for (const Option& o : plan.options)
            m_costs.push_back(cost_of(o));
    }

    void name() {
        const std::size_t tried = std::min(most_tried, m_stretches.size());
        std::optional<Finding> decides, orders;
        for (std::size_t i = 0; i < tried && !decides; ++i)
            for (const bool hard : {true, false})
                if (const auto found = suppose(i, hard)) {
                    std::optional<Finding>& kept = found->advised != cheapest(m_costs) ? decides : orders;
                    if (!kept)
                        kept = found;
                }
        m_setting.suppose({}, false);
        if (decides || orders)
            tell_decisive(decides ? *decides : *orders, decides.has_value());
        else
            tell_longest();
    }

private:
    struct Finding {
        std::size_t stretch;
        bool hard;
        Costs costs;
        std::optional<std::size_t> advised;
    };

    [[nodiscard]] std::optional<SupposedCost> cost_of(const Option& o) const {
        if (!o.feasible || !o.figures)
            return std::nullopt;
        return SupposedCost{*o.cost.total, cost_at_means(m_setting, *o.figures)};
    }

    // The first of the cheapest, near the verdict: what a stretch decides is not hung on less than a cent.
    static std::optional<std::size_t> cheapest(const Costs& costs) {
        std::optional<std::size_t> best;
        for (std::size_t i = 0; i < costs.size(); ++i)
            if (costs[i] && (!best || costs[i]->judged < costs[*best]->judged - a_cent))
                best = i;
        return best;
    }
    static std::vector<std::size_t> order(const Costs& costs) {
        std::vector<std::size_t> out;
        for (std::size_t i = 0; i < costs.size(); ++i)
            if (costs[i])
                out.push_back(i);
        std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
            return costs[a]->judged < costs[b]->judged - a_cent;
        });
        return out;
    }

    // What the stretch would change, taken so; nothing when it is next to impossible or changes no order.
    std::optional<Finding> suppose(std::size_t stretch, bool hard) {
        const AssumedStretch& s = m_stretches[stretch];
        const double p_hard = s.hard_dm / static_cast<double>(s.length_dm);
        if ((hard ? p_hard : 1 - p_hard) < least_probability)
            return std::nullopt;
        m_setting.suppose(s.edges, hard);
        Costs costs = m_costs;
        for (const PricedWay& way : m_ways)
            if (uses(way, m_setting, s.edges))
                for (std::size_t i = 0; i < costs.size(); ++i)
                    if (m_plan.options[i].id == way.id)
                        costs[i] = way.price();
        if (order(costs) == order(m_costs))
            return std::nullopt;
        const auto advised = cheapest(costs);
        return Finding{stretch, hard, std::move(costs), advised};
    }

    [[nodiscard]] std::string km(double m) const { return m_setting.words().exact_number(m); }
    [[nodiscard]] std::string_view unit() const { return m_setting.words().long_unit(); }
    [[nodiscard]] std::string head(const AssumedStretch& s) const {
        return fmt::format("confirm {} {} of {} ({} {} to {} of {})", km(metres(s.length_dm)), unit(),
                           name_of_stretch(m_setting, s), unit(), km(metres(s.from_dm)), km(metres(s.to_dm)),
                           option_name(m_ways[s.way].id));
    }

    [[nodiscard]] std::string what_it_decides(const Finding& f) const {
        const auto before = cheapest(m_costs);
        if (!before || !f.advised)
            return "it decides whether the move can be done";
        return m_plan.options[*before].mode == m_plan.options[*f.advised].mode
                   ? "it decides the route"
                   : "it decides between driving and hauling";
    }

    void tell_decisive(const Finding& f, bool decides) {
        const AssumedStretch& s = m_stretches[f.stretch];
        std::string text = head(s) + ": ";
        const std::string_view as = f.hard ? "all paved" : "all gravel or earth";
        if (!decides)
            text += fmt::format("it changes the order of the costs: taken as {}, ", as);
        else
            text += fmt::format("{}: taken as {}, ", what_it_decides(f), as);
        if (decides && f.advised)
            text += fmt::format("{} is cheapest, at {:.0f} {}", option_name(m_plan.options[*f.advised].id),
                                f.costs[*f.advised]->total, m_plan.options[*f.advised].cost.currency);
        else
            text += costs_text(f.costs);
        m_plan.verdict.would_flip.push_back(text);
        flag(s, text, Severity::check);
    }
    [[nodiscard]] std::string costs_text(const Costs& costs) const {
        std::string text;
        for (const std::size_t i : order(costs))
            text += fmt::format("{}{} costs {:.0f}", text.empty() ? "" : ", ",
                                option_name(m_plan.options[i].id), costs[i]->total);
        return text.empty() ? "nothing can be done" : text;
    }

    // Of the way that would be driven, the stretch that can move its paved length most.
    void tell_longest() {
        const PricedWay* way = driven_way();
        const AssumedStretch* best = nullptr;
        double most = worth_a_line_m;
        for (const AssumedStretch& s : m_stretches) {
            const double length = metres(s.length_dm), hard = s.hard_dm / 10.0;
            const double moves = std::max(hard < least_probability * length ? 0 : length - hard,
                                          length - hard < least_probability * length ? 0 : hard);
            if (way != nullptr && moves > most && uses(*way, m_setting, s.edges)) {
                most = moves;
                best = &s;
            }
        }
        if (best == nullptr)
            return;
        const std::string text =
            fmt::format("{}: it moves the paved {} by up to {}", head(*best), unit(), km(most));
        m_plan.verdict.reasons.push_back(text);
        flag(*best, text, Severity::note);
    }
    [[nodiscard]] const PricedWay* driven_way() const {
        const PricedWay* cheapest_way = nullptr;
        double cost = 0;
        for (const PricedWay& way : m_ways)
            for (std::size_t i = 0; i < m_costs.size(); ++i)
                if (m_plan.options[i].id == way.id && m_costs[i] &&
                    (cheapest_way == nullptr || m_costs[i]->judged < cost)) {
                    cheapest_way = &way;
                    cost = m_costs[i]->judged;
                }
        return cheapest_way;
    }

    void flag(const AssumedStretch& s, const std::string& text, Severity severity) {
        for (const PricedWay& way : m_ways)
            for (Option& o : m_plan.options)
                if (o.id == way.id)
                    flag_on(o, *way.path, s, text, severity);
    }
    void flag_on(Option& o, const Path& path, const AssumedStretch& s, const std::string& text,
                 Severity severity) {
        for (const PathPiece& p : path.pieces) {
            const EdgeId e = m_setting.graph().edge_of(p.piece.arc);
            if (p.spur || !std::binary_search(s.edges.begin(), s.edges.end(), e))
                continue;
            Flag f;
            f.kind = "assumed";
            f.severity = severity;
            f.at_m = metres(p.at_dm);
            f.point = m_setting.point_on(p.piece.arc, p.piece.from_dm);
            f.text = text;
            f.osm_way = m_setting.region().edge_way[e.index()];
            o.flags.push_back(std::move(f));
            return;
        }
    }

    Setting& m_setting;
    const std::vector<PricedWay>& m_ways;
    Plan& m_plan;
    std::vector<AssumedStretch> m_stretches;
    Costs m_costs;
};

}  // namespace

std::vector<AssumedStretch> assumed_stretches(Setting& setting, const std::vector<PricedWay>& ways) {
    std::vector<AssumedStretch> all;
    for (std::size_t w = 0; w < ways.size(); ++w) {
        Grouper grouper(setting, w, all);
        for (const PathPiece& p : ways[w].path->pieces)
            if (!p.spur)
                grouper.add(p);
        grouper.end();
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const AssumedStretch& a, const AssumedStretch& b) { return a.worth > b.worth; });
    std::vector<AssumedStretch> out;
    for (AssumedStretch& s : all)
        if (std::none_of(out.begin(), out.end(), [&](const AssumedStretch& o) { return o.edges == s.edges; }))
            out.push_back(std::move(s));
    return out;
}

void name_what_to_confirm(Setting& setting, const std::vector<PricedWay>& ways, Plan& plan) {
    Confirmer(setting, ways, plan).name();
}

}  // namespace loamway
