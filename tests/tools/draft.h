// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_DRAFT_H
#define LOAMWAY_TESTS_TOOLS_DRAFT_H

// A map being drawn: vertices in metres on a plane and lines through them. Lines on the ground get a shared
// vertex where they cross; lines can be cut, given bridges and joined by side roads. Uses only additions,
// multiplications, divisions and square roots, which round alike on every machine.

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "map_file.h"

namespace loamway {

/// Metres east and north of the map's south-west corner.
struct Spot {
    double x = 0.0;
    double y = 0.0;
};
[[nodiscard]] double distance(Spot a, Spot b);
/// The point that lies `along` metres from a towards b and `left` metres to the left of that direction.
[[nodiscard]] Spot offset(Spot a, Spot b, double along, double left);
/// Rounds the corners of a chain of points, `times` times; its ends stay.
[[nodiscard]] std::vector<Spot> smooth(std::vector<Spot> points, int times);

using VertexId = std::uint32_t;
using LineId = std::uint32_t;

enum class LineKind { road, rail, other };  // roads and rails on the ground meet where they cross

struct DraftLine {
    std::vector<VertexId> path;  // empty: removed
    TagList tags;
    LineKind kind = LineKind::other;
    bool on_ground = true;  // false for what passes above or below the rest
    std::string course;     // what the line is part of ("h3": third horizontal section line); not written
};

[[nodiscard]] std::string tag_of(const TagList& tags, std::string_view key);
void set_tag(TagList& tags, std::string_view key, std::string_view value);

class Draft {
public:
    /// The vertex at a place; the same place (to the centimetre) is the same vertex.
    VertexId vertex(Spot spot);
    [[nodiscard]] Spot at(VertexId v) const { return m_spots[v]; }
    [[nodiscard]] VertexId vertex_count() const { return static_cast<VertexId>(m_spots.size()); }
    void tag_vertex(VertexId v, std::string_view key, std::string_view value);
    [[nodiscard]] const TagList* vertex_tags(VertexId v) const;

    LineId add_line(std::vector<VertexId> path, TagList tags, LineKind kind, std::string course);
    LineId add_line(const std::vector<Spot>& spots, TagList tags, LineKind kind, std::string course);
    /// A closed outline, drawn as a way that ends where it begins.
    LineId add_area(const std::vector<Spot>& corners, TagList tags);
    [[nodiscard]] DraftLine& line(LineId id) { return m_lines[id]; }
    [[nodiscard]] const DraftLine& line(LineId id) const { return m_lines[id]; }
    [[nodiscard]] LineId line_count() const { return static_cast<LineId>(m_lines.size()); }
    void remove(LineId id) { m_lines[id].path.clear(); }

    [[nodiscard]] double length(LineId id) const;
    [[nodiscard]] double position_of(LineId id, VertexId v) const;  // metres from the start
    [[nodiscard]] Spot spot_at(LineId id, double metres) const;
    /// A vertex `metres` along the line, an existing one if there is one within 4 m.
    VertexId insert_at(LineId id, double metres);
    /// Ends the line at an inner vertex; the rest becomes a new line. At an end: the line itself.
    LineId split(LineId id, VertexId v);
    /// Makes the stretch between two positions a line of its own and returns it.
    LineId isolate(LineId id, double from, double to);
    /// Positions along `id` where it crosses `other`, ascending.
    [[nodiscard]] std::vector<double> crossings(LineId id, LineId other) const;
    /// Gives roads and rails on the ground a shared vertex wherever two of them cross.
    void join_crossings();

    struct Near {
        LineId line;
        double position;  // along the line
        double distance;
    };
    using Filter = std::function<bool(const DraftLine&)>;
    [[nodiscard]] std::optional<Near> nearest(Spot spot, double within, const Filter& filter) const;
    /// Lines through a vertex, ascending.
    [[nodiscard]] std::vector<LineId> lines_through(VertexId v) const;

private:
    struct Segment {
        LineId line;
        std::size_t index;
        VertexId start, end;
        Spot a, b;
        [[nodiscard]] double west() const { return a.x < b.x ? a.x : b.x; }
        [[nodiscard]] double east() const { return a.x < b.x ? b.x : a.x; }
        [[nodiscard]] double south() const { return a.y < b.y ? a.y : b.y; }
        [[nodiscard]] double north() const { return a.y < b.y ? b.y : a.y; }
    };
    using Insertions = std::map<LineId, std::vector<std::pair<double, VertexId>>>;
    [[nodiscard]] std::vector<Segment> ground_segments() const;  // from west to east
    std::optional<VertexId> meeting(const Segment& one, const Segment& other);
    void insert_crossings(Insertions& found);

    std::vector<Spot> m_spots;
    std::unordered_map<std::uint64_t, VertexId> m_index;
    std::map<VertexId, TagList> m_tags;
    std::vector<DraftLine> m_lines;
};

/// Distance of a point from a segment, and how far along it (0..1) the nearest point lies.
[[nodiscard]] std::pair<double, double> to_segment(Spot p, Spot a, Spot b);
/// How far along a-b (0..1) it crosses c-d between the ends of both; nothing when it does not.
[[nodiscard]] std::optional<double> segment_crossing(Spot a, Spot b, Spot c, Spot d);

}  // namespace loamway

#endif
