// SPDX-License-Identifier: Apache-2.0
// The stops as a table for a spreadsheet (RFC 4180, UTF-8, a point as decimal mark).
#include <fmt/format.h>

#include "loamway/base/names.h"
#include "loamway/exchange/tracks.h"
#include "loamway/text/csv.h"
#include "plan_layers.h"
#include "planned_way.h"

namespace loamway {

namespace {

struct Cell {
    const TimeZone& zone;
    std::string operator()(std::monostate) const { return {}; }
    std::string operator()(const std::string& v) const { return csv_cell(v); }
    std::string operator()(std::int64_t v) const { return fmt::format("{}", v); }
    std::string operator()(double v) const { return fmt::format("{}", v); }
    std::string operator()(bool v) const { return v ? "yes" : "no"; }
    std::string operator()(Instant v) const { return format_rfc3339(v, zone); }
};

}  // namespace

std::string to_stops_csv(const Plan& plan, const std::string& option) {
    const Option& o = option_with_way(plan, option);
    const TimeZone zone = plan.region.time_zone.empty() ? TimeZone() : TimeZone(plan.region.time_zone);
    std::string out;
    for (const VectorLayer& layer : plan_layers(plan, o)) {
        if (layer.name != "stops")
            continue;
        for (const VectorField& field : layer.fields)
            out += field.name + ",";
        out += "lat,lon\n";
        for (const VectorFeature& f : layer.features) {
            for (const FieldValue& v : f.values)
                out += std::visit(Cell{zone}, v) + ",";
            const GeoPoint p = f.lines.front().front();
            out += fmt::format("{:.7f},{:.7f}\n", p.lat_e7 / 1e7, p.lon_e7 / 1e7);
        }
    }
    return out;
}

}  // namespace loamway
