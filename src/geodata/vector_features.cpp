// SPDX-License-Identifier: Apache-2.0
#include "loamway/geodata/vector_features.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_vsi.h>
#include <fmt/format.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

#include "gdal_functions.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "plain_file.h"

namespace loamway {
namespace {

constexpr std::size_t most_features = 100000;
constexpr std::size_t most_points = 5000000;
constexpr int deepest_geometry = 4;

struct FileKind {
    std::string_view ending;
    const char* driver;
};
// Kinds of files that hold everything themselves; none of these drivers follows a name inside a file.
constexpr std::array<FileKind, 6> kinds{{{"gpkg", "GPKG"},
                                         {"shp", "ESRI Shapefile"},
                                         {"kml", "KML"},
                                         {"gpx", "GPX"},
                                         {"fgb", "FlatGeobuf"},
                                         {"csv", "CSV"}}};

const FileKind* kind_of(const std::string& path) {
    const std::string name = ascii_lower(name_of_file(path));
    const auto dot = name.rfind('.');
    if (dot == std::string::npos)
        return nullptr;
    const auto found = std::find_if(kinds.begin(), kinds.end(),
                                    [&](const FileKind& k) { return name.substr(dot + 1) == k.ending; });
    return found == kinds.end() ? nullptr : &*found;
}

using Handle = std::shared_ptr<void>;

Handle wgs84() {
    Handle srs(gdal().OSRNewSpatialReference(nullptr), gdal().OSRDestroySpatialReference);
    gdal().OSRSetWellKnownGeogCS(srs.get(), "WGS84");
    gdal().OSRSetAxisMappingStrategy(srs.get(), OAMS_TRADITIONAL_GIS_ORDER);
    return srs;
}

class VectorReader {
public:
    VectorReader(const std::string& path, const FileKind& kind) : m_path(path), m_csv(kind.ending == "csv") {
        const std::array<const char*, 2> drivers{kind.driver, nullptr};
        // Columns of a CSV that hold a position; other drivers know none of these options.
        const std::array<const char*, 4> csv_options{"X_POSSIBLE_NAMES=lon,longitude,x,lng",
                                                     "Y_POSSIBLE_NAMES=lat,latitude,y",
                                                     "KEEP_GEOM_COLUMNS=NO", nullptr};
        void* const dataset =
            gdal().GDALOpenEx(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY, drivers.data(),
                              m_csv ? csv_options.data() : nullptr, nullptr);
        if (dataset == nullptr)
            throw refusal(fmt::format("this is no {} file that can be read", kind.driver),
                          "save it again with the program it comes from");
        m_dataset = {dataset, [](void* d) {
                         const QuietGdal quiet;
                         gdal().GDALClose(d);
                     }};
    }

    std::vector<ReadFeature> read() {
        const int layers = gdal().GDALDatasetGetLayerCount(m_dataset.get());
        for (int i = 0; i < layers; ++i)
            read_layer(gdal().GDALDatasetGetLayer(m_dataset.get(), i));
        if (m_csv && m_number > 0 && m_features.empty())
            throw refusal("no row of this table has a position",
                          "give it columns lat and lon, in degrees (WGS84)");
        // A row left out in silence would come back as a place nobody knows.
        if (m_csv && m_without_position != 0)
            throw refusal(fmt::format("{} has no position", this_one(m_without_position)), numbers_hint);
        return std::move(m_features);
    }

private:
    [[nodiscard]] Error refusal(std::string what, std::string to_do) const {
        return {ErrorKind::input, std::move(what), std::move(to_do), {m_path, {}, {}}};
    }

    static constexpr const char* numbers_hint =
        "lat and lon are numbers in degrees (WGS84), with a point for decimals or in quotation marks";
    /// A table's first row names its columns.
    [[nodiscard]] std::string this_one(std::int64_t number) const {
        return m_csv ? fmt::format("row {}", number + 1) : fmt::format("feature {}", number);
    }

    void read_layer(void* layer) {
        if (layer == nullptr)
            throw refusal("a layer of this file cannot be read",
                          "save it again with the program it comes from");
        m_transform.reset();
        const auto next = [&] { return next_feature(layer); };
        for (Handle feature = next(); feature; feature = next()) {
            ++m_number;
            const OGRGeometryH geometry =
                gdal().OGR_F_GetGeometryRef(static_cast<OGRFeatureH>(feature.get()));
            if (geometry == nullptr) {
                if (m_without_position == 0)
                    m_without_position = m_number;
                continue;
            }
            if (!m_transform)
                m_transform = transformation(layer);
            ReadFeature out;
            out.number = m_number;
            add_geometry(geometry, out, 0);
            if (out.points.empty() && out.rings.empty())
                continue;
            add_attributes(static_cast<OGRFeatureH>(feature.get()), out);
            m_features.push_back(std::move(out));
            if (m_features.size() > most_features)
                throw Error(ErrorKind::limit,
                            fmt::format("the file has more than {} features", most_features),
                            "keep only those that are needed", {m_path, {}, {}});
        }
        if (const std::string words = gdal().CPLGetLastErrorMsg(); m_features.empty() && !words.empty())
            throw refusal("the file is damaged: " + printable(words), "save it again");
    }

