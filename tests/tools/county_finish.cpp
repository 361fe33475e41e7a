// SPDX-License-Identifier: Apache-2.0
// Last stages: loose roads, level crossings, turn restrictions and the highway's route relation.
#include <algorithm>
#include <map>
#include <numeric>
#include <stdexcept>

#include "county_stages.h"

namespace loamway {

namespace {

class Groups {
public:
    explicit Groups(std::size_t count) : m_parent(count) {
        std::iota(m_parent.begin(), m_parent.end(), std::size_t{0});
    }
    std::size_t find(std::size_t v) {
        while (m_parent[v] != v) {
            v = m_parent[v] = m_parent[m_parent[v]];
        }
        return v;
    }
    void join(std::size_t a, std::size_t b) { m_parent[find(a)] = find(b); }

private:
    std::vector<std::size_t> m_parent;
};

void remove_loose_roads(Draft& draft) {
    Groups groups(draft.vertex_count());
    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        for (std::size_t k = 1; l.kind == LineKind::road && k < l.path.size(); ++k) {
            groups.join(l.path[0], l.path[k]);
        }
    }
    std::map<std::size_t, double> metres;
    for (LineId id = 0; id < draft.line_count(); ++id) {
        if (draft.line(id).kind == LineKind::road && !draft.line(id).path.empty()) {
            metres[groups.find(draft.line(id).path[0])] += draft.length(id);
        }
    }
    const auto main = std::max_element(metres.begin(), metres.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        if (l.kind == LineKind::road && !l.path.empty() && groups.find(l.path[0]) != main->first) {
            draft.remove(id);
        }
    }
}

void tag_level_crossings(Draft& draft) {
    std::map<VertexId, std::string> on_rail;
    for (LineId id = 0; id < draft.line_count(); ++id) {
        if (draft.line(id).kind == LineKind::rail) {
            for (const VertexId v : draft.line(id).path) {
                on_rail[v];
            }
        }
    }
    for (LineId id = 0; id < draft.line_count(); ++id) {
        const DraftLine& l = draft.line(id);
        if (l.kind != LineKind::road) {
            continue;
        }
        const bool paved = !is_gravel_road(l);
        for (const VertexId v : l.path) {
            if (on_rail.contains(v)) {
                draft.tag_vertex(v, "railway", "level_crossing");
                draft.tag_vertex(v, "crossing:barrier", paved ? "half" : "no");
            }
        }
    }
}

/// Streets that meet at a vertex, each ending there, told apart by the direction they leave in.
class Junction {
public:
    Junction(Draft& draft, std::string_view one, std::string_view other) : m_draft(draft) {
        m_vertex = meeting(one, other);
        for (const LineId id : draft.lines_through(m_vertex)) {
            if (draft.line(id).kind == LineKind::road) {
                draft.split(id, m_vertex);
            }
        }
    }
    [[nodiscard]] VertexId vertex() const { return m_vertex; }

    /// The street of a course that leaves towards 'n', 'e', 's' or 'w'.
    [[nodiscard]] LineId arm(std::string_view course, char direction) const {
        for (const LineId id : m_draft.lines_through(m_vertex)) {
            const DraftLine& l = m_draft.line(id);
            if (l.course != course) {
                continue;
            }
            const VertexId next = l.path.front() == m_vertex ? l.path[1] : l.path[l.path.size() - 2];
            const Spot a = m_draft.at(m_vertex);
            const Spot b = m_draft.at(next);
            const double dx = b.x - a.x;
            const double dy = b.y - a.y;
            const bool flat = dx * dx > dy * dy;
            if (direction == (flat ? (dx > 0 ? 'e' : 'w') : (dy > 0 ? 'n' : 's'))) {
                return id;
            }
        }
        throw std::logic_error("no arm of course " + std::string(course) + " at the junction");
    }

private:
    [[nodiscard]] VertexId meeting(std::string_view one, std::string_view other) const {
        for (LineId id = 0; id < m_draft.line_count(); ++id) {
            if (m_draft.line(id).course != one) {
                continue;
            }
            for (const VertexId v : m_draft.line(id).path) {
                const auto lines = m_draft.lines_through(v);
                if (std::any_of(lines.begin(), lines.end(),
                                [&](LineId l) { return m_draft.line(l).course == other; })) {
                    return v;
                }
            }
        }
        throw std::logic_error(std::string(one) + " and " + std::string(other) + " do not meet");
    }

    Draft& m_draft;
    VertexId m_vertex = 0;
};

void restrict(County& county, LineId from, VertexId via, LineId to, const TagList& tags) {
    TagList all{{"type", "restriction"}};
    all.insert(all.end(), tags.begin(), tags.end());
    county.relations.push_back({{{'w', from, "from"}, {'n', via, "via"}, {'w', to, "to"}}, all});
}

void add_highway_route(County& county) {
    DraftRelation route{{}, {{"type", "route"}, {"route", "road"}, {"ref", "12"}, {"name", "Plain Highway"}}};
    for (LineId id = 0; id < county.draft.line_count(); ++id) {
        if (!county.draft.line(id).path.empty() && tag_of(county.draft.line(id).tags, "ref") == "12") {
            route.members.push_back({'w', id, ""});
        }
    }
    county.relations.push_back(route);
}

}  // namespace

void finish_roads(County& county) {
    remove_loose_roads(county.draft);
    tag_level_crossings(county.draft);
}

void draw_turn_restrictions(County& county) {
    Draft& draft = county.draft;
    // All junctions first: opening one splits streets that another one names.
    const Junction mill(draft, "h12", "Tillerby c-1");
    const Junction market(draft, "h12", "Tillerby c1");
    const Junction granary(draft, "h12", "Tillerby c2");
    const Junction west_bend(draft, "Tillerby r1", "Tillerby c2");
    const Junction east_bend(draft, "Tillerby r1", "Tillerby c3");
    const Junction centre(draft, "v15", "Tillerby r2");
    const Junction south(draft, "v20", "Dunnockstead r1");
    restrict(county, mill.arm("h12", 'w'), mill.vertex(), mill.arm("Tillerby c-1", 'n'),
             {{"restriction", "no_left_turn"}});
    restrict(county, market.arm("Tillerby c1", 's'), market.vertex(), market.arm("Tillerby c1", 'n'),
             {{"restriction", "only_straight_on"}});
    restrict(county, granary.arm("h12", 'w'), granary.vertex(), granary.arm("Tillerby c2", 's'),
             {{"restriction", "no_right_turn"}, {"except", "agricultural"}});
    restrict(county, granary.arm("h12", 'e'), granary.vertex(), granary.arm("h12", 'e'),
             {{"restriction", "no_u_turn"}});
    restrict(county, centre.arm("v15", 's'), centre.vertex(), centre.arm("Tillerby r2", 'e'),
             {{"restriction:hgv", "no_right_turn"}});
    restrict(county, south.arm("v20", 'n'), south.vertex(), south.arm("Dunnockstead r1", 'w'),
             {{"restriction:conditional", "no_right_turn @ (Mo-Fr 07:00-09:00)"}});
    // Round the block: out of one street, along the next, into the third. The middle way has one end at each
    // junction.
    county.relations.push_back({{{'w', west_bend.arm("Tillerby c2", 's'), "from"},
                                 {'w', west_bend.arm("Tillerby r1", 'e'), "via"},
                                 {'w', east_bend.arm("Tillerby c3", 's'), "to"}},
                                {{"type", "restriction"}, {"restriction", "no_u_turn"}}});
    add_highway_route(county);
}

}  // namespace loamway
