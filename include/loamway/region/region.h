// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_REGION_H
#define LOAMWAY_REGION_REGION_H

// A built map: plain parallel arrays, the same when held in memory by the builder (RegionData) and when
// read from a region file (Region). src/region/FORMAT.md gives the file byte by byte.
//
// Graph: an edge is an undirected piece of road between two graph nodes; each edge has two arcs, one a
// direction. Whether a vehicle may use an arc is decided when a move is planned, from the edge's tag set.
// Node n's arcs are arc_first[n] .. arc_first[n+1]-1. Nodes and edges are numbered by the builder; a
// region file is valid only as a whole.

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/file.h"
#include "loamway/base/geo.h"
#include "loamway/base/ids.h"
#include "loamway/base/surface.h"

namespace loamway {

struct ArcRecord {
    std::uint32_t head;       // node
    std::uint32_t length_dm;  // of the whole edge
    std::uint32_t edge;
    std::uint32_t reversed;  // 0: along the edge, 1: against it
};

/// Bits of EdgeRecord::flags.
namespace edge_flag {
constexpr std::uint8_t known = 1;     // the surface class is known (one recognised surface value)
constexpr std::uint8_t built_up = 2;  // inside a built-up area
constexpr std::uint8_t bridge = 4;
constexpr std::uint8_t tunnel = 8;
constexpr std::uint8_t ford = 16;      // ford on the way itself
constexpr std::uint8_t side_way = 32;  // track or service road: a mouth where a machine may stand
}  // namespace edge_flag

struct EdgeRecord {
    std::uint32_t tail;  // node the edge leaves in the direction of the OSM way
    std::uint32_t head;
    std::uint32_t length_dm;
    std::uint32_t tag_set;
    std::uint32_t name;         // string index of "name" or "ref", 0 = none
    std::uint32_t reason;       // string index: why the surface is read as it is
    std::uint32_t shape_first;  // byte offset into shapes; the next edge's offset ends it
    SurfaceOdds odds;           // 3 bytes
    std::uint8_t flags;
};

/// A graph node whose own OSM tags matter: barrier, ford, level crossing, height restrictor ...
struct NodeTagRecord {
    std::uint32_t node;  // ascending
    std::uint32_t tag_set;
};

/// "No way on from `edges` in this order": the first edge, intermediate edges (via ways), the last edge.
struct RestrictionRecord {
    std::uint32_t edge_first;  // range in restriction_edges
    std::uint32_t edge_count;  // >= 2; exactly 2 for a restriction via a node
    std::uint32_t via_node;    // node between the first two edges
    std::uint32_t only;        // 0: no_*, 1: only_*
    std::uint32_t tag_set;     // tags of the relation (restriction, except, restriction:hgv, conditional ...)
};

enum class StopPlaceKind : std::uint32_t {
    rest_area = 0,
    services = 1,
    parking = 2,
    lay_by = 3,
    yard = 4,
    passing_place = 5,
    side_way = 6,
    named = 255  // added by a correction; never in a region file
};
/// Bits of StopPlaceRecord::flags.
namespace stop_flag {
constexpr std::uint32_t ask_permission = 1;  // on private or business ground
constexpr std::uint32_t short_stop = 2;      // passing place: a short stop only
constexpr std::uint32_t dead_end = 4;        // side way that is backed out of, not driven through
constexpr std::uint32_t soft_ground = 8;     // gravel or earth under the machine
constexpr std::uint32_t right_forward = 16;  // right-hand side when driving along the edge
constexpr std::uint32_t left_forward = 32;   // left-hand side when driving along the edge
constexpr std::uint32_t near_school = 64;    // within 200 m of a school: not in school hours
}  // namespace stop_flag

/// A place to stand. Mapped places and named points lie beside `edge` at `offset_dm` along it. For a mouth
/// of a side way (kind side_way) `edge` is the side way itself, entered at its tail (offset 0 side) or at
/// its head as `offset_dm` says (0 or the edge's length), and `usable_dm` is how far it can be entered.
struct StopPlaceRecord {
    std::int32_t lat_e7;
    std::int32_t lon_e7;
    std::uint32_t edge;
    std::uint32_t offset_dm;
    StopPlaceKind kind;
    std::uint32_t flags;
    std::uint32_t usable_dm;
    std::int32_t score;
    std::uint32_t name;    // string index, 0 = none
    std::uint32_t reason;  // string index: how the score came about
    std::int64_t osm_id;   // way or node it was found from; negative: a node
};

enum class PlaceKind : std::uint32_t {
    city = 0,
    town = 1,
    village = 2,
    hamlet = 3,
    suburb = 4,
    locality = 5,
    farm = 6,
    other = 7
};
struct PlaceRecord {
    std::int32_t lat_e7;
    std::int32_t lon_e7;
    PlaceKind kind;
    std::uint32_t name;
};

enum class BackgroundKind : std::uint32_t {
    water_area = 0,
    built_up_area = 1,
    river_line = 2,
    railway_line = 3,
    building_near_road = 4,
    forest_area = 5
};
struct BackgroundRecord {
    BackgroundKind kind;
    std::uint32_t point_first;  // in points: point i of background_points is numbers 2 i and 2 i + 1
    std::uint32_t point_count;  // at least 1
    std::uint32_t name;
};

/// What the build met and could not use, by name ("ways without nodes": 3). Kept for `region info`.
struct BuildCount {
    std::string what;
    std::int64_t count = 0;
    friend bool operator==(const BuildCount&, const BuildCount&) = default;
};

/// How much an edge climbs and falls from its tail to its head, and where its height profile starts. An
/// edge without a profile (the next one's start is its own) has no known heights and zeros here.
struct EdgeClimbRecord {
    std::uint32_t height_first;  // byte offset into heights; the next edge's offset ends it
    std::uint16_t ascent_dm;     // ascent less descent is the height of the head less that of the tail
    std::uint16_t descent_dm;
};

/// Height profiles have evenly spaced heights, both ends included; this many pieces lie between them, none
/// longer than 50 m.
[[nodiscard]] constexpr std::uint32_t height_pieces(std::uint32_t length_dm) {
    constexpr std::uint32_t longest_dm = 500;
    return length_dm == 0 ? 1 : (length_dm - 1) / longest_dm + 1;
}

/// Facts about the region as a whole; stored as JSON text in the file.
struct RegionMeta {
    std::string name;
    std::string map_date;  // RFC 3339 date or time; empty when the extract does not say
    std::string time_zone = "UTC";
    bool time_zone_assumed = true;
    std::string attribution;
    std::string source_digest;  // of the extract's bytes
    std::string elevation;      // files the heights come from; empty: none, flat is assumed
    std::string recipe;         // name of the recipe used
    double odds_factor = 1.0;   // recipe: dense 1, mixed .85, sparse .55
    bool drives_on_right = true;
    // What else the recipe says, so that a plan needs the region file alone.
    std::string units = "metric";  // or "imperial"
    double permit_from_width_m = 3.0;
    double escort_from_width_m = 3.5;
    std::optional<double> daylight_from_width_m;
    double national_height_m = 4.0;
    std::string limits;    // table of published limits (TOML) the recipe names; empty: none
    std::string currency;  // empty: the recipe names none
    std::optional<std::array<double, 2>> wide_move_hours, school_hours;  // local time, from and to
    std::vector<BuildCount> counts;
    friend bool operator==(const RegionMeta&, const RegionMeta&) = default;
};

/// The arrays, wherever they live. Cheap to copy; valid as long as their owner.
struct RegionView {
    std::span<const std::int32_t> node_lat;
    std::span<const std::int32_t> node_lon;
    std::span<const std::uint32_t> arc_first;  // node count + 1
    std::span<const ArcRecord> arcs;
    std::span<const EdgeRecord> edges;
    std::span<const std::int64_t> edge_way;    // OSM way id of each edge
    std::span<const std::int64_t> node_osm;    // OSM node id of each node
    std::span<const std::uint32_t> component;  // of each node; 0 is the largest
    std::span<const NodeTagRecord> node_tags;
    std::span<const std::uint32_t> tag_set_first;    // tag set count + 1, into tag_set_strings
    std::span<const std::uint32_t> tag_set_strings;  // key, value, key, value ... as string indices
    std::span<const std::uint32_t> string_first;     // string count + 1, byte offsets; string 0 is empty
    std::span<const char> string_bytes;
    std::span<const std::uint8_t> shapes;  // per edge: zigzag varint (dlat, dlon) pairs of the inner points
    std::span<const RestrictionRecord> restrictions;
    std::span<const std::uint32_t> restriction_edges;
    std::span<const StopPlaceRecord> stop_places;
    std::span<const PlaceRecord> places;
    std::span<const BackgroundRecord> background;
    std::span<const std::int32_t> background_points;  // lat, lon, lat, lon ...
    std::span<const std::int32_t> grid_header;  // min_lat, min_lon, cell size (1e-7 degree), rows, columns
    std::span<const std::uint32_t> grid_first;  // rows*columns + 1, into grid_edges
    std::span<const std::uint32_t> grid_edges;  // edges whose bounding box touches the cell
    // The node hierarchy in rank space, without weights (loamway/order/node_order.h says what it is). Either
    // all four are filled or all are empty: then searches do without it and are slower.
    std::span<const std::uint32_t> node_rank;    // of each node; a permutation
    std::span<const std::uint32_t> tree_parent;  // of each rank: a higher rank, or 0xffffffff at a root
    std::span<const std::uint32_t> up_first;     // node count + 1
    std::span<const std::uint32_t> up_head;      // ranks above, ascending; the first is the parent
    // Heights; both empty in a region built without elevation.
    std::span<const EdgeClimbRecord> edge_climb;  // of each edge
    std::span<const std::uint8_t> heights;        // per edge: zigzag varints, decimetres; FORMAT.md

