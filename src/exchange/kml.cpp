// SPDX-License-Identifier: Apache-2.0
// KML 2.2 (OGC 07-147r2), through pugixml like the GPX: styles, times and the order of elements are ours to
// say, and no library has to be loaded. One folder a layer.
#include <fmt/format.h>

#include <pugixml.hpp>
#include <sstream>

#include "loamway/base/names.h"
#include "loamway/exchange/tracks.h"
#include "loamway/plan/plan_words.h"
#include "plan_layers.h"
#include "planned_way.h"
#include "xml_text.h"

namespace loamway {

namespace {

struct Words {
    std::string operator()(std::monostate) const { return {}; }
    std::string operator()(const std::string& v) const { return v; }
    std::string operator()(std::int64_t v) const { return fmt::format("{}", v); }
    std::string operator()(double v) const { return fmt::format("{}", v); }
    std::string operator()(bool v) const { return v ? "yes" : "no"; }
    std::string operator()(Instant v) const { return format_rfc3339(v, TimeZone()); }
};

std::string position(GeoPoint p) {
    return fmt::format("{:.7f},{:.7f}", p.lon_e7 / 1e7, p.lat_e7 / 1e7);
}

class KmlWriter {
public:
    KmlWriter(const Plan& plan, const Option& option) : m_plan(plan), m_option(option) {}

    std::string make() {
        pugi::xml_document document;
        pugi::xml_node declaration = document.append_child(pugi::node_declaration);
        declaration.append_attribute("version") = "1.0";
        declaration.append_attribute("encoding") = "UTF-8";
        pugi::xml_node kml = document.append_child("kml");
        kml.append_attribute("xmlns") = "http://www.opengis.net/kml/2.2";
        pugi::xml_node body = kml.append_child("Document");
        add(body, "name", fmt::format("{} to {}", m_plan.move.from_name, m_plan.move.to_name));
        add(body, "description", about());
        styles(body);
        for (const VectorLayer& layer : plan_layers(m_plan, m_option))
            folder(body, layer);
        std::ostringstream out;
        document.save(out, " ", pugi::format_indent, pugi::encoding_utf8);
        return out.str();
    }

private:
    static void add(pugi::xml_node parent, const char* name, const std::string& text) {
        if (!text.empty())
            parent.append_child(name).text().set(xml_text(text).c_str());
    }
    [[nodiscard]] std::string about() const {
        std::string out = m_plan.verdict.option == m_option.id
                              ? m_plan.verdict.sentence
                              : fmt::format("Option {}.", option_name(m_option.id));
        for (const std::string& why : m_option.why_not)
            out += fmt::format(" Cannot be done as it stands: {}.", why);
        for (const std::string& caution : m_plan.cautions)
            out += " " + caution;
        return fmt::format("{} {}", out, m_plan.region.attribution);
    }

    /// Colours are aabbggrr: alpha, blue, green, red.
    static void line_style(pugi::xml_node body, const char* id, const char* colour, const char* width) {
        pugi::xml_node style = body.append_child("Style");
        style.append_attribute("id") = id;
        pugi::xml_node line = style.append_child("LineStyle");
        add(line, "color", colour);
        add(line, "width", width);
    }
    static void styles(pugi::xml_node body) {
        line_style(body, "hard", "ff3a3333", "5");
        line_style(body, "gravel", "ff4fa3d9", "5");
        line_style(body, "earth", "ff2f5f8f", "5");
        line_style(body, "haul", "ffb0651f", "3");
        line_style(body, "leg", "80ffffff", "8");
        for (const auto& [id, colour] : {std::pair{"stop", "ff0060ff"}, std::pair{"flag", "ff00d7ff"}}) {
            pugi::xml_node style = body.append_child("Style");
            style.append_attribute("id") = id;
            add(style.append_child("IconStyle"), "color", colour);
        }
    }

