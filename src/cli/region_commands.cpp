// SPDX-License-Identifier: Apache-2.0
// loamway region build | info | verify | roads
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <optional>
#include <tuple>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/build/build.h"
#include "loamway/geodata/height_rasters.h"
#include "loamway/haul/limits.h"
#include "loamway/profile/recipe.h"
#include "loamway/region/magic.h"
#include "loamway/region/region.h"
#include "loamway/region/region_stats.h"
#include "loamway/text/csv.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t largest_recipe = std::size_t{1} << 20;

// ---- build

struct BuildFlags {
    std::vector<std::string> extracts;
    std::vector<std::string> elevation;
    std::string output, recipe;
};

/// "county" of "a/county.region".
std::string stem_of(const std::string& path) {
    const auto slash = path.rfind('/');
    const std::string name = slash == std::string::npos ? path : path.substr(slash + 1);
    const auto dot = name.rfind('.');
    return dot == std::string::npos || dot == 0 ? name : name.substr(0, dot);
}

/// The text of the table of limits a recipe names, once it has been read without fault.
std::string limits_beside(const std::string& recipe_file, const std::string& name) {
    if (name.empty())
        return name;
    const auto slash = recipe_file.rfind('/');
    const std::string folder = slash == std::string::npos ? "" : recipe_file.substr(0, slash + 1);
    const std::string file = folder + "limits/" + name + ".toml";
    std::string text;
    try {
        text = read_text_file(file, largest_recipe);
    } catch (const Error& e) {
        throw Error(e.kind(), e.message(),
                    fmt::format("limits = \"{}\" of {} names it", printable(name), recipe_file), e.place());
    }
    (void)read_limits_table(parse_document(text, file, DocumentKind::limits), file);
    return text;
}

void check_files(const BuildFlags& flags) {
    std::vector<std::string> sources = flags.extracts;
    sources.insert(sources.end(), flags.elevation.begin(), flags.elevation.end());
    for (const std::string& source : sources) {
        if (flags.output == "-" || source == "-")
            throw Error(ErrorKind::input, "a region is built from a file to a file, not through a pipe");
        require_apart({source, flags.recipe}, flags.output, "what the region is made from");
        require_readable(source);
    }
    require_writable(flags.output);
    require_replaceable(flags.output, {region_magic.data(), region_magic.size()}, "a region");
}

/// "a.tif, b.tif, c.tif and 40 more".
std::string names_of(const HeightRasters& rasters) {
    constexpr std::size_t listed = 3;
    std::string names;
    for (std::size_t i = 0; i < std::min(rasters.size(), listed); ++i)
        names += (i == 0 ? "" : ", ") + printable(rasters.name(i));
    if (rasters.size() > listed)
        names += fmt::format(" and {} more", rasters.size() - listed);
    return names;
}

/// A raster beside the map is a slip of the pen.
void require_on_map(const HeightRasters& rasters, const RawMap& map, const std::vector<std::string>& paths) {
    GeoPoint south_west{900000000, 1800000000}, north_east{-900000000, -1800000000};
    for (std::size_t i = 0; i < map.node_points.size(); ++i)
        if (map.node_found[i]) {
            const GeoPoint p = map.node_points[i];
            south_west = {std::min(south_west.lat_e7, p.lat_e7), std::min(south_west.lon_e7, p.lon_e7)};
            north_east = {std::max(north_east.lat_e7, p.lat_e7), std::max(north_east.lon_e7, p.lon_e7)};
        }
    for (std::size_t i = 0; i < rasters.size(); ++i)
        if (!rasters.touches(i, south_west, north_east))
            throw Error(ErrorKind::input, "this elevation lies beside the map",
                        "leave it out, or give the map's area", {paths[i], {}, {}});
}

/// What there is to say about heights, for the line about the region.
std::string heights_text(const RegionData& data) {
    if (data.meta.elevation.empty())
        return {};
    const RegionStats stats = region_stats(data.view());
    return fmt::format(", heights for {:.1f} of {:.1f} km", stats.with_heights.km(), stats.total.km());
}

int build_region(const BuildFlags& flags) {
    check_files(flags);
    std::optional<HeightRasters> rasters;
    if (!flags.elevation.empty())
        rasters.emplace(flags.elevation);
    Recipe recipe;
    if (!flags.recipe.empty())
        recipe = read_recipe(
            parse_document(read_text_file(flags.recipe, largest_recipe), flags.recipe, DocumentKind::recipe),
            flags.recipe);
    const std::string limits = limits_beside(flags.recipe, recipe.limits);
    RegionData data;
    {
        const Progress progress = progress_line();
        RawMap map = read_extracts(flags.extracts, progress);
        std::optional<Elevation> elevation;
        if (rasters) {
            require_on_map(*rasters, map, flags.elevation);
            elevation = {[&rasters](auto points, auto metres) { rasters->sample(points, metres); },
                         names_of(*rasters)};
        }
        data = assemble(std::move(map), recipe, stem_of(flags.output), progress, elevation);
        data.meta.limits = limits;
        write_region(data, flags.output);
    }
    print(fmt::format("{}: {} junctions and ends, {} pieces of road{}\n", printable(flags.output),
                      data.node_lat.size(), data.edges.size(), heights_text(data)));
    if (data.meta.time_zone_assumed)
        print(
            "  times are UTC: no recipe names a time zone (put time_zone = \"Area/City\" into a copy of yours)\n");
    return 0;
}

