// SPDX-License-Identifier: Apache-2.0
#include "prairie.h"

#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "map_file.h"
#include "random.h"

namespace loamway {

namespace {

constexpr double mile = 1609.344;
// The middle of every prairie: open North Atlantic. Metres per degree there on the WGS84 ellipsoid, as
// constants so that no library's cosine decides the last digit.
constexpr double middle_lat = 47.2;
constexpr double middle_lon = -35.5;
constexpr double metres_per_degree_lat = 111174.7;
constexpr double metres_per_degree_lon = 75771.9;
constexpr std::int64_t first_node_id = 11'900'000'001;
constexpr std::int64_t first_way_id = 1'290'000'001;

constexpr std::uint32_t township = 6;
constexpr std::uint32_t village_columns = 5;  // crossings of streets
constexpr std::uint32_t village_rows = 4;
constexpr std::uint32_t village_nodes = village_columns * village_rows + 4;  // and the corners of its outline
constexpr std::uint32_t longest_way = 4;                                     // section sides in one way

enum class Side : std::uint64_t { east = 1, north = 2 };

/// What a section line is made of, the whole length of the map.
enum class LineClass : std::uint8_t { gravel, tertiary, secondary, primary };

class Prairie {
public:
    Prairie(std::uint32_t sections, std::uint64_t seed, const std::string& path)
        : m_size(sections),
          m_seed(seed),
          m_columns(line_classes(1)),
          m_rows(line_classes(2)),
          m_file(path, bounds()) {
        lay_rivers();
        number_nodes();
    }

    PrairieCount write() {
        write_nodes();
        for (std::uint32_t line = 0; line < m_size; ++line) {
            write_section_line(Side::east, line);
        }
        for (std::uint32_t line = 0; line < m_size; ++line) {
            write_section_line(Side::north, line);
        }
        for (std::uint32_t j = 0; j < m_size; ++j) {
            for (std::uint32_t i = 0; i < m_size; ++i) {
                if (has_village(i, j)) {
                    write_village(i, j);
                }
                if (has_track(i, j)) {
                    write_track(i, j);
                }
            }
        }
        write_rivers();
        m_file.close();
        return m_count;
    }

private:
    struct Place {
        double x, y;  // metres from the south-west corner
    };

    [[nodiscard]] std::uint64_t hash(std::uint64_t what, std::uint64_t i, std::uint64_t j) const {
        return mix64(mix64(m_seed * 31U + what) ^ (i << 32U) ^ j);
    }
    [[nodiscard]] double unit(std::uint64_t what, std::uint64_t i, std::uint64_t j) const {
        return static_cast<double>(hash(what, i, j) >> 11U) * 0x1.0p-53;
    }
    [[nodiscard]] std::size_t cell(std::uint32_t i, std::uint32_t j) const {
        return std::size_t{j} * m_size + i;
    }

    [[nodiscard]] std::vector<LineClass> line_classes(std::uint64_t axis) const {
        std::vector<LineClass> classes(m_size, LineClass::gravel);
        std::uint64_t line = 3;
        for (std::uint64_t n = 0; line < m_size; ++n) {
            const std::uint64_t draw = hash(10 + axis, n, 0);
            classes[line] = static_cast<LineClass>(1 + draw % 3);
            line += 6 + (draw >> 8U) % 7;
        }
        return classes;
    }
    [[nodiscard]] LineClass class_of(Side side, std::uint32_t i, std::uint32_t j) const {
        return side == Side::east ? m_rows[j] : m_columns[i];
    }

    // Rivers run from south to north between two columns and shift by one column now and then.
    void lay_rivers() {
        m_river[0].assign(std::size_t{m_size} * m_size, false);
        m_river[1].assign(std::size_t{m_size} * m_size, false);
        for (std::uint32_t start = 30; start + 30 < m_size; start += 64) {
            std::vector<std::uint32_t> columns;
            std::uint32_t column = start;
            for (std::uint32_t j = 0; j < m_size; ++j) {
                columns.push_back(column);
                m_river[0][cell(column, j)] = true;
                const std::uint64_t draw = hash(20, start, j) % 5;
                if (draw == 0 && column > start - 20) {
                    m_river[1][cell(column, j)] = true;
                    --column;
                } else if (draw == 1 && column < start + 20) {
                    ++column;
                    m_river[1][cell(column, j)] = true;
                }
            }
            m_rivers.push_back(std::move(columns));
        }
    }
    [[nodiscard]] bool crosses_river(Side side, std::uint32_t i, std::uint32_t j) const {
        return m_river[side == Side::east ? 0 : 1][cell(i, j)];
    }

