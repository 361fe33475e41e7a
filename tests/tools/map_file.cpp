// SPDX-License-Identifier: Apache-2.0
#include "map_file.h"

#include <osmium/builder/osm_object_builder.hpp>
#include <osmium/io/any_output.hpp>
#include <osmium/memory/buffer.hpp>
#include <osmium/osm.hpp>

namespace loamway {

namespace {

constexpr std::size_t buffer_bytes = 1U << 20U;

osmium::io::Header make_header(const MapBounds& bounds) {
    osmium::io::Header header;
    header.set("generator", MapFile::generator);
    header.set("sorting", "Type_then_ID");
    header.set("osmosis_replication_timestamp", MapFile::timestamp);
    osmium::Box box;
    box.extend(osmium::Location{bounds.min_lon_e7, bounds.min_lat_e7});
    box.extend(osmium::Location{bounds.max_lon_e7, bounds.max_lat_e7});
    header.add_box(box);
    return header;
}

template <typename Builder>
void add_tags(Builder& parent, const TagList& tags) {
    if (tags.empty()) {
        return;
    }
    osmium::builder::TagListBuilder builder{parent};
    for (const auto& [key, value] : tags) {
        builder.add_tag(key, value);
    }
}

osmium::item_type type_of(char type) {
    return osmium::char_to_item_type(type);
}

}  // namespace

struct MapFile::Writer {
    Writer(const std::string& path, const MapBounds& bounds)
        : out(osmium::io::File{path}, make_header(bounds), osmium::io::overwrite::allow) {}

    template <typename Object>
    void stamp(Object& object, std::int64_t id) {
        object.set_id(id).set_version(1U).set_visible(true).set_timestamp(time);
    }
    void done() {
        buffer.commit();
        if (buffer.committed() > buffer_bytes - buffer_bytes / 8) {
            out(std::move(buffer));
            buffer = osmium::memory::Buffer{buffer_bytes, osmium::memory::Buffer::auto_grow::yes};
        }
    }

    osmium::Timestamp time{MapFile::timestamp};
    osmium::io::Writer out;
    osmium::memory::Buffer buffer{buffer_bytes, osmium::memory::Buffer::auto_grow::yes};
};

MapFile::MapFile(const std::string& path, const MapBounds& bounds)
    : m_writer(std::make_unique<Writer>(path, bounds)) {}

MapFile::~MapFile() = default;

void MapFile::node(std::int64_t id, std::int32_t lat_e7, std::int32_t lon_e7, const TagList& tags) {
    {
        osmium::builder::NodeBuilder builder{m_writer->buffer};
        m_writer->stamp(builder.object(), id);
        builder.set_location(osmium::Location{lon_e7, lat_e7});
        builder.set_user("");
        add_tags(builder, tags);
    }
    m_writer->done();
}

void MapFile::way(std::int64_t id, std::span<const std::int64_t> nodes, const TagList& tags) {
    {
        osmium::builder::WayBuilder builder{m_writer->buffer};
        m_writer->stamp(builder.object(), id);
        builder.set_user("");
        add_tags(builder, tags);
        osmium::builder::WayNodeListBuilder list{builder};
        for (const std::int64_t node : nodes) {
            list.add_node_ref(node);
        }
    }
    m_writer->done();
}

void MapFile::relation(std::int64_t id, const std::vector<RelationMember>& members, const TagList& tags) {
    {
        osmium::builder::RelationBuilder builder{m_writer->buffer};
        m_writer->stamp(builder.object(), id);
        builder.set_user("");
        add_tags(builder, tags);
        osmium::builder::RelationMemberListBuilder list{builder};
        for (const RelationMember& member : members) {
            list.add_member(type_of(member.type), member.id, member.role.c_str());
        }
    }
    m_writer->done();
}

void MapFile::close() {
    m_writer->out(std::move(m_writer->buffer));
    m_writer->out.close();
}

}  // namespace loamway
