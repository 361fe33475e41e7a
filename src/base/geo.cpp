// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/geo.h"

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <GeographicLib/GeodesicLine.hpp>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <string>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr double radians = std::numbers::pi / 180.0;
constexpr double equatorial_radius = 6378137.0;  // WGS84
constexpr double flattening = 1.0 / 298.257223563;
constexpr double eccentricity2 = flattening * (2.0 - flattening);
// Beyond these the local radii are no longer good to a millionth and the geodesic takes over.
constexpr double longest_local_m = 10000.0;
constexpr double widest_local_deg = 3.0;

/// Degrees as doubles: for points between the fixed-point steps.
struct Degrees {
    double lat;
    double lon;
};

Degrees degrees(GeoPoint p) {
    return {p.lat(), p.lon()};
}

/// A longitude difference the short way round the date line, in [-180, 180].
double wrapped(double lon_difference) {
    if (lon_difference > 180.0)
        return lon_difference - 360.0;
    if (lon_difference < -180.0)
        return lon_difference + 360.0;
    return lon_difference;
}

/// Radii of curvature at a latitude.
struct Radii {
    double meridian;        // M
    double prime_vertical;  // N
    double cos_lat;
    double sin_lat;
};

Radii radii_at(double lat_deg) {
    const double s = std::sin(lat_deg * radians);
    const double w2 = 1.0 - eccentricity2 * s * s;
    const double n = equatorial_radius / std::sqrt(w2);
    return {n * (1.0 - eccentricity2) / w2, n, std::sqrt(std::max(0.0, 1.0 - s * s)), s};
}

/// sin(x) for |x| below 0.03, to 1e-13 of its value.
double small_sin(double x) {
    const double x2 = x * x;
    return x * (1.0 - x2 / 6.0 * (1.0 - x2 / 20.0));
}

const GeographicLib::Geodesic& wgs84() {
    return GeographicLib::Geodesic::WGS84();
}

bool is_narrow(double dlat, double dlon) {
    return std::abs(dlon) < widest_local_deg && std::abs(dlat) < 0.1;
}

/// The chord between the points by the half-angle formula of the sphere, with M northward and N eastward at
/// the middle latitude; then the arc over that chord. Nothing when the points are too far apart for it.
std::optional<double> local_distance(Degrees a, Degrees b, double dlat, double dlon) {
    if (!is_narrow(dlat, dlon))
        return std::nullopt;
    const Radii r = radii_at(0.5 * (a.lat + b.lat));
    const double half_lat = small_sin(0.5 * dlat * radians);
    const double half_lon = small_sin(0.5 * dlon * radians);
    const double north = 2.0 * r.meridian * half_lat;
    const double cos_product = std::max(0.0, r.cos_lat * r.cos_lat - half_lat * half_lat);
    const double east2 = 4.0 * r.prime_vertical * r.prime_vertical * cos_product * half_lon * half_lon;
    const double chord2 = north * north + east2;
    if (chord2 > longest_local_m * longest_local_m)
        return std::nullopt;
    const double mean_radius2 = r.meridian * r.prime_vertical;
    return std::sqrt(chord2) * (1.0 + chord2 / (24.0 * mean_radius2));
}

double distance_m(Degrees a, Degrees b) {
    const double dlat = b.lat - a.lat;
    const double dlon = wrapped(b.lon - a.lon);
    if (const auto local = local_distance(a, b, dlat, dlon))
        return *local;
    // A fixed order of the two makes the distance exactly the same both ways.
    if (a.lat > b.lat || (a.lat == b.lat && a.lon > b.lon))
        std::swap(a, b);
    double metres = 0.0;
    wgs84().Inverse(a.lat, a.lon, b.lat, b.lon, metres);
    return metres;
}

Degrees between(Degrees a, Degrees b, double fraction) {
    double lon = a.lon + fraction * wrapped(b.lon - a.lon);
    if (lon > 180.0)
        lon -= 360.0;
    else if (lon < -180.0)
        lon += 360.0;
    return {a.lat + fraction * (b.lat - a.lat), lon};
}

bool is_local(GeoPoint a, GeoPoint b) {
    return local_distance(degrees(a), degrees(b), b.lat() - a.lat(), wrapped(b.lon() - a.lon())).has_value();
}

