// SPDX-License-Identifier: Apache-2.0
// Field numbers are those of the published format (OSM-binary, osmformat.proto).
#include "pbf_block.h"

#include <protozero/exception.hpp>
#include <protozero/pbf_reader.hpp>
#include <protozero/varint.hpp>

#include <algorithm>
#include <cstdint>
#include <limits>

namespace loamway {

namespace {

using protozero::pbf_reader;
using protozero::pbf_wire_type;

/// The longest text the OpenStreetMap database gives out: 255 characters of up to four bytes, and a bit.
constexpr std::size_t longest_text = 1024;
constexpr std::int64_t nano_degrees_per_step = 100;
constexpr std::int64_t most_lat = 900'000'000;
constexpr std::int64_t most_lon = 1'800'000'000;

constexpr std::uint32_t field(std::uint32_t tag, pbf_wire_type type) {
    return protozero::tag_and_type(tag, type);
}
constexpr pbf_wire_type bytes_type = pbf_wire_type::length_delimited;
constexpr pbf_wire_type number_type = pbf_wire_type::varint;

/// A packed list of numbers.
class Numbers {
public:
    Numbers() = default;
    explicit Numbers(const protozero::data_view& view)
        : m_at(view.data()), m_end(view.data() + view.size()) {}

    [[nodiscard]] bool empty() const { return m_at == m_end; }
    std::uint64_t next() { return protozero::decode_varint(&m_at, m_end); }
    std::int64_t next_signed() { return protozero::decode_zigzag64(next()); }
    /// How many numbers there are at most: each takes a byte or more.
    [[nodiscard]] std::size_t most() const { return static_cast<std::size_t>(m_end - m_at); }

private:
    const char* m_at = nullptr;
    const char* m_end = nullptr;
};

/// A running sum that wraps around as the writer's differences do.
class Sum {
public:
    std::int64_t add(std::int64_t difference) {
        m_value += static_cast<std::uint64_t>(difference);
        return static_cast<std::int64_t>(m_value);
    }

private:
    std::uint64_t m_value = 0;
};

struct Scale {
    std::int64_t granularity = 100;  // nanodegrees
    std::int64_t lat_offset = 0;
    std::int64_t lon_offset = 0;
    std::int64_t time_factor = 1000;  // milliseconds
};

/// Steps of 1e-7 degree; far off the globe when the numbers do not fit.
std::int64_t steps(std::int64_t value, std::int64_t granularity, std::int64_t offset) {
    std::int64_t result = 0;
    if (__builtin_mul_overflow(value, granularity, &result) ||
        __builtin_add_overflow(result, offset, &result))
        return std::numeric_limits<std::int64_t>::max();
    return result / nano_degrees_per_step;
}

GeoPoint point_of(std::int64_t lat, std::int64_t lon, const Scale& scale) {
    const std::int64_t y = steps(lat, scale.granularity, scale.lat_offset);
    const std::int64_t x = steps(lon, scale.granularity, scale.lon_offset);
    if (y < -most_lat || y > most_lat || x < -most_lon || x > most_lon)
        return PbfBlock::no_point;
    return {static_cast<std::int32_t>(y), static_cast<std::int32_t>(x)};
}

struct ObjectInfo {
    std::int64_t time = 0;
    bool visible = true;
};

ObjectInfo info_of(pbf_reader message) {
    ObjectInfo info;
    while (message.next())
        switch (message.tag_and_type()) {
            case field(2, number_type):
                info.time = message.get_int64();
                break;
            case field(6, number_type):
                info.visible = message.get_bool();
                break;
            default:
                message.skip();
        }
    return info;
}

class Decoder {
public:
    Decoder(PbfBlock& block, bool with_times) : m_block(block), m_with_times(with_times) {}

