// SPDX-License-Identifier: Apache-2.0
#include "decoded_map.h"

#include <osmium/handler.hpp>
#include <osmium/io/any_input.hpp>
#include <osmium/osm.hpp>
#include <osmium/visitor.hpp>
#include <utility>

namespace loamway {

namespace {

class Decoder : public osmium::handler::Handler {
public:
    explicit Decoder(DecodedMap& map) : m_map(map) {}

    void node(const osmium::Node& node) {
        begin(node);
        const osmium::Location where = node.location();
        m_map.text += ' ' + std::to_string(where.x()) + ' ' + std::to_string(where.y()) + '\n';
        m_map.nodes[node.id()] = {where.y(), where.x(), tags(node)};
    }
    void way(const osmium::Way& way) {
        begin(way);
        DecodedMap::Way& decoded = m_map.ways[way.id()];
        for (const osmium::NodeRef& ref : way.nodes()) {
            m_map.text += ' ' + std::to_string(ref.ref());
            decoded.nodes.push_back(ref.ref());
        }
        m_map.text += '\n';
        decoded.tags = tags(way);
    }
    void relation(const osmium::Relation& relation) {
        begin(relation);
        DecodedMap::Relation& decoded = m_map.relations[relation.id()];
        for (const osmium::RelationMember& member : relation.members()) {
            const char type = osmium::item_type_to_char(member.type());
            m_map.text += ' ' + std::string(1, type) + std::to_string(member.ref()) + '@' + member.role();
            decoded.members.push_back({type, member.ref(), member.role()});
        }
        m_map.text += '\n';
        decoded.tags = tags(relation);
    }

private:
    void begin(const osmium::OSMObject& object) {
        const auto place = std::make_pair(object.type(), object.id());
        m_map.sorted = m_map.sorted && (m_first || m_last < place);
        m_first = false;
        m_last = place;
        m_map.text += osmium::item_type_to_char(object.type()) + std::to_string(object.id()) + " v" +
                      std::to_string(object.version()) + ' ' + object.timestamp().to_iso();
        for (const osmium::Tag& tag : object.tags()) {
            m_map.text += std::string(" ") + tag.key() + '=' + tag.value();
        }
    }
    static TagList tags(const osmium::OSMObject& object) {
        TagList list;
        for (const osmium::Tag& tag : object.tags()) {
            list.emplace_back(tag.key(), tag.value());
        }
        return list;
    }

    DecodedMap& m_map;
    bool m_first = true;
    std::pair<osmium::item_type, osmium::object_id_type> m_last{};
};

}  // namespace

DecodedMap decode_map(const std::string& path) {
    DecodedMap map;
    osmium::io::Reader reader{osmium::io::File{path}};
    map.generator = reader.header().get("generator");
    map.timestamp = reader.header().get("osmosis_replication_timestamp");
    Decoder decoder(map);
    osmium::apply(reader, decoder);
    reader.close();
    return map;
}

}  // namespace loamway