GeoPoint rounded(Degrees d) {
    return GeoPoint::from_degrees(d.lat, d.lon);
}

struct Foot {
    double distance;
    double fraction;
    Degrees point;
};

/// The foot of the perpendicular on a plane that touches the ellipsoid where the segment is nearest to p's
/// latitude. The distance is then measured on the ellipsoid.
Foot foot_on_short(Degrees p, Degrees a, Degrees b) {
    const Radii r = radii_at(std::clamp(p.lat, std::min(a.lat, b.lat), std::max(a.lat, b.lat)));
    const double east = r.prime_vertical * r.cos_lat * radians;
    const double north = r.meridian * radians;
    const double ax = wrapped(p.lon - a.lon) * east;
    const double ay = (p.lat - a.lat) * north;
    const double bx = wrapped(b.lon - a.lon) * east;
    const double by = (b.lat - a.lat) * north;
    const double length2 = bx * bx + by * by;
    const double fraction = length2 > 0.0 ? std::clamp((ax * bx + ay * by) / length2, 0.0, 1.0) : 0.0;
    const Degrees foot = between(a, b, fraction);
    return {distance_m(p, foot), fraction, foot};
}

/// The best foot on `pieces` equal pieces of the part of a geodesic between two fractions of its length.
Foot foot_on_pieces(Degrees p, const GeographicLib::GeodesicLine& line, double from, double to, int pieces) {
    const auto position = [&](double fraction) {
        Degrees d{};
        line.Position(line.Distance() * fraction, d.lat, d.lon);
        return d;
    };
    Foot best{0.0, -1.0, {}};
    Degrees start = position(from);
    const double step = (to - from) / pieces;
    for (int i = 0; i < pieces; ++i) {
        const Degrees end = position(from + step * (i + 1));
        const Foot foot = foot_on_short(p, start, end);
        if (best.fraction < 0.0 || foot.distance < best.distance)
            best = {foot.distance, from + step * (i + foot.fraction), foot.point};
        start = end;
    }
    return best;
}

/// A long straight (a ferry, as a rule) is cut into pieces of its geodesic. A straight of 9 km on the plane
/// lies up to some metres beside the geodesic, so the pieces around the best one are cut again, finely.
Foot foot_on_long(Degrees p, Degrees a, Degrees b) {
    const GeographicLib::GeodesicLine line = wgs84().InverseLine(a.lat, a.lon, b.lat, b.lon);
    const int pieces = std::max(1, static_cast<int>(std::ceil(line.Distance() / (0.9 * longest_local_m))));
    const double around = 1.0 / pieces;
    const Foot coarse = foot_on_pieces(p, line, 0.0, 1.0, pieces);
    Foot fine = foot_on_pieces(p, line, std::max(0.0, coarse.fraction - around),
                               std::min(1.0, coarse.fraction + around), 64);
    fine.fraction = std::clamp(fine.fraction, 0.0, 1.0);
    return fine;
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// A plain decimal number that fills the text: no exponent, no "nan", no locale.
std::optional<double> plain_decimal(std::string_view text) {
    if (text.starts_with('+') && !text.starts_with("+-"))
        text.remove_prefix(1);
    if (text.empty() || text.find_first_not_of("-.0123456789") != std::string_view::npos)
        return std::nullopt;
    double value = 0.0;
    const auto [end, problem] =
        std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    if (problem != std::errc() || end != text.data() + text.size())
        return std::nullopt;
    return value;
}

}  // namespace

GeoPoint GeoPoint::from_degrees(double lat, double lon) {
    if (!(std::abs(lat) <= 90.0) || !(std::abs(lon) <= 180.0))
        throw Error(ErrorKind::internal, fmt::format("a point at {},{} is not on the globe", lat, lon));
    return {static_cast<std::int32_t>(std::llround(lat * 1e7)),
            static_cast<std::int32_t>(std::llround(lon * 1e7))};
}