    void take(std::span<const char> bytes) {
        const protozero::data_view view(bytes.data(), bytes.size());
        read_frame(pbf_reader(view));
        pbf_reader message(view);
        while (message.next(2, bytes_type))
            read_group(message.get_message());
    }

private:
    void read_frame(pbf_reader message);
    void read_texts(pbf_reader message);
    void read_group(pbf_reader message);
    void read_node(pbf_reader message);
    void read_dense(pbf_reader message);
    void read_way(pbf_reader message);
    void read_relation(pbf_reader message);
    void read_tags(Numbers keys, Numbers values);
    void read_dense_tags(Numbers& tags);

    [[nodiscard]] std::uint32_t text_index(std::uint64_t number) const {
        if (number >= m_block.texts.size())
            throw PbfFault{"it names a text that is not there"};
        return static_cast<std::uint32_t>(number);
    }
    void note_time(std::int64_t time) {
        std::int64_t milliseconds = 0;
        if (__builtin_mul_overflow(time, m_scale.time_factor, &milliseconds))
            throw PbfFault{"an object's time is out of range"};
        const std::int64_t seconds = milliseconds / 1000;
        if (seconds > 0 && seconds <= std::numeric_limits<std::uint32_t>::max())
            m_block.newest = std::max(m_block.newest, static_cast<std::uint32_t>(seconds));
    }
    /// Whether the object counts.
    bool accept(const ObjectInfo& info) {
        if (!info.visible)
            ++m_block.deleted;
        else if (m_with_times)
            note_time(info.time);
        return info.visible;
    }
    void add_run(char kind, std::size_t end) {
        const auto to = static_cast<std::uint32_t>(end);
        if (!m_block.runs.empty() && m_block.runs.back().kind == kind)
            m_block.runs.back().end = to;
        else
            m_block.runs.push_back({kind, to - 1, to});
    }
    [[nodiscard]] std::uint32_t tag_count() const { return static_cast<std::uint32_t>(m_block.tags.size()); }
    void note_node_tags(std::uint32_t first) {
        if (tag_count() > first)
            m_block.node_tags.push_back(
                {static_cast<std::uint32_t>(m_block.node_ids.size() - 1), first, tag_count() - first});
    }

    PbfBlock& m_block;
    Scale m_scale;
    bool m_with_times;
    bool m_has_texts = false;
};

/// The texts and the scale may stand behind the objects that need them.
void Decoder::read_frame(pbf_reader message) {
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, bytes_type):
                read_texts(message.get_message());
                break;
            case field(17, number_type):
                m_scale.granularity = message.get_int32();
                break;
            case field(18, number_type):
                m_scale.time_factor = message.get_int32();
                break;
            case field(19, number_type):
                m_scale.lat_offset = message.get_int64();
                break;
            case field(20, number_type):
                m_scale.lon_offset = message.get_int64();
                break;
            default:
                message.skip();
        }
    if (m_scale.granularity <= 0 || m_scale.time_factor <= 0)
        throw PbfFault{"its scale is not above zero"};
}

void Decoder::read_texts(pbf_reader message) {
    if (m_has_texts)
        throw PbfFault{"it has two tables of texts"};
    m_has_texts = true;
    while (message.next(1, bytes_type)) {
        const protozero::data_view view = message.get_view();
        if (view.size() > longest_text)
            throw PbfFault{"a text in it is too long"};
        // A zero byte ends a text in all the other forms.
        const std::string_view text(view.data(), view.size());
        m_block.texts.push_back(text.substr(0, text.find('\0')));
    }
}

void Decoder::read_group(pbf_reader message) {
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, bytes_type):
                read_node(message.get_message());
                break;
            case field(2, bytes_type):
                read_dense(message.get_message());
                break;
            case field(3, bytes_type):
                read_way(message.get_message());
                break;
            case field(4, bytes_type):
                read_relation(message.get_message());
                break;
            default:
                message.skip();
        }
}

