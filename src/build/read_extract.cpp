// SPDX-License-Identifier: Apache-2.0
#include "read_extract.h"

#include <algorithm>
#include <utility>

#include "build_counts.h"
#include "collector.h"
#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "loamway/region/digest.h"
#include "memory.h"

namespace loamway {

namespace {

/// The older of two ISO times; one that is empty says nothing.
std::string older(const std::string& a, const std::string& b) {
    return a.empty() ? b : b.empty() ? a : std::min(a, b);
}

void require_roads(const RawMap& map, std::span<const std::string> paths) {
    const ErrorPlace place{paths.front(), {}, {}};
    const bool one = paths.size() == 1;
    if (map.nodes_read + map.ways_read + map.relations_read == 0)
        throw Error(ErrorKind::input, one ? "the extract holds no objects" : "the extracts hold no objects",
                    "fetch it again or choose another area", place);
    if (map.roads.empty())
        throw Error(ErrorKind::input,
                    one ? "the extract holds no road that a machine or low-bed could use"
                        : "the extracts hold no road that a machine or low-bed could use",
                    "choose an extract of the whole map, not of one theme, that covers the area", place);
}

}  // namespace

RawMap read_extracts(std::span<const std::string> paths, const Progress& progress, PbfReader pbf) {
    if (paths.empty())
        throw Error(ErrorKind::input, "no extract is named", "name one or more");
    Collector collector;
    std::int64_t deleted = 0;
    std::string date, digest;
    for (std::size_t i = 0; i < paths.size(); ++i) {
        collector.begin_file();
        const OsmFileFacts facts = read_osm_file(
            paths[i], collector,
            [&](double fraction) {
                if (progress)
                    progress("reading the extract",
                             (static_cast<double>(i) + fraction) / static_cast<double>(paths.size()));
            },
            pbf);
        deleted += facts.deleted_left_out;
        date = older(date, facts.date);
        digest += (i == 0 ? "" : "+") + digest_of_file(paths[i]);
    }
    trim_memory();  // what the readers worked in
    RawMap map = collector.finish();
    require_roads(map, paths);
    BuildCounts counts(std::move(map.counts));
    counts.add("deleted objects", deleted);
    map.counts = counts.take();
    trim_memory();
    map.map_date = std::move(date);
    map.source_digest = std::move(digest);
    if (progress)
        progress("reading the extract", 1.0);
    return map;
}

RawMap read_extracts(std::span<const std::string> paths, const Progress& progress) {
    return read_extracts(paths, progress, PbfReader::direct);
}

RawMap read_extract(const std::string& path, const Progress& progress) {
    return read_extracts(std::span(&path, 1), progress);
}

}  // namespace loamway
