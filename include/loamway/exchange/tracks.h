// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_EXCHANGE_TRACKS_H
#define LOAMWAY_EXCHANGE_TRACKS_H

// A plan's option for navigators and map programs. An empty option id means the verdict's option; errors
// are those of Plan::option_for_output, and not_found for an option without a way.

#include <string>

#include "loamway/plan/plan.h"

namespace loamway {

/// GPX 1.1: a waypoint for each stop, one short route (start, turns, stops, end; at most 50 points), one
/// track with the whole way and planned UTC times, twice at each stop (arrival, leaving).
[[nodiscard]] std::string to_gpx(const Plan& plan, const std::string& option);

/// GeoJSON (RFC 7946): a LineString for each run of one surface, a Point for each stop.
[[nodiscard]] std::string to_geojson(const Plan& plan, const std::string& option);

/// KML 2.2: folders legs, stops, segments and flags, each feature with its facts and times.
[[nodiscard]] std::string to_kml(const Plan& plan, const std::string& option);

/// GeoPackage: layers legs, stops, segments and flags. Loads GDAL; an io Error without it.
[[nodiscard]] std::string to_geopackage(const Plan& plan, const std::string& option);

/// The stops as CSV, times in the region's zone.
[[nodiscard]] std::string to_stops_csv(const Plan& plan, const std::string& option);

}  // namespace loamway

#endif