// ---- info

Value km(Length l) {
    return std::round(l.metres()) / 1000.0;
}

Value degrees(std::int32_t e7) {
    return e7 / 1e7;
}

Value info_json(const Region& region, const RegionStats& stats) {
    Value lengths;
    for (std::size_t c = 0; c < surface_class_count; ++c)
        lengths.set(
            std::string(surface_class_names[c]),
            Value::Object{{"known", km(stats.surface[c].known)}, {"assumed", km(stats.surface[c].assumed)}});
    const RegionMeta& meta = region.meta();
    Value counts{Value::Object{}};
    for (const BuildCount& c : meta.counts)
        counts.set(c.what, c.count);
    const auto text = [](const std::string& s) { return s.empty() ? Value() : Value(s); };
    const auto number = [](std::size_t n) { return Value(static_cast<std::int64_t>(n)); };
    Value out;
    out.set("name", text(meta.name));
    out.set("km", lengths);
    out.set("nodes", number(stats.nodes));
    out.set("edges", number(stats.edges));
    out.set("arcs", number(stats.arcs));
    out.set("components", number(stats.components));
    out.set("bounds", stats.bounds ? Value(Value::Object{{"south", degrees(stats.bounds->south_west.lat_e7)},
                                                         {"west", degrees(stats.bounds->south_west.lon_e7)},
                                                         {"north", degrees(stats.bounds->north_east.lat_e7)},
                                                         {"east", degrees(stats.bounds->north_east.lon_e7)}})
                                   : Value());
    out.set("stop_places", number(region.view().stop_places.size()));
    out.set("elevation", meta.elevation.empty()
                             ? Value()
                             : Value(Value::Object{{"source", meta.elevation},
                                                   {"known_km", km(stats.with_heights)},
                                                   {"flat_km", km(stats.total - stats.with_heights)}}));
    out.set("map_date", text(meta.map_date));
    out.set("time_zone", text(meta.time_zone));
    out.set("time_zone_assumed", meta.time_zone_assumed);
    out.set("recipe", text(meta.recipe));
    out.set("attribution", text(meta.attribution));
    out.set("digest", region.digest());
    out.set("counts", counts);
    return out;
}

std::string info_text(const Region& region, const RegionStats& stats) {
    const RegionMeta& meta = region.meta();
    const auto word = [](const std::string& s, std::string_view otherwise) {
        return s.empty() ? std::string(otherwise) : printable(s);
    };
    std::string out = fmt::format("{}\n", word(meta.name, "unnamed region"));
    out += fmt::format("  map date     {}\n", word(meta.map_date, "not in the extract"));
    out += fmt::format("  time zone    {}{}\n", word(meta.time_zone, "UTC"),
                       meta.time_zone_assumed ? " (assumed: no recipe names one)" : "");
    out += fmt::format("  recipe       {}\n", word(meta.recipe, "none: defaults"));
    constexpr std::array<std::string_view, surface_class_count> words{"paved", "gravel", "earth"};
    out += "  road km         known   assumed\n";
    for (std::size_t c = 0; c < surface_class_count; ++c)
        out += fmt::format("    {:<8} {:>10.1f}{:>10.1f}\n", words[c], stats.surface[c].known.km(),
                           stats.surface[c].assumed.km());
    out += fmt::format("    {:<8} {:>10.1f}\n", "all", stats.total.km());
    out += fmt::format("  graph        {} nodes, {} pieces of road, {} connected parts\n", stats.nodes,
                       stats.edges, stats.components);
    out += fmt::format("  stop places  {}\n", region.view().stop_places.size());
    out += meta.elevation.empty()
               ? "  heights      none: flat assumed\n"
               : fmt::format("  heights      {:.1f} km of road known, {:.1f} km assumed flat (from {})\n",
                             stats.with_heights.km(), (stats.total - stats.with_heights).km(),
                             printable(meta.elevation));
    if (stats.bounds)
        out += fmt::format("  bounds       {:.5f},{:.5f} to {:.5f},{:.5f}\n", stats.bounds->south_west.lat(),
                           stats.bounds->south_west.lon(), stats.bounds->north_east.lat(),
                           stats.bounds->north_east.lon());
    for (const BuildCount& c : meta.counts)
        out += fmt::format("  {}: {}\n", printable(c.what), c.count);
    out += fmt::format("  digest       {}\n", region.digest());
    out += fmt::format("  {}\n", word(meta.attribution, "no attribution"));
    return out;
}