void Decoder::read_tags(Numbers keys, Numbers values) {
    while (!keys.empty() && !values.empty()) {
        const std::uint32_t key = text_index(keys.next());
        m_block.tags.emplace_back(key, text_index(values.next()));
    }
    if (!keys.empty() || !values.empty())
        throw PbfFault{"keys and values of an object are not equally many"};
}

void Decoder::read_node(pbf_reader message) {
    constexpr std::int64_t unset = std::numeric_limits<std::int64_t>::max();
    std::int64_t id = 0, lat = unset, lon = unset;
    Numbers keys, values;
    ObjectInfo info;
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, number_type):
                id = message.get_sint64();
                break;
            case field(2, bytes_type):
                keys = Numbers(message.get_view());
                break;
            case field(3, bytes_type):
                values = Numbers(message.get_view());
                break;
            case field(4, bytes_type):
                info = info_of(message.get_message());
                break;
            case field(8, number_type):
                lat = message.get_sint64();
                break;
            case field(9, number_type):
                lon = message.get_sint64();
                break;
            default:
                message.skip();
        }
    if (!accept(info))
        return;
    if (lat == unset || lon == unset)
        throw PbfFault{"a node has no position"};
    m_block.node_ids.push_back(id);
    m_block.node_points.push_back(point_of(lat, lon, m_scale));
    const std::uint32_t first = tag_count();
    read_tags(keys, values);
    note_node_tags(first);
    add_run('n', m_block.node_ids.size());
}

/// Keys and values of one node in the list of all nodes' tags; a 0 ends them.
void Decoder::read_dense_tags(Numbers& tags) {
    while (!tags.empty()) {
        const std::uint64_t key = tags.next();
        if (key == 0)
            return;
        if (tags.empty())
            throw PbfFault{"a key has no value"};
        m_block.tags.emplace_back(text_index(key), text_index(tags.next()));
    }
}

void Decoder::read_dense(pbf_reader message) {
    Numbers ids, lats, lons, tags, times, visibles;
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, bytes_type):
                ids = Numbers(message.get_view());
                break;
            case field(5, bytes_type): {
                pbf_reader info = message.get_message();
                while (info.next())
                    if (info.tag_and_type() == field(2, bytes_type) && m_with_times)
                        times = Numbers(info.get_view());
                    else if (info.tag_and_type() == field(6, bytes_type))
                        visibles = Numbers(info.get_view());
                    else
                        info.skip();
                break;
            }
            case field(8, bytes_type):
                lats = Numbers(message.get_view());
                break;
            case field(9, bytes_type):
                lons = Numbers(message.get_view());
                break;
            case field(10, bytes_type):
                tags = Numbers(message.get_view());
                break;
            default:
                message.skip();
        }
    Sum id, lat, lon, time;
    while (!ids.empty()) {
        if (lats.empty() || lons.empty())
            throw PbfFault{"a node has no position"};
        const std::int64_t this_id = id.add(ids.next_signed());
        const std::int64_t y = lat.add(lats.next_signed());
        const std::int64_t x = lon.add(lons.next_signed());
        const std::int64_t this_time = times.empty() ? 0 : time.add(times.next_signed());
        const bool visible = visibles.empty() || visibles.next() != 0;
        const std::uint32_t first = tag_count();
        if (!tags.empty())
            read_dense_tags(tags);
        if (!accept({this_time, visible})) {
            m_block.tags.resize(first);
            continue;
        }
        m_block.node_ids.push_back(this_id);
        m_block.node_points.push_back(point_of(y, x, m_scale));
        note_node_tags(first);
        add_run('n', m_block.node_ids.size());
    }
}

