// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_REGION_BYTES_H
#define LOAMWAY_TESTS_SUPPORT_REGION_BYTES_H

// Region files in memory, for tests that damage them: laying out arrays without checking them, making the
// checksums right again after a change, and following everything a view offers. Needs the part region.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "../../src/region/hash.h"
#include "../../src/region/meta.h"
#include "../../src/region/region_file.h"

namespace loamway::test {

using Bytes = std::vector<std::byte>;  // exactly as long as the file, so that reading beyond it is noticed

/// The file these arrays would make, whether or not they hold together.
inline Bytes region_bytes(const RegionData& data) {
    const std::string meta = meta_to_json(data.meta);
    const RegionView view = data.view();
    const RegionHead head = make_head(meta, view);
    Bytes out(head.header.file_size);
    std::memcpy(out.data(), &head.header, sizeof(FileHeader));
    std::memcpy(out.data() + sizeof(FileHeader), &head.table, sizeof(SectionTable));
    const auto put = [&](SectionId id, const void* data_begin, std::size_t size) {
        if (size > 0)
            std::memcpy(out.data() + head.table[static_cast<std::size_t>(id) - 1].offset, data_begin, size);
    };
    put(SectionId::meta, meta.data(), meta.size());
    each_array(view, [&put](SectionId id, const auto& a) { put(id, a.data(), a.size_bytes()); });
    return out;
}

inline RegionHead head_of(const Bytes& bytes) {
    RegionHead head{};
    std::memcpy(&head.header, bytes.data(), sizeof(FileHeader));
    std::memcpy(&head.table, bytes.data() + sizeof(FileHeader), sizeof(SectionTable));
    return head;
}

inline void set_head(Bytes& bytes, const RegionHead& head) {
    std::memcpy(bytes.data(), &head.header, sizeof(FileHeader));
    std::memcpy(bytes.data() + sizeof(FileHeader), &head.table, sizeof(SectionTable));
}

/// Makes every checksum right that the table's sections allow to compute, then digest and head.
inline void reseal(Bytes& bytes) {
    RegionHead head = head_of(bytes);
    for (SectionEntry& s : head.table)
        if (s.offset <= bytes.size() && s.size <= bytes.size() - s.offset &&
            padded_size(s.size) <= bytes.size() - s.offset)
            s.checksum = hash64(std::span(bytes).subspan(s.offset, padded_size(s.size)));
    seal_head(head);
    set_head(bytes, head);
}

/// Forces a layout on any bytes: keeps the sizes the table gives where they fit, cuts them where not,
/// and gives every section its place, zeros behind it and its checksum. A whole file comes out as it was.
inline Bytes relaid(Bytes bytes) {
    bytes.resize(std::max(bytes.size(), head_size));
    RegionHead head = head_of(bytes);
    constexpr std::array<std::uint32_t, section_count> element_sizes = section_element_sizes();
    bytes.resize(padded_size(bytes.size()));
    std::uint64_t at = head_size;
    for (std::size_t i = 0; i < section_count; ++i) {
        SectionEntry& s = head.table[i];
        s.id = static_cast<std::uint32_t>(i + 1);
        s.element_size = element_sizes[i];
        s.offset = at;
        s.size = std::min<std::uint64_t>(s.size, bytes.size() - at) / s.element_size * s.element_size;
        const std::uint64_t next = at + padded_size(s.size);
        std::fill(bytes.begin() + static_cast<std::ptrdiff_t>(at + s.size),
                  bytes.begin() + static_cast<std::ptrdiff_t>(next), std::byte{0});
        at = next;
    }
    bytes.resize(at);
    head.header = {region_magic, region_endian_tag, region_format_version, at, section_count, 0, {}, 0, 0};
    set_head(bytes, head);
    reseal(bytes);
    return bytes;
}

/// Follows every index, range, string and shape of a view the way the parts above do. Runs into the
/// sanitizers when one leads out of its array. The result depends on everything that was read.
class ViewWalk {
public:
    explicit ViewWalk(const RegionView& v) : m_v(v) {
        graph();
        tables();
        grid();
        hierarchy();
    }
    [[nodiscard]] std::uint64_t sum() const { return m_sum; }

private:
    void add(std::uint64_t x) { m_sum = m_sum * 31 + x; }
    void add(GeoPoint p) {
        if (p.lat_e7 < -900000000 || p.lat_e7 > 900000000 || p.lon_e7 < -1800000000 || p.lon_e7 > 1800000000)
            throw std::out_of_range("a position off the Earth");
        add(static_cast<std::uint64_t>(std::int64_t{p.lat_e7} * 31 + p.lon_e7));
    }
    void node(std::uint32_t n) { add(m_v.node_point(NodeId(n))); }
    void string(std::uint32_t s) {
        for (const char c : m_v.string(s))
            add(static_cast<unsigned char>(c));
    }
    void tag_set(std::uint32_t t) {
        for (std::uint32_t i = m_v.tag_set_first[t]; i < m_v.tag_set_first[t + 1]; i += 2) {
            string(m_v.tag_set_strings[i]);
            string(m_v.tag_set_strings[i + 1]);
        }
    }
    void edge(std::uint32_t e) { add(m_v.edges[e].length_dm); }

