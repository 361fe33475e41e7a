// SPDX-License-Identifier: Apache-2.0
#include "plain_map.h"

#include <osmium/io/any_input.hpp>
#include <osmium/osm.hpp>
#include <unordered_map>

namespace loamway::test {

TagView PlainWay::view() const {
    TagView view;
    for (const auto& [key, value] : tags)
        view.add(key, value);
    return view;
}

std::string PlainWay::value(const std::string& key) const {
    for (const auto& tag : tags)
        if (tag.first == key)
            return tag.second;
    return {};
}

std::vector<PlainWay> read_plain_highways(const std::string& path) {
    const osmium::memory::Buffer buffer = osmium::io::read_file(path);
    std::unordered_map<std::int64_t, GeoPoint> points;
    for (const osmium::Node& node : buffer.select<osmium::Node>())
        points[node.id()] = {node.location().y(), node.location().x()};
    std::vector<PlainWay> ways;
    for (const osmium::Way& way : buffer.select<osmium::Way>()) {
        if (!way.tags().has_key("highway"))
            continue;
        PlainWay plain;
        plain.id = way.id();
        for (const osmium::Tag& tag : way.tags())
            plain.tags.emplace_back(tag.key(), tag.value());
        for (const osmium::NodeRef& node : way.nodes())
            if (const auto at = points.find(node.ref()); at != points.end())
                plain.points.push_back(at->second);
        ways.push_back(std::move(plain));
    }
    return ways;
}

}  // namespace loamway::test