void Decoder::read_way(pbf_reader message) {
    PbfBlock::Way way{};
    Numbers keys, values, refs;
    ObjectInfo info;
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, number_type):
                way.id = message.get_int64();
                break;
            case field(2, bytes_type):
                keys = Numbers(message.get_view());
                break;
            case field(3, bytes_type):
                values = Numbers(message.get_view());
                break;
            case field(4, bytes_type):
                info = info_of(message.get_message());
                break;
            case field(8, bytes_type):
                refs = Numbers(message.get_view());
                break;
            default:
                message.skip();
        }
    if (!accept(info))
        return;
    way.ref_first = static_cast<std::uint32_t>(m_block.refs.size());
    for (Sum ref; !refs.empty();)
        m_block.refs.push_back(ref.add(refs.next_signed()));
    way.ref_count = static_cast<std::uint32_t>(m_block.refs.size()) - way.ref_first;
    way.tag_first = tag_count();
    read_tags(keys, values);
    way.tag_count = tag_count() - way.tag_first;
    m_block.ways.push_back(way);
    add_run('w', m_block.ways.size());
}

void Decoder::read_relation(pbf_reader message) {
    PbfBlock::Relation relation{};
    Numbers keys, values, roles, refs, types;
    ObjectInfo info;
    while (message.next())
        switch (message.tag_and_type()) {
            case field(1, number_type):
                relation.id = message.get_int64();
                break;
            case field(2, bytes_type):
                keys = Numbers(message.get_view());
                break;
            case field(3, bytes_type):
                values = Numbers(message.get_view());
                break;
            case field(4, bytes_type):
                info = info_of(message.get_message());
                break;
            case field(8, bytes_type):
                roles = Numbers(message.get_view());
                break;
            case field(9, bytes_type):
                refs = Numbers(message.get_view());
                break;
            case field(10, bytes_type):
                types = Numbers(message.get_view());
                break;
            default:
                message.skip();
        }
    if (!accept(info))
        return;
    relation.member_first = static_cast<std::uint32_t>(m_block.members.size());
    for (Sum ref; !refs.empty();) {
        if (roles.empty() || types.empty())
            throw PbfFault{"a member of a relation has no role or no kind"};
        const std::uint32_t role = text_index(roles.next());
        const std::uint64_t type = types.next();
        if (type > 2)
            throw PbfFault{"a member of a relation is of an unknown kind"};
        m_block.members.push_back({"nwr"[type], ref.add(refs.next_signed()), role});
    }
    relation.member_count = static_cast<std::uint32_t>(m_block.members.size()) - relation.member_first;
    relation.tag_first = tag_count();
    read_tags(keys, values);
    relation.tag_count = tag_count() - relation.tag_first;
    m_block.relations.push_back(relation);
    add_run('r', m_block.relations.size());
}

}  // namespace

void PbfBlock::clear() {
    texts.clear();
    runs.clear();
    node_ids.clear();
    node_points.clear();
    node_tags.clear();
    ways.clear();
    refs.clear();
    relations.clear();
    members.clear();
    tags.clear();
    newest = 0;
    deleted = 0;
}

void PbfBlock::decode(std::span<const char> bytes, bool with_times) {
    clear();
    try {
        Decoder(*this, with_times).take(bytes);
    } catch (const protozero::exception& e) {
        throw PbfFault{e.what()};
    }
}

PbfHeader decode_pbf_header(std::span<const char> bytes) {
    PbfHeader header;
    try {
        pbf_reader message(protozero::data_view(bytes.data(), bytes.size()));
        while (message.next())
            switch (message.tag_and_type()) {
                case field(4, bytes_type): {
                    const std::string feature = message.get_string();
                    if (feature == "HistoricalInformation")
                        header.has_history = true;
                    else if (feature != "OsmSchema-V0.6" && feature != "DenseNodes")
                        throw PbfFault{"it needs a reader for \"" + feature + "\"", true};
                    break;
                }
                case field(32, number_type): {
                    const std::int64_t time = message.get_int64();
                    if (time > 0 && time <= std::numeric_limits<std::uint32_t>::max())
                        header.time = static_cast<std::uint32_t>(time);
                    break;
                }
                default:
                    message.skip();
            }
    } catch (const protozero::exception& e) {
        throw PbfFault{e.what()};
    }
    return header;
}

}  // namespace loamway