    [[nodiscard]] bool has_village(std::uint32_t i, std::uint32_t j) const {
        const std::uint64_t draw = hash(30, i / township, j / township);
        return i % township == 1 + draw % 4 && j % township == 1 + (draw >> 8U) % 4 && i + 1 < m_size &&
               j + 1 < m_size && !crosses_river(Side::east, i, j) && !crosses_river(Side::north, i, j);
    }
    [[nodiscard]] bool has_track(std::uint32_t i, std::uint32_t j) const {
        return unit(31, i, j) < 0.10 && !has_village(i, j) && is_road(Side::east, i, j) &&
               !crosses_river(Side::east, i, j);
    }

    [[nodiscard]] bool is_road(Side side, std::uint32_t i, std::uint32_t j) const {
        if ((side == Side::east ? i : j) + 1 >= m_size) {
            return false;
        }
        if (class_of(side, i, j) != LineClass::gravel || has_village(i, j)) {
            return true;
        }
        const double draw = unit(static_cast<std::uint64_t>(side), i, j);
        return draw < (crosses_river(side, i, j) ? 0.12 : 0.90);
    }
    /// Points between the two corners of a section's side.
    [[nodiscard]] std::uint32_t inner_points(Side side, std::uint32_t i, std::uint32_t j) const {
        return is_road(side, i, j)
                   ? 2 + static_cast<std::uint32_t>(hash(40 + static_cast<std::uint64_t>(side), i, j) % 4)
                   : 0;
    }

    // A section's nodes: its corner, points to the east, points to the north, village, track.
    void number_nodes() {
        m_first.reserve(std::size_t{m_size} * m_size);
        std::uint32_t next = 0;
        for (std::uint32_t j = 0; j < m_size; ++j) {
            for (std::uint32_t i = 0; i < m_size; ++i) {
                m_first.push_back(next);
                next += 1 + inner_points(Side::east, i, j) + inner_points(Side::north, i, j) +
                        (has_village(i, j) ? village_nodes : 0) + (has_track(i, j) ? 2 : 0);
            }
        }
        m_river_first = next;
    }
    [[nodiscard]] std::int64_t corner_id(std::uint32_t i, std::uint32_t j) const {
        return first_node_id + m_first[cell(i, j)];
    }
    [[nodiscard]] std::int64_t inner_id(Side side, std::uint32_t i, std::uint32_t j, std::uint32_t k) const {
        return corner_id(i, j) + 1 + k + (side == Side::north ? inner_points(Side::east, i, j) : 0);
    }
    [[nodiscard]] std::int64_t extra_id(std::uint32_t i, std::uint32_t j, std::uint32_t k) const {
        return corner_id(i, j) + 1 + inner_points(Side::east, i, j) + inner_points(Side::north, i, j) + k;
    }

    [[nodiscard]] Place corner(std::uint32_t i, std::uint32_t j) const {
        return {i * mile + (unit(50, i, j) - 0.5) * 16.0, j * mile + (unit(51, i, j) - 0.5) * 16.0};
    }
    [[nodiscard]] std::int32_t lat_e7(double y) const {
        const double south = middle_lat - 0.5 * m_size * mile / metres_per_degree_lat;
        return static_cast<std::int32_t>(std::lround((south + y / metres_per_degree_lat) * 1e7));
    }
    [[nodiscard]] std::int32_t lon_e7(double x) const {
        const double west = middle_lon - 0.5 * m_size * mile / metres_per_degree_lon;
        return static_cast<std::int32_t>(std::lround((west + x / metres_per_degree_lon) * 1e7));
    }
    [[nodiscard]] MapBounds bounds() const {
        const double edge = m_size * mile;
        return {lat_e7(-mile), lon_e7(-mile), lat_e7(edge), lon_e7(edge)};
    }