    [[nodiscard]] std::size_t node_count() const { return node_lat.size(); }
    [[nodiscard]] std::size_t edge_count() const { return edges.size(); }
    [[nodiscard]] GeoPoint node_point(NodeId n) const { return {node_lat[n.index()], node_lon[n.index()]}; }
    [[nodiscard]] std::string_view string(std::uint32_t index) const {
        return {string_bytes.data() + string_first[index], string_first[index + 1] - string_first[index]};
    }
    [[nodiscard]] std::size_t tag_set_count() const { return tag_set_first.size() - 1; }
    /// All points of an edge, tail to head, both ends included.
    [[nodiscard]] std::vector<GeoPoint> edge_points(EdgeId e) const;
    [[nodiscard]] bool has_heights() const { return !edge_climb.empty(); }
    /// Heights in decimetres at height_pieces(length) + 1 evenly spaced points, tail to head; empty where
    /// they are not known.
    [[nodiscard]] std::vector<std::int32_t> edge_heights_dm(EdgeId e) const;
};

/// The arrays as the builder makes them.
struct RegionData {
    RegionMeta meta;
    std::vector<std::int32_t> node_lat, node_lon;
    std::vector<std::uint32_t> arc_first;
    std::vector<ArcRecord> arcs;
    std::vector<EdgeRecord> edges;
    std::vector<std::int64_t> edge_way, node_osm;
    std::vector<std::uint32_t> component;
    std::vector<NodeTagRecord> node_tags;
    std::vector<std::uint32_t> tag_set_first, tag_set_strings, string_first;
    std::vector<char> string_bytes;
    std::vector<std::uint8_t> shapes;
    std::vector<RestrictionRecord> restrictions;
    std::vector<std::uint32_t> restriction_edges;
    std::vector<StopPlaceRecord> stop_places;
    std::vector<PlaceRecord> places;
    std::vector<BackgroundRecord> background;
    std::vector<std::int32_t> background_points;
    std::vector<std::int32_t> grid_header;
    std::vector<std::uint32_t> grid_first, grid_edges;
    std::vector<std::uint32_t> node_rank, tree_parent, up_first, up_head;
    std::vector<EdgeClimbRecord> edge_climb;
    std::vector<std::uint8_t> heights;