    void graph() {
        for (std::uint32_t n = 0; n < m_v.node_count(); ++n) {
            node(n);
            add(static_cast<std::uint64_t>(m_v.node_osm[n]) + m_v.component[n]);
            node(m_v.component[n]);  // numbers below the node count
            for (std::uint32_t i = m_v.arc_first[n]; i < m_v.arc_first[n + 1]; ++i) {
                node(m_v.arcs[i].head);
                edge(m_v.arcs[i].edge);
                add(m_v.arcs[i].length_dm);
            }
        }
        for (std::uint32_t e = 0; e < m_v.edge_count(); ++e) {
            for (const GeoPoint p : m_v.edge_points(EdgeId(e)))
                add(p);
            const EdgeRecord& r = m_v.edges[e];
            add(static_cast<std::uint64_t>(m_v.edge_way[e]));
            tag_set(r.tag_set);
            string(r.name);
            string(r.reason);
            add(static_cast<std::uint64_t>(r.odds.likeliest()));
            const std::vector<std::int32_t> heights = m_v.edge_heights_dm(EdgeId(e));
            if (!heights.empty() && heights.size() != height_pieces(r.length_dm) + std::size_t{1})
                throw std::out_of_range("a height profile of another length than its edge");
            for (const std::int32_t dm : heights)
                add(static_cast<std::uint64_t>(std::int64_t{dm}));
        }
    }
    void tables() {
        for (const NodeTagRecord& r : m_v.node_tags) {
            node(r.node);
            tag_set(r.tag_set);
        }
        for (const RestrictionRecord& r : m_v.restrictions) {
            for (const std::uint32_t e : m_v.restriction_edges.subspan(r.edge_first, r.edge_count))
                edge(e);
            node(r.via_node);
            tag_set(r.tag_set);
        }
        for (const StopPlaceRecord& s : m_v.stop_places) {
            add(GeoPoint{s.lat_e7, s.lon_e7});
            edge(s.edge);
            add(std::array<std::uint64_t, 7>{1, 2, 3, 4, 5, 6, 7}.at(static_cast<std::size_t>(s.kind)));
            string(s.name);
            string(s.reason);
        }
        for (const PlaceRecord& p : m_v.places) {
            add(GeoPoint{p.lat_e7, p.lon_e7});
            add(std::array<std::uint64_t, 8>{1, 2, 3, 4, 5, 6, 7, 8}.at(static_cast<std::size_t>(p.kind)));
            string(p.name);
        }
        for (const BackgroundRecord& b : m_v.background) {
            for (std::uint32_t i = b.point_first; i < b.point_first + b.point_count; ++i)
                add(GeoPoint{m_v.background_points[2 * std::size_t{i}],
                             m_v.background_points[2 * std::size_t{i} + 1]});
            add(std::array<std::uint64_t, 6>{1, 2, 3, 4, 5, 6}.at(static_cast<std::size_t>(b.kind)));
            string(b.name);
        }
    }
    void grid() {
        const auto rows = static_cast<std::size_t>(m_v.grid_header[3]);
        const auto columns = static_cast<std::size_t>(m_v.grid_header[4]);
        for (std::size_t cell = 0; cell < rows * columns; ++cell)
            for (std::uint32_t i = m_v.grid_first[cell]; i < m_v.grid_first[cell + 1]; ++i)
                edge(m_v.grid_edges[i]);
    }

    void hierarchy() {
        for (std::uint32_t n = 0; n < m_v.node_rank.size(); ++n) {
            for (std::uint32_t x = m_v.node_rank[n]; x != 0xffffffffu; x = m_v.tree_parent[x])
                add(x);
            const std::uint32_t x = m_v.node_rank[n];
            for (std::uint32_t i = m_v.up_first[x]; i < m_v.up_first[x + 1]; ++i)
                node(m_v.up_head[i]);
        }
    }

    RegionView m_v;
    std::uint64_t m_sum = 0;
};

/// What must hold for any bytes: reading them throws a damaged Error in one line that names the file, or
/// gives a view that can be walked. True when the bytes were accepted.
inline bool read_or_refuse(const Bytes& bytes, Checksums checksums = Checksums::of_header) {
    try {
        const RegionContent content = read_region(bytes, "x.region", checksums);
        static_cast<void>(ViewWalk(content.view).sum());
        return true;
    } catch (const Error& e) {
        const std::string line = e.what();
        if (e.kind() != ErrorKind::damaged || !line.starts_with("x.region: ") ||
            line.find('\n') != std::string::npos || e.what_to_do().empty())
            throw std::logic_error("not a clear line: " + line);
        return false;
    }
}

/// The promise for bytes as they come and for the same bytes with a good layout and good checksums, where
/// only the structural check stands between them and the reader. Throws when it is broken.
inline void read_any_bytes(const Bytes& bytes) {
    static_cast<void>(read_or_refuse(bytes));
    const Bytes whole = relaid(bytes);
    if (read_or_refuse(whole) != read_or_refuse(whole, Checksums::of_everything))
        throw std::logic_error("opening and verifying disagree on good checksums");
}

}  // namespace loamway::test

#endif