    void node(std::int64_t id, Place p) {
        m_file.node(id, lat_e7(p.y), lon_e7(p.x));
        ++m_count.nodes;
    }
    void write_inner_nodes(Side side, std::uint32_t i, std::uint32_t j) {
        const std::uint32_t count = inner_points(side, i, j);
        if (count == 0) {
            return;
        }
        const Place a = corner(i, j);
        const Place b = side == Side::east ? corner(i + 1, j) : corner(i, j + 1);
        for (std::uint32_t k = 0; k < count; ++k) {
            const double along = (k + 1.0) / (count + 1.0);
            const double aside = (unit(60 + k, 2ULL * i + (side == Side::north ? 1 : 0), j) - 0.5) * 10.0;
            Place p{a.x + (b.x - a.x) * along, a.y + (b.y - a.y) * along};
            (side == Side::east ? p.y : p.x) += aside;
            node(inner_id(side, i, j, k), p);
        }
    }
    void write_nodes() {
        for (std::uint32_t j = 0; j < m_size; ++j) {
            for (std::uint32_t i = 0; i < m_size; ++i) {
                const Place c = corner(i, j);
                node(corner_id(i, j), c);
                write_inner_nodes(Side::east, i, j);
                write_inner_nodes(Side::north, i, j);
                if (has_village(i, j)) {
                    write_village_nodes(i, j);
                }
                if (has_track(i, j)) {
                    const double x = c.x + mile / (inner_points(Side::east, i, j) + 1.0);
                    node(extra_id(i, j, 0), {x + 12.0, c.y + 300.0});
                    node(extra_id(i, j, 1), {x - 9.0, c.y + 620.0});
                }
            }
        }
        std::uint32_t next = m_river_first;
        for (const auto& columns : m_rivers) {
            for (std::uint32_t j = 0; j < m_size; ++j) {
                const double x = (columns[j] + 0.5) * mile + (unit(52, columns[j], j) - 0.5) * 200.0;
                node(first_node_id + next++, {x, (j + 0.02) * mile});
            }
        }
    }
    void write_village_nodes(std::uint32_t i, std::uint32_t j) {
        const Place c = corner(i, j);
        constexpr double block = 110.0;
        for (std::uint32_t row = 0; row < village_rows; ++row) {
            for (std::uint32_t column = 0; column < village_columns; ++column) {
                node(extra_id(i, j, row * village_columns + column),
                     {c.x + block * (column + 1), c.y + block * (row + 1)});
            }
        }
        constexpr double low = 60.0;
        constexpr double east = block * village_columns + 50.0;
        constexpr double north = block * village_rows + 50.0;
        constexpr std::array<Place, 4> outline = {{{low, low}, {east, low}, {east, north}, {low, north}}};
        for (std::uint32_t k = 0; k < 4; ++k) {
            node(extra_id(i, j, village_columns * village_rows + k),
                 {c.x + outline[k].x, c.y + outline[k].y});
        }
    }

    void way(const std::vector<std::int64_t>& nodes, const TagList& tags) {
        m_file.way(first_way_id + static_cast<std::int64_t>(m_count.ways), nodes, tags);
        ++m_count.ways;
    }
    [[nodiscard]] TagList road_tags(Side side, std::uint32_t line, std::uint32_t start) const {
        const LineClass kind = side == Side::east ? m_rows[line] : m_columns[line];
        const std::uint64_t what = 70 + static_cast<std::uint64_t>(side);
        if (kind != LineClass::gravel) {
            constexpr std::array<const char*, 4> names = {"", "tertiary", "secondary", "primary"};
            TagList tags{{"highway", names[static_cast<std::size_t>(kind)]}, {"ref", std::to_string(line)}};
            if (unit(what, line, start) < 0.8) {
                tags.emplace_back("surface", "asphalt");
            }
            return tags;
        }
        TagList tags{{"highway", unit(what + 2, line, start) < 0.12 ? "track" : "unclassified"}};
        const double draw = unit(what, line, start);
        if (draw < 0.4) {
            constexpr std::array<const char*, 6> surfaces = {"gravel",    "gravel",  "gravel",
                                                             "compacted", "unpaved", "dirt"};
            tags.emplace_back("surface", surfaces[hash(what + 4, line, start) % surfaces.size()]);
        } else if (draw < 0.6) {
            tags.emplace_back("tracktype", draw < 0.5 ? "grade2" : "grade3");
        }
        return tags;
    }