    [[nodiscard]] RegionView view() const;
};

/// An open region file. Thread-safe to read; cheap to move.
class Region {
public:
    /// Reads header and table, checks them and every index, range, text and shape: a few nanoseconds an arc
    /// and a point of a shape. A file that is cut short, flipped in its header, of another version or byte
    /// order gives a damaged Error in one line; afterwards no index of the view leads out of its array.
    static Region open(const std::string& path);
    /// Takes over a builder's arrays without a file (tests).
    static Region from_data(RegionData data);

    [[nodiscard]] const RegionView& view() const { return m_view; }
    [[nodiscard]] const RegionMeta& meta() const { return m_meta; }
    [[nodiscard]] const std::string& digest() const { return m_digest; }  // of the file's sections, hex
    [[nodiscard]] const std::string& path() const { return m_path; }

private:
    std::shared_ptr<const void> m_owner;
    RegionView m_view;
    RegionMeta m_meta;
    std::string m_digest;
    std::string m_path;
};

/// Writes the file whole or not at all.
void write_region(const RegionData& data, const std::string& path);

/// Recomputes every section's checksum. A damaged Error names the first section that does not match.
void verify_region(const std::string& path);

/// Delta coding of the inner points of an edge (used by the builder).
void append_shape(std::vector<std::uint8_t>& shapes, GeoPoint tail, std::span<const GeoPoint> inner);

/// Codes the height profile of one edge, tail to head, in decimetres (used by the builder).
void append_heights(std::vector<std::uint8_t>& heights, std::span<const std::int32_t> profile_dm);

}  // namespace loamway

#endif