    // A file that breaks off ends for GDAL like any other, with a word of the fault: what is missing must not
    // pass for what was never there.
    [[nodiscard]] Handle next_feature(void* layer) const {
        gdal().CPLErrorReset();
        Handle feature(gdal().OGR_L_GetNextFeature(static_cast<OGRLayerH>(layer)), [](void* f) {
            if (f != nullptr)
                gdal().OGR_F_Destroy(static_cast<OGRFeatureH>(f));
        });
        if (gdal().CPLGetLastErrorType() >= CE_Failure)
            throw refusal("the file is damaged: " + printable(QuietGdal::last_words()), "save it again");
        return feature;
    }

    Handle transformation(void* layer) const {
        void* const own = gdal().OGR_L_GetSpatialRef(static_cast<OGRLayerH>(layer));
        if (own == nullptr && !m_csv)
            throw refusal(
                "the file names no coordinate system",
                "save it in WGS84, or with its coordinate system (for a Shapefile the .prj beside it)");
        const Handle to = wgs84();
        Handle from = to;
        if (own != nullptr) {
            from = Handle(gdal().OSRClone(own), gdal().OSRDestroySpatialReference);
            gdal().OSRSetAxisMappingStrategy(from.get(), OAMS_TRADITIONAL_GIS_ORDER);
        }
        void* const made = gdal().OCTNewCoordinateTransformation(from.get(), to.get());
        if (made == nullptr)
            throw refusal("the file's coordinate system cannot be turned into WGS84", "save it in WGS84");
        return {made, [](void* t) {
                    gdal().OCTDestroyCoordinateTransformation(static_cast<OGRCoordinateTransformationH>(t));
                }};
    }

    [[nodiscard]] GeoPoint point(OGRGeometryH g, int i) {
        double x = gdal().OGR_G_GetX(g, i), y = gdal().OGR_G_GetY(g, i), z = 0;
        int reached = 0;
        if (std::isfinite(x) && std::isfinite(y))
            gdal().OCTTransformEx(static_cast<OGRCoordinateTransformationH>(m_transform.get()), 1, &x, &y, &z,
                                  &reached);
        if (reached == 0 || !std::isfinite(x) || !std::isfinite(y) || std::abs(y) > 90 || std::abs(x) > 180)
            throw refusal(fmt::format("{} has a position that is none on earth", this_one(m_number)),
                          m_csv ? numbers_hint : "check it in the program the file comes from");
        if (++m_points > most_points)
            throw Error(ErrorKind::limit, fmt::format("the file has more than {} points", most_points),
                        "keep only what is needed", {m_path, {}, {}});
        return GeoPoint::from_degrees(y, x);
    }

    void add_geometry(OGRGeometryH g, ReadFeature& out, int depth) {
        const auto type = static_cast<OGRwkbGeometryType>(
            static_cast<unsigned>(gdal().OGR_G_GetGeometryType(g)) & ~0x80000000u);
        const int flat = static_cast<int>(type) % 1000;
        if (flat == wkbPoint && gdal().OGR_G_GetPointCount(g) == 1) {
            out.points.push_back(point(g, 0));
        } else if (flat == wkbPolygon && gdal().OGR_G_GetGeometryCount(g) > 0) {
            const OGRGeometryH ring = gdal().OGR_G_GetGeometryRef(g, 0);
            std::vector<GeoPoint> line;
            for (int i = 0; i < gdal().OGR_G_GetPointCount(ring); ++i)
                line.push_back(point(ring, i));
            if (line.size() >= 4)
                out.rings.push_back(std::move(line));
        } else if ((flat == wkbMultiPoint || flat == wkbMultiPolygon || flat == wkbGeometryCollection) &&
                   depth < deepest_geometry) {
            for (int i = 0; i < gdal().OGR_G_GetGeometryCount(g); ++i)
                add_geometry(gdal().OGR_G_GetGeometryRef(g, i), out, depth + 1);
        }
    }

    void add_attributes(OGRFeatureH feature, ReadFeature& out) const {
        for (int i = 0; i < gdal().OGR_F_GetFieldCount(feature); ++i) {
            if (gdal().OGR_F_IsFieldSetAndNotNull(feature, i) == 0)
                continue;
            const std::string value = valid_utf8(gdal().OGR_F_GetFieldAsString(feature, i));
            if (!value.empty())
                out.attributes.emplace_back(
                    ascii_lower(gdal().OGR_Fld_GetNameRef(gdal().OGR_F_GetFieldDefnRef(feature, i))), value);
        }
    }

    std::string m_path;
    bool m_csv;
    Handle m_dataset, m_transform;
    std::int64_t m_number = 0;
    std::int64_t m_without_position = 0;  // the first of them; 0: none
    std::size_t m_points = 0;
    std::vector<ReadFeature> m_features;
};

}  // namespace

std::string ReadFeature::attribute(std::string_view name) const {
    for (const auto& [key, value] : attributes)
        if (key == name)
            return value;
    return {};
}

std::string_view vector_endings() {
    return "gpkg, shp, kml, gpx, fgb or csv";
}

bool is_vector_file(const std::string& path) {
    return kind_of(path) != nullptr;
}

std::vector<ReadFeature> read_vector_file(const std::string& path) {
    require_plain_file(path);
    const FileKind* kind = kind_of(path);
    if (kind == nullptr)
        throw Error(ErrorKind::input, "the ending of this file names no format that can be read",
                    fmt::format("there is {}", vector_endings()), {path, {}, {}});
    const QuietGdal quiet;
    return VectorReader(path, *kind).read();
}

}  // namespace loamway