    /// One line from end to end, as ways of up to four section sides; a bridge is a way of its own.
    void write_section_line(Side side, std::uint32_t line) {
        std::vector<std::int64_t> nodes;
        TagList tags;
        std::uint32_t sides = 0;
        const auto finish = [&] {
            if (nodes.size() > 1) {
                way(nodes, tags);
            }
            nodes.clear();
            sides = 0;
        };
        for (std::uint32_t k = 0; k + 1 < m_size; ++k) {
            const std::uint32_t i = side == Side::east ? k : line;
            const std::uint32_t j = side == Side::east ? line : k;
            if (!is_road(side, i, j)) {
                finish();
                continue;
            }
            if (sides == longest_way) {
                finish();
            }
            if (nodes.empty()) {
                tags = road_tags(side, line, k);
                nodes.push_back(corner_id(i, j));
            }
            ++sides;
            const std::uint32_t count = inner_points(side, i, j);
            for (std::uint32_t n = 0; n < count; ++n) {
                nodes.push_back(inner_id(side, i, j, n));
                if (crosses_river(side, i, j) && (n == count / 2 - 1 || n == count / 2)) {
                    cut_at_bridge(nodes, tags, n == count / 2);
                }
            }
            nodes.push_back(side == Side::east ? corner_id(i + 1, j) : corner_id(i, j + 1));
        }
        finish();
    }
    void cut_at_bridge(std::vector<std::int64_t>& nodes, const TagList& tags, bool is_bridge) {
        TagList all = tags;
        if (is_bridge) {
            all.emplace_back("bridge", "yes");
            all.emplace_back("layer", "1");
        }
        way(nodes, all);
        nodes = {nodes.back()};
    }

    void write_village(std::uint32_t i, std::uint32_t j) {
        const TagList street{{"highway", "residential"}};
        for (std::uint32_t row = 0; row < village_rows; ++row) {
            std::vector<std::int64_t> nodes;
            for (std::uint32_t column = 0; column < village_columns; ++column) {
                nodes.push_back(extra_id(i, j, row * village_columns + column));
            }
            way(nodes, street);
        }
        for (std::uint32_t column = 0; column < village_columns; ++column) {
            std::vector<std::int64_t> nodes;
            for (std::uint32_t row = 0; row < village_rows; ++row) {
                nodes.push_back(extra_id(i, j, row * village_columns + column));
            }
            way(nodes, street);
        }
        way({corner_id(i, j), extra_id(i, j, 0)}, street);
        way({inner_id(Side::east, i, j, 0), extra_id(i, j, 2)}, street);
        way({inner_id(Side::north, i, j, 0), extra_id(i, j, 2 * village_columns)}, street);
        const std::uint32_t outline = village_columns * village_rows;
        way({extra_id(i, j, outline), extra_id(i, j, outline + 1), extra_id(i, j, outline + 2),
             extra_id(i, j, outline + 3), extra_id(i, j, outline)},
            {{"landuse", "residential"}});
    }
    void write_track(std::uint32_t i, std::uint32_t j) {
        way({inner_id(Side::east, i, j, 0), extra_id(i, j, 0), extra_id(i, j, 1)},
            {{"highway", "track"}, {"tracktype", unit(80, i, j) < 0.5 ? "grade3" : "grade4"}});
    }
    void write_rivers() {
        std::uint32_t next = m_river_first;
        for (std::size_t r = 0; r < m_rivers.size(); ++r) {
            std::vector<std::int64_t> nodes;
            for (std::uint32_t j = 0; j < m_size; ++j) {
                nodes.push_back(first_node_id + next++);
                if (nodes.size() == 400 || j + 1 == m_size) {
                    way(nodes, {{"waterway", "river"}});
                    nodes = {nodes.back()};
                }
            }
        }
    }

    std::uint32_t m_size;
    std::uint64_t m_seed;
    std::vector<LineClass> m_columns;
    std::vector<LineClass> m_rows;
    std::array<std::vector<bool>, 2> m_river;
    std::vector<std::vector<std::uint32_t>> m_rivers;  // of each, the column it runs in at each row
    std::vector<std::uint32_t> m_first;                // of each section, its first node
    std::uint32_t m_river_first = 0;
    MapFile m_file;
    PrairieCount m_count;
};

}  // namespace

PrairieCount write_prairie(std::uint32_t sections, std::uint64_t seed, const std::string& path) {
    if (sections < 2 || sections > 2000) {
        throw std::invalid_argument("a prairie has 2 to 2000 sections a side");
    }
    return Prairie(sections, seed, path).write();
}

}  // namespace loamway