int region_info(const std::string& path, bool json) {
    const Region region = Region::open(path);
    const RegionStats stats = region_stats(region.view());
    print(json ? to_json(info_json(region, stats), 2) + "\n" : info_text(region, stats));
    return 0;
}

// ---- verify

int region_verify(const std::string& path, bool json) {
    verify_region(path);
    const std::string digest = Region::open(path).digest();
    if (json)
        print(to_json(Value::Object{{"file", path}, {"whole", true}, {"digest", digest}}, 2) + "\n");
    else
        print(fmt::format("{}: whole, digest {}\n", printable(path), digest));
    return 0;
}

// ---- roads

/// All pieces of one way that are read alike are one line.
struct RoadLine {
    std::int64_t way;
    std::uint32_t reason;
    bool known;
    SurfaceOdds odds;
    std::uint64_t length_dm;
    [[nodiscard]] auto key() const {
        return std::make_tuple(way, !known, 255 - odds.hard, 255 - odds.gravel, odds.earth, reason);
    }
};

std::vector<RoadLine> road_lines(const RegionView& view) {
    std::vector<RoadLine> lines;
    lines.reserve(view.edge_count());
    for (std::size_t e = 0; e < view.edge_count(); ++e) {
        const EdgeRecord& r = view.edges[e];
        lines.push_back({view.edge_way[e], r.reason, (r.flags & edge_flag::known) != 0, r.odds, r.length_dm});
    }
    std::sort(lines.begin(), lines.end(),
              [](const RoadLine& a, const RoadLine& b) { return a.key() < b.key(); });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (kept > 0 && lines[kept - 1].key() == lines[i].key())
            lines[kept - 1].length_dm += lines[i].length_dm;
        else
            lines[kept++] = lines[i];
    }
    lines.resize(kept);
    return lines;
}

int region_roads(const std::string& path) {
    const Region region = Region::open(path);
    const RegionView& view = region.view();
    constexpr double steps = probability_steps;
    print("way_id,class,known,p_hard,p_gravel,p_earth,length_m,reason\n");
    for (const RoadLine& line : road_lines(view))
        print(fmt::format("{},{},{},{:.3f},{:.3f},{:.3f},{}.{},{}\n", line.way,
                          name_of(line.odds.likeliest()), line.known ? "known" : "assumed",
                          line.odds.hard / steps, line.odds.gravel / steps, line.odds.earth / steps,
                          line.length_dm / 10, line.length_dm % 10, csv_cell(view.string(line.reason))));
    return 0;
}

void add_build(CLI::App& region, Chosen& chosen) {
    CLI::App* sub = region.add_subcommand("build", "make a region file from OpenStreetMap extracts");
    auto flags = std::make_shared<BuildFlags>();
    sub->add_option(
           "extract", flags->extracts,
           ".osm, .osm.bz2, .osm.gz, .osm.pbf or .opl files; of what several hold, the one named first counts")
        ->required()
        ->type_name("EXTRACT");
    sub->add_option("-o,--output", flags->output, "region file to write")->required()->type_name("FILE");
    sub->add_option("--recipe", flags->recipe,
                    "what holds in this part of the world: time zone, widths, odds of paved roads")
        ->type_name("FILE");
    sub->add_option(
           "--elevation", flags->elevation,
           "raster of heights in metres or feet: GeoTIFF, ASCII grid, SRTM .hgt, USGS DEM, DTED; may be given "
           "again, and of what several hold the one named first counts")
        ->type_name("RASTER")
        ->expected(1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    sub->callback([flags, &chosen] { chosen.work = [flags] { return build_region(*flags); }; });
}

void add_readers(CLI::App& region, Chosen& chosen) {
    auto file = std::make_shared<std::string>();
    auto json = std::make_shared<bool>(false);
    const auto add = [&](const char* name, const char* what, std::function<int()> work) {
        CLI::App* sub = region.add_subcommand(name, what);
        sub->add_option("file", *file, "region file")->required()->type_name("FILE");
        sub->callback([work = std::move(work), &chosen] { chosen.work = work; });
        return sub;
    };
    add("info", "what a region holds: km by surface, dates, bounds", [file, json] {
        return region_info(*file, *json);
    })->add_flag("--json", *json, "print JSON");
    add("verify", "read a region file whole and check every sum", [file, json] {
        return region_verify(*file, *json);
    })->add_flag("--json", *json, "print JSON");
    // The parser writes to what a flag is bound to: the callback keeps it alive.
    auto csv = std::make_shared<bool>(false);
    CLI::App* roads =
        add("roads", "how each road's surface is read, as CSV", [file, csv] { return region_roads(*file); });
    roads->add_flag("--csv", *csv, "CSV, the only form there is");
}

}  // namespace

void add_region_commands(CLI::App& app, Chosen& chosen) {
    CLI::App* region = app.add_subcommand("region", "make and look into region files");
    region->require_subcommand(1);
    add_build(*region, chosen);
    add_readers(*region, chosen);
}

}  // namespace loamway