    static const FieldValue* value(const VectorLayer& layer, const VectorFeature& f, std::string_view name) {
        for (std::size_t i = 0; i < layer.fields.size() && i < f.values.size(); ++i)
            if (layer.fields[i].name == name && !std::holds_alternative<std::monostate>(f.values[i]))
                return &f.values[i];
        return nullptr;
    }
    static std::string words(const VectorLayer& layer, const VectorFeature& f, std::string_view name) {
        const FieldValue* v = value(layer, f, name);
        return v == nullptr ? std::string() : std::visit(Words{}, *v);
    }

    static void folder(pugi::xml_node body, const VectorLayer& layer) {
        pugi::xml_node node = body.append_child("Folder");
        add(node, "name", layer.name);
        for (const VectorFeature& f : layer.features)
            if (!f.lines.empty())
                placemark(node, layer, f);
    }
    /// The schema's order: name, description, time, style, data, geometry.
    static void placemark(pugi::xml_node parent, const VectorLayer& layer, const VectorFeature& f) {
        pugi::xml_node node = parent.append_child("Placemark");
        add(node, "name", words(layer, f, "name"));
        std::string description;
        for (const char* name : {"text", "place", "how_to_find", "why", "to_do", "cautions"})
            if (const std::string w = words(layer, f, name); !w.empty())
                description += (description.empty() ? "" : ". ") + w;
        add(node, "description", description);
        times(node, layer, f);
        add(node, "styleUrl", "#" + style_of(layer, f));
        data(node, layer, f);
        layer.shape == ShapeKind::point ? point(node, f) : line(node, f);
    }
    static void times(pugi::xml_node node, const VectorLayer& layer, const VectorFeature& f) {
        const bool stop = layer.name == "stops";
        const std::string begin = words(layer, f, stop ? "arrive" : "depart");
        const std::string end = words(layer, f, stop ? "leave" : "arrive");
        if (begin.empty())
            return;
        if (stop) {
            add(node.append_child("TimeStamp"), "when", begin);
            return;
        }
        pugi::xml_node span = node.append_child("TimeSpan");
        add(span, "begin", begin);
        add(span, "end", end);
    }
    static std::string style_of(const VectorLayer& layer, const VectorFeature& f) {
        if (layer.name == "stops")
            return "stop";
        if (layer.name == "flags")
            return "flag";
        if (layer.name == "legs")
            return "leg";
        const std::string surface = words(layer, f, "surface");
        return words(layer, f, "mode") == "haul" || surface.empty() ? "haul" : surface;
    }
    static void data(pugi::xml_node node, const VectorLayer& layer, const VectorFeature& f) {
        pugi::xml_node all = node.append_child("ExtendedData");
        for (std::size_t i = 0; i < layer.fields.size() && i < f.values.size(); ++i) {
            if (layer.fields[i].name == "name" || std::holds_alternative<std::monostate>(f.values[i]))
                continue;
            pugi::xml_node entry = all.append_child("Data");
            entry.append_attribute("name").set_value(layer.fields[i].name.c_str());
            add(entry, "value", std::visit(Words{}, f.values[i]));
        }
    }
    static void point(pugi::xml_node node, const VectorFeature& f) {
        add(node.append_child("Point"), "coordinates", position(f.lines.front().front()));
    }
    static void line(pugi::xml_node node, const VectorFeature& f) {
        pugi::xml_node parent = f.lines.size() == 1 ? node : node.append_child("MultiGeometry");
        for (const auto& points : f.lines) {
            pugi::xml_node part = parent.append_child("LineString");
            add(part, "tessellate", "1");
            std::string text;
            for (const GeoPoint p : points)
                text += (text.empty() ? "" : " ") + position(p);
            add(part, "coordinates", text);
        }
    }

    const Plan& m_plan;
    const Option& m_option;
};

}  // namespace

std::string to_kml(const Plan& plan, const std::string& option) {
    return KmlWriter(plan, option_with_way(plan, option)).make();
}

std::string to_geopackage(const Plan& plan, const std::string& option) {
    const Option& o = option_with_way(plan, option);
    return geopackage(plan_layers(plan, o), o.depart.value_or(Instant{}));
}

}  // namespace loamway