std::optional<GeoPoint> parse_lat_lon(std::string_view text) {
    const auto comma = text.find(',');
    if (comma == std::string_view::npos)
        return std::nullopt;
    const std::string_view lat_text = trimmed(text.substr(0, comma));
    const std::string_view lon_text = trimmed(text.substr(comma + 1));
    const auto lat = plain_decimal(lat_text);
    const auto lon = plain_decimal(lon_text);
    if (!lat || !lon)
        return std::nullopt;
    const std::string form = "write LAT,LON in degrees";
    if (std::abs(*lat) > 90.0) {
        const std::string swapped = std::abs(*lon) <= 90.0 ? "; are the two swapped?" : "";
        throw Error(ErrorKind::input, fmt::format("latitude {} is outside -90..90", lat_text),
                    form + swapped);
    }
    if (std::abs(*lon) > 180.0)
        throw Error(ErrorKind::input, fmt::format("longitude {} is outside -180..180", lon_text), form);
    return GeoPoint::from_degrees(*lat, *lon);
}

Length distance(GeoPoint a, GeoPoint b) {
    return Length::from_metres(distance_m(degrees(a), degrees(b)));
}

Length polyline_length(std::span<const GeoPoint> points) {
    Length sum;
    for (std::size_t i = 1; i < points.size(); ++i)
        sum += distance(points[i - 1], points[i]);
    return sum;
}

Length distance_lower_bound(GeoPoint a, GeoPoint b) {
    // Nowhere is a radius of curvature of the ellipsoid smaller than that of its meridian at the equator, so
    // that no path on it is shorter than the same degrees on a sphere of that radius.
    constexpr double smallest_radius_m = 6335439.327;
    const double north = std::sin(0.5 * (b.lat() - a.lat()) * radians);
    const double east = std::sin(0.5 * (b.lon() - a.lon()) * radians);
    const double h = north * north + std::cos(a.lat() * radians) * std::cos(b.lat() * radians) * east * east;
    return Length::from_metres(2.0 * smallest_radius_m * std::asin(std::min(1.0, std::sqrt(h))));
}

double bearing_deg(GeoPoint a, GeoPoint b) {
    if (a == b)
        return 0.0;
    double bearing = 0.0;
    if (is_local(a, b)) {
        const Radii r = radii_at(0.5 * (a.lat() + b.lat()));
        const double dlon = wrapped(b.lon() - a.lon());
        const double east = r.prime_vertical * r.cos_lat * dlon;
        const double north = r.meridian * (b.lat() - a.lat());
        // The plane gives the direction in the middle; meridians have turned by half the convergence since a.
        bearing = std::atan2(east, north) / radians - 0.5 * dlon * r.sin_lat;
    } else {
        double at_end = 0.0;
        wgs84().Inverse(a.lat(), a.lon(), b.lat(), b.lon(), bearing, at_end);
    }
    if (bearing < 0.0)
        bearing += 360.0;
    return bearing >= 360.0 ? bearing - 360.0 : bearing;
}

double turn_deg(double bearing_in, double bearing_out) {
    const double turn = std::fmod(bearing_out - bearing_in, 360.0);
    if (turn <= -180.0)
        return turn + 360.0;
    return turn > 180.0 ? turn - 360.0 : turn;
}

GeoPoint interpolate(GeoPoint a, GeoPoint b, double fraction) {
    if (fraction <= 0.0)
        return a;
    if (fraction >= 1.0)
        return b;
    if (is_local(a, b))
        return rounded(between(degrees(a), degrees(b), fraction));
    const GeographicLib::GeodesicLine line = wgs84().InverseLine(a.lat(), a.lon(), b.lat(), b.lon());
    Degrees at{};
    line.Position(line.Distance() * fraction, at.lat, at.lon);
    return rounded(at);
}

Projection project(GeoPoint p, GeoPoint a, GeoPoint b) {
    const Foot foot = is_local(a, b) ? foot_on_short(degrees(p), degrees(a), degrees(b))
                                     : foot_on_long(degrees(p), degrees(a), degrees(b));
    return {Length::from_metres(foot.distance), foot.fraction, 0, rounded(foot.point)};
}

Projection project(GeoPoint p, std::span<const GeoPoint> line) {
    if (line.empty())
        throw Error(ErrorKind::internal, "a line without points has no nearest point");
    Projection best{distance(p, line.front()), 0.0, 0, line.front()};
    for (std::size_t i = 1; i < line.size(); ++i) {
        Projection next = project(p, line[i - 1], line[i]);
        if (next.distance < best.distance) {
            next.segment = i - 1;
            best = next;
        }
    }
    return best;
}

}  // namespace loamway
