// SPDX-License-Identifier: Apache-2.0
#include "mixed_search.h"

#include <algorithm>

#include "loamway/search/fast_route.h"
#include "manner.h"

namespace loamway {

namespace {

constexpr double unit = 1e4;  // weights count ten-thousandths of a currency unit

double units_of(RouteWeight w) {
    return w == infinite_weight ? std::numeric_limits<double>::infinity()
                                : static_cast<double>(primary_of(w)) / unit;
}
RouteWeight weight_of(double units) {
    return pack_weight(static_cast<std::uint32_t>(units * unit), 0);
}

// Getting ready to drive at all: once a move, with the powder that is due before it.
double first_preparation(const Setting& setting) {
    const PlanInputs& in = setting.in();
    DriveFigures f;
    f.lubrications = 0;
    f.shuttle = false;
    f.wide_escorts = setting.escorts();
    f.wide_permit = setting.state().width >= in.recipe.permit_from_width;
    if (powders_before_start(in)) {
        f.lubrications = 1;
        f.stopped = in.rates.stop_time(in.machine.belts.count);
    }
    return drive_cost(f, in.rates).total().units();
}

}  // namespace

/// What a place weighs: an end of the move is driven neither to nor from.
struct MixedSearch::Spot {
    RouteWeight drive_to = 0,
                drive_from = 0;     // of the machine, from where the move begins and to where it ends
    RouteWeight out = 0, back = 0;  // the low-bed's empty runs
    std::vector<WeightedNode> haul_out,
        haul_in;  // where the loaded low-bed comes onto open road, and leaves it
};

struct MixedSearch::Runs {
    std::vector<Spot> spots;       // beside the places
    std::optional<Spot> from, to;  // the ends, where the low-bed reaches them
};

MixedSearch::MixedSearch(const Setting& setting, const VehicleRoads& driven,
                         const std::vector<std::uint32_t>& drive_weights, const Hauling& hauling)
    : m_setting(setting),
      m_driven(driven),
      m_hauling(hauling),
      m_drive_weights(drive_weights),
      m_prepare_first(first_preparation(setting)),
      m_prepare_again(drive_cost(second_preparation(setting), setting.in().rates).total().units()) {
    m_fixed = hauling.plain_cost(figures(0, 0, 0)).units();
    m_least_per_km = least_per_km();
}

// What weighing the hierarchy costs grows with the map; what searching without it costs, with the square of
// the way, when nothing dearer than the cap is looked at.
void MixedSearch::get_ready(const MixedQuestion& q) {
    // Measured on prairie grids, for a move of 37 km: with 150 nodes for each km2 of its square the hierarchy
    // was twice as fast, with 1,300 it took three times as long. Between them, this.
    constexpr double even_nodes_per_km2 = 700;
    const RoadGraph& graph = m_setting.graph();
    const double km = distance(q.from.point, q.to.point).km();
    const bool pays = !(q.cap < std::numeric_limits<double>::infinity()) ||
                      km * km * even_nodes_per_km2 > static_cast<double>(graph.node_count());
    const bool with_hierarchy = pays && Hierarchy::stored_in(m_setting.region());
    constexpr double most_units = std::numeric_limits<std::uint32_t>::max() / unit;
    m_at_most = q.cap < most_units ? weight_of(std::max(q.cap, 0.0) + 1 / unit) : infinite_weight;
    if (m_drive && m_hierarchy.has_value() == with_hierarchy)
        return;  // as for the question before
    m_drive.reset();
    m_haul.reset();
    m_empty.reset();
    m_hierarchy.reset();
    if (with_hierarchy)
        m_hierarchy.emplace(m_setting.region());
    const Hierarchy* h = m_hierarchy ? &*m_hierarchy : nullptr;
    m_drive = std::make_unique<NodeDistances>(graph, h, through_weights(m_driven, m_drive_weights));
    m_haul = std::make_unique<NodeDistances>(graph, h,
                                             through_weights(m_hauling.loaded(), m_hauling.loaded_weights()));
    if (m_hauling.base())
        m_empty = std::make_unique<NodeDistances>(
            graph, h, through_weights(m_hauling.empty(), m_hauling.empty_weights()));
}

MixedSearch::~MixedSearch() = default;

// Time and length of a run out of what it weighs.
HaulFigures MixedSearch::figures(RouteWeight out, RouteWeight loaded, RouteWeight back) const {
    HaulFigures f = m_hauling.assumed_runs();
    const auto take = [](RouteWeight w, const RunPrices& prices, Length& length, Duration& time) {
        length = Length::from_decimetres(static_cast<std::int64_t>(length_of(w)));
        time = Duration::from_hours(
            std::max(0.0, (static_cast<double>(primary_of(w)) / unit - prices.per_km.units() * length.km()) /
                              prices.per_h.units()));
    };
    take(loaded, m_hauling.loaded_prices(), f.loaded, f.loaded_time);
    if (m_hauling.base()) {
        take(out, m_hauling.empty_prices(), f.to_pickup, f.to_pickup_time);
        take(back, m_hauling.empty_prices(), f.back, f.back_time);
    }
    return f;
}

// Without passing a node.
RouteWeight MixedSearch::along_one_road(const RoadPoint& a, const RoadPoint& b) const {
    if (a.edge != b.edge)
        return infinite_weight;
    const RoadGraph& graph = m_setting.graph();
    const ArcId arc = graph.arc_of(a.edge, b.offset_dm < a.offset_dm);
    if (!m_driven.open(arc))
        return infinite_weight;
    const auto [from, to] = std::minmax(a.offset_dm, b.offset_dm);
    const std::uint64_t weight =
        weight_between(m_drive_weights[arc.index()], graph.arc(arc).length_dm, from, to);
    return pack_weight(static_cast<std::uint32_t>(weight), to - from);
}

namespace {

/// Asks for the weights of many points at once: the nodes of all of them in one list.
class Ends {
public:
    void add(std::vector<WeightedNode> nodes) {
        for (const WeightedNode& n : nodes)
            m_nodes.push_back(n.node);
        m_ends.push_back(std::move(nodes));
    }
    [[nodiscard]] const std::vector<NodeId>& nodes() const { return m_nodes; }
    /// Of each point the best node, `weights` beside nodes().
    [[nodiscard]] std::vector<RouteWeight> best(const std::vector<RouteWeight>& weights) const {
        std::vector<RouteWeight> out;
        std::size_t i = 0;
        for (const std::vector<WeightedNode>& end : m_ends) {
            RouteWeight least = infinite_weight;
            for (const WeightedNode& n : end)
                least = std::min(least, add_weights(weights[i++], n.weight));
            out.push_back(least);
        }
        return out;
    }

private:
    std::vector<std::vector<WeightedNode>> m_ends;
    std::vector<NodeId> m_nodes;
};

}  // namespace

MixedSearch::Spot MixedSearch::haul_at(const RoadPoint& at) const {
    const VehicleRoads& loaded = m_hauling.loaded();
    Spot s;
    s.haul_out = nodes_from(loaded, at, m_hauling.loaded_weights());
    s.haul_in = nodes_to(loaded, at, m_hauling.loaded_weights());
    return s;
}

MixedSearch::Runs MixedSearch::measure(const MixedQuestion& q) {
    Runs r;
    Ends to, from, out, back;
    std::vector<Spot*> hauled;
    const auto add_empty = [&](const RoadPoint& at) {
        const VehicleRoads& empty = m_hauling.empty();
        out.add(nodes_to(empty, at, m_hauling.empty_weights()));
        back.add(nodes_from(empty, at, m_hauling.empty_weights()));
    };
    for (const LoadingPlace& p : q.places) {
        r.spots.push_back(haul_at(p.at));
        to.add(nodes_to(m_driven, p.at, m_drive_weights));
        from.add(nodes_from(m_driven, p.at, m_drive_weights));
        if (m_empty)
            add_empty(p.at);
    }
    const auto drive_to =
        to.best(m_drive->from(nodes_from(m_driven, q.from, m_drive_weights), to.nodes(), m_at_most));
    const auto drive_from =
        from.best(m_drive->to(nodes_to(m_driven, q.to, m_drive_weights), from.nodes(), m_at_most));
    for (std::size_t i = 0; i < r.spots.size(); ++i) {
        r.spots[i].drive_to = std::min(drive_to[i], along_one_road(q.from, q.places[i].at));
        r.spots[i].drive_from = std::min(drive_from[i], along_one_road(q.places[i].at, q.to));
        hauled.push_back(&r.spots[i]);
    }
    for (const auto& [end, spot] : {std::pair(&q.haul_from, &r.from), std::pair(&q.haul_to, &r.to)}) {
        if (!*end)
            continue;
        *spot = haul_at(**end);
        hauled.push_back(&**spot);
        if (m_empty)
            add_empty(**end);
    }
    if (!m_empty)
        return r;
    const auto& base = *m_hauling.base();
    const auto runs_out = out.best(m_empty->from(
        nodes_from(m_hauling.empty(), base, m_hauling.empty_weights()), out.nodes(), m_at_most));
    const auto runs_back = back.best(
        m_empty->to(nodes_to(m_hauling.empty(), base, m_hauling.empty_weights()), back.nodes(), m_at_most));
    for (std::size_t i = 0; i < hauled.size(); ++i) {
        hauled[i]->out = runs_out[i];
        hauled[i]->back = runs_back[i];
    }
    return r;
}

RouteWeight MixedSearch::least_haul(std::span<const WeightedNode> from, std::span<const WeightedNode> to) {
    CompositionQuestion q;
    q.must_haul = true;
    q.haul_from = from;
    q.haul_to = to;
    const std::optional<Composition> found =
        m_hierarchy ? CompositionFinder(*m_hierarchy).find(q, m_drive->metric(), m_haul->metric())
                    : find_composition_plainly(m_setting.graph(), q, m_drive->weights(), m_haul->weights());
    return found ? found->total : infinite_weight;
}

// Loaded at a place, whatever comes after; or loaded where the move begins and unloaded at a place.
double MixedSearch::least_total(const Runs& runs) {
    const auto add = [](const std::vector<WeightedNode>& nodes, RouteWeight more,
                        std::vector<WeightedNode>& all) {
        for (const WeightedNode& n : nodes)
            if (const RouteWeight w = add_weights(n.weight, more); w != infinite_weight)
                all.push_back({n.node, w});
    };
    std::vector<WeightedNode> loads, begins, unloads, ends;
    for (const Spot& s : runs.spots) {
        add(s.haul_out, add_weights(s.drive_to, s.out), loads);
        add(s.haul_in, add_weights(add_weights(s.drive_from, s.back), weight_of(m_prepare_again)), unloads);
    }
    if (runs.from)
        add(runs.from->haul_out, runs.from->out, begins);
    ends = unloads;
    if (runs.to)
        add(runs.to->haul_in, runs.to->back, ends);
    return m_fixed + m_prepare_first +
           std::min(units_of(least_haul(loads, ends)),
                    units_of(least_haul(begins, unloads)) - m_prepare_again);
}

// Of hauling as far as the crow flies, made ready to drive once. What is left of the move is driven, which
// costs no less.
double MixedSearch::at_least(RouteWeight out, Length crow, RouteWeight back) const {
    if (out == infinite_weight || back == infinite_weight)
        return std::numeric_limits<double>::infinity();
    HaulFigures f = figures(out, 0, back);
    f.loaded = crow * 0.999;
    f.loaded_time = f.loaded / m_setting.in().low_bed.loaded_speed;
    return m_prepare_first + m_hauling.cost(f).total().units();
}

std::vector<std::size_t> MixedSearch::most_promising(const std::vector<double>& bounds,
                                                     double& others) const {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < bounds.size(); ++i)
        if (bounds[i] < std::numeric_limits<double>::infinity())
            order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return bounds[a] < bounds[b]; });
    if (order.size() > most_places) {
        others = std::min(others, bounds[order[most_places]]);
        order.resize(most_places);
    }
    return order;
}

namespace {

/// Pairs by their places, the cheapest way each.
class PairTable {
public:
    PairTable(std::size_t places, double cap) : m_side(places + 1), m_cap(cap) {}
    void offer(std::optional<std::uint32_t> load, std::optional<std::uint32_t> unload, double cost) {
        if (!(cost < m_cap) || load == unload)
            return;
        const std::uint64_t key = number(load) * m_side + number(unload);
        m_found.push_back({key, {load, unload, cost}});
    }
    std::vector<MixedPair> take() {
        const auto rank = [](const auto& f) { return std::tuple(f.first, f.second.cost); };
        std::sort(m_found.begin(), m_found.end(),
                  [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
        std::vector<MixedPair> pairs;
        for (std::size_t i = 0; i < m_found.size(); ++i)
            if (i == 0 || m_found[i].first != m_found[i - 1].first)
                pairs.push_back(m_found[i].second);
        std::stable_sort(pairs.begin(), pairs.end(),
                         [](const MixedPair& a, const MixedPair& b) { return a.cost < b.cost; });
        return pairs;
    }

private:
    static std::uint64_t number(std::optional<std::uint32_t> place) {
        return place ? std::uint64_t{*place} + 1 : 0;
    }
    std::uint64_t m_side;
    double m_cap;
    std::vector<std::pair<std::uint64_t, MixedPair>> m_found;
};

}  // namespace

void MixedSearch::make_pairs(const MixedQuestion& q, const Runs& runs, MixedAnswer& answer) {
    const double most = std::numeric_limits<double>::infinity();
    double after = runs.to ? 0 : most, before = runs.from ? 0 : most;
    for (const Spot& s : runs.spots) {
        after = std::min(after, units_of(s.drive_from) + m_prepare_again);
        before = std::min(before, units_of(s.drive_to) + m_prepare_again);
    }
    std::vector<double> as_load, as_unload;
    for (std::size_t i = 0; i < runs.spots.size(); ++i) {
        const Spot& s = runs.spots[i];
        const GeoPoint at = q.places[i].at.point;
        as_load.push_back(units_of(s.drive_to) + after +
                          at_least(s.out, distance_lower_bound(at, q.to.point), 0));
        as_unload.push_back(units_of(s.drive_from) + before +
                            at_least(0, distance_lower_bound(q.from.point, at), s.back));
    }
    const auto loads = most_promising(as_load, answer.others);
    const auto unloads = most_promising(as_unload, answer.others);
    Ends targets;
    for (const std::size_t u : unloads)
        targets.add(runs.spots[u].haul_in);
    if (runs.to)
        targets.add(runs.to->haul_in);

    PairTable table(q.places.size(), q.cap);
    const auto haul_from = [&](std::optional<std::uint32_t> load, const Spot& s) {
        const std::vector<RouteWeight> hauled =
            targets.best(m_haul->from(s.haul_out, targets.nodes(), m_at_most));
        const double ready = m_prepare_first + units_of(s.drive_to);
        const auto offer = [&](std::optional<std::uint32_t> unload, const Spot& u, RouteWeight h) {
            if (h == infinite_weight || u.back == infinite_weight || u.drive_from == infinite_weight)
                return;
            table.offer(load, unload,
                        ready + (load && unload ? m_prepare_again : 0) + units_of(u.drive_from) +
                            m_hauling.cost(figures(s.out, h, u.back)).total().units());
        };
        for (std::size_t i = 0; i < unloads.size(); ++i)
            offer(static_cast<std::uint32_t>(unloads[i]), runs.spots[unloads[i]], hauled[i]);
        if (runs.to)
            offer(std::nullopt, *runs.to, hauled.back());
    };
    if (runs.from && runs.from->out != infinite_weight)
        haul_from(std::nullopt, *runs.from);
    for (const std::size_t l : loads)
        haul_from(static_cast<std::uint32_t>(l), runs.spots[l]);
    answer.pairs = table.take();
}

// The cheapest kilometre there is, driven or hauled.
double MixedSearch::least_per_km() const {
    HaulFigures f = figures(0, 0, 0);
    f.loaded = Length::from_km(1);
    f.loaded_time = f.loaded / m_setting.in().low_bed.loaded_speed;
    double least = m_hauling.plain_cost(f).units() - m_fixed;
    const RoadGraph& graph = m_setting.graph();
    for (std::size_t a = 0; a < graph.arc_count(); ++a)
        if (const std::uint32_t dm = graph.arc(ArcId{a}).length_dm; dm > 0 && m_driven.open(ArcId{a}))
            least = std::min(least, m_drive_weights[a] / unit * 1e4 / dm);
    return least;
}

double MixedSearch::least_over(Length crow) const {
    return m_prepare_first + m_fixed + m_least_per_km * 0.999 * crow.km();
}

double MixedSearch::least_possible(const MixedQuestion& q) const {
    return least_over(distance(q.from.point, q.to.point));
}

// Places whose way is too long as the crow flies are left out before anything is searched.
std::vector<std::uint32_t> MixedSearch::near_enough(const MixedQuestion& q) const {
    std::vector<std::uint32_t> near;
    for (std::uint32_t i = 0; i < q.places.size(); ++i) {
        const GeoPoint at = q.places[i].at.point;
        const Length crow = distance_lower_bound(q.from.point, at) + distance_lower_bound(at, q.to.point);
        if (least_over(crow) < q.cap)
            near.push_back(i);
    }
    return near;
}

MixedAnswer MixedSearch::find(const MixedQuestion& asked) {
    MixedAnswer answer;
    const std::vector<std::uint32_t> near = near_enough(asked);
    if (near.empty())
        return answer;
    std::vector<LoadingPlace> places;
    for (const std::uint32_t i : near)
        places.push_back(asked.places[i]);
    MixedQuestion q = asked;
    q.places = places;
    get_ready(q);
    const Runs runs = measure(q);
    answer.bound = least_total(runs);
    if (answer.bound < q.cap)
        make_pairs(q, runs, answer);
    for (MixedPair& pair : answer.pairs)
        for (std::optional<std::uint32_t>* place : {&pair.load, &pair.unload})
            if (*place)
                *place = near[**place];
    return answer;
}

}  // namespace loamway
