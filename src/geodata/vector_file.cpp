// SPDX-License-Identifier: Apache-2.0
#include "loamway/geodata/vector_file.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_vsi.h>
#include <fmt/format.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include <array>
#include <atomic>
#include <memory>
#include <type_traits>

#include "gdal_functions.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

[[noreturn]] void failed(std::string_view what) {
    throw Error(ErrorKind::io,
                fmt::format("the GeoPackage cannot be made: {}: {}", what, QuietGdal::last_words()));
}

/// A file that GDAL writes in memory: nothing half-made ever lies on the disk.
class MemoryFile {
public:
    MemoryFile() {
        static std::atomic<std::uint64_t> count{0};
        m_path = fmt::format("/vsimem/loamway-{}.gpkg", count.fetch_add(1));
    }
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;
    ~MemoryFile() { static_cast<void>(gdal().VSIUnlink(m_path.c_str())); }
    [[nodiscard]] const char* path() const { return m_path.c_str(); }
    [[nodiscard]] std::string bytes() const {
        vsi_l_offset size = 0;
        const GByte* data = gdal().VSIGetMemFileBuffer(m_path.c_str(), &size, FALSE);
        if (data == nullptr)
            failed("nothing was written");
        return {reinterpret_cast<const char*>(data), static_cast<std::size_t>(size)};
    }

private:
    std::string m_path;
};

/// The date GDAL writes instead of the clock's, on this thread.
class FixedDate {
public:
    explicit FixedDate(Instant date) {
        gdal().CPLSetThreadLocalConfigOption("OGR_CURRENT_DATE", format_rfc3339(date, TimeZone()).c_str());
    }
    FixedDate(const FixedDate&) = delete;
    FixedDate& operator=(const FixedDate&) = delete;
    ~FixedDate() { gdal().CPLSetThreadLocalConfigOption("OGR_CURRENT_DATE", nullptr); }
};

struct CloseDataset {
    void operator()(void* d) const { gdal().GDALClose(d); }
};
struct FreeReference {
    void operator()(OGRSpatialReferenceH r) const { gdal().OSRDestroySpatialReference(r); }
};
struct FreeFeature {
    void operator()(OGRFeatureH f) const { gdal().OGR_F_Destroy(f); }
};
struct FreeFieldDefinition {
    void operator()(OGRFieldDefnH f) const { gdal().OGR_Fld_Destroy(f); }
};
using Dataset = std::unique_ptr<void, CloseDataset>;
using Reference = std::unique_ptr<std::remove_pointer_t<OGRSpatialReferenceH>, FreeReference>;
using Feature = std::unique_ptr<std::remove_pointer_t<OGRFeatureH>, FreeFeature>;
using FieldDefinition = std::unique_ptr<std::remove_pointer_t<OGRFieldDefnH>, FreeFieldDefinition>;

void add_field(OGRLayerH layer, const VectorField& field) {
    OGRFieldType type = OFTString;
    switch (field.kind) {
        case FieldKind::text:
            break;
        case FieldKind::whole:
            type = OFTInteger64;
            break;
        case FieldKind::number:
            type = OFTReal;
            break;
        case FieldKind::truth:
            type = OFTInteger;
            break;
        case FieldKind::time:
            type = OFTDateTime;
            break;
    }
    const FieldDefinition definition(gdal().OGR_Fld_Create(field.name.c_str(), type));
    if (field.kind == FieldKind::truth)
        gdal().OGR_Fld_SetSubType(definition.get(), OFSTBoolean);
    if (gdal().OGR_L_CreateField(layer, definition.get(), FALSE) != OGRERR_NONE)
        failed("a field");
}

struct SetField {
    OGRFeatureH feature;
    int index;
    void operator()(std::monostate) const { gdal().OGR_F_SetFieldNull(feature, index); }
    void operator()(const std::string& v) const {
        gdal().OGR_F_SetFieldString(feature, index, printable(v).c_str());
    }
    void operator()(std::int64_t v) const { gdal().OGR_F_SetFieldInteger64(feature, index, v); }
    void operator()(double v) const { gdal().OGR_F_SetFieldDouble(feature, index, v); }
    void operator()(bool v) const { gdal().OGR_F_SetFieldInteger(feature, index, v ? 1 : 0); }
    void operator()(Instant v) const {
        const LocalTime t = TimeZone().local(v);
        constexpr int utc = 100;  // GDAL's mark
        gdal().OGR_F_SetFieldDateTime(feature, index, t.year, t.month, t.day, t.hour, t.minute, t.second,
                                      utc);
    }
};

void add_points(OGRGeometryH geometry, const std::vector<GeoPoint>& points) {
    for (const GeoPoint p : points)
        gdal().OGR_G_AddPoint_2D(geometry, p.lon(), p.lat());
}

/// The feature takes the geometry over.
OGRGeometryH geometry_of(const VectorFeature& f, ShapeKind shape) {
    if (f.lines.empty())
        return nullptr;
    if (shape == ShapeKind::point) {
        OGRGeometryH point = gdal().OGR_G_CreateGeometry(wkbPoint);
        add_points(point, f.lines.front());
        return point;
    }
    OGRGeometryH all = gdal().OGR_G_CreateGeometry(wkbMultiLineString);
    for (const auto& line : f.lines) {
        OGRGeometryH part = gdal().OGR_G_CreateGeometry(wkbLineString);
        add_points(part, line);
        gdal().OGR_G_AddGeometryDirectly(all, part);
    }
    return all;
}

void write_layer(GDALDatasetH dataset, const VectorLayer& layer, OGRSpatialReferenceH wgs84) {
    const std::string title = fmt::format("DESCRIPTION={}", printable(layer.title));
    std::array<char*, 2> options{const_cast<char*>(title.c_str()), nullptr};
    OGRLayerH out = gdal().GDALDatasetCreateLayer(
        dataset, layer.name.c_str(), wgs84, layer.shape == ShapeKind::point ? wkbPoint : wkbMultiLineString,
        options.data());
    if (out == nullptr)
        failed("a layer");
    for (const VectorField& field : layer.fields)
        add_field(out, field);
    OGRFeatureDefnH definition = gdal().OGR_L_GetLayerDefn(out);
    for (const VectorFeature& f : layer.features) {
        const Feature feature(gdal().OGR_F_Create(definition));
        for (std::size_t i = 0; i < f.values.size() && i < layer.fields.size(); ++i)
            std::visit(SetField{feature.get(), static_cast<int>(i)}, f.values[i]);
        if (OGRGeometryH geometry = geometry_of(f, layer.shape))
            gdal().OGR_F_SetGeometryDirectly(feature.get(), geometry);
        if (gdal().OGR_L_CreateFeature(out, feature.get()) != OGRERR_NONE)
            failed("a feature");
    }
}

}  // namespace

std::string geopackage(std::span<const VectorLayer> layers, Instant date) {
    const QuietGdal quiet;
    const FixedDate fixed(date);
    const MemoryFile file;
    GDALDriverH driver = gdal().GDALGetDriverByName("GPKG");
    if (driver == nullptr)
        throw Error(ErrorKind::io, "this GDAL cannot write GeoPackages",
                    "install a GDAL with its GPKG driver");
    {
        const Dataset dataset(gdal().GDALCreate(driver, file.path(), 0, 0, 0, GDT_Unknown, nullptr));
        if (!dataset)
            failed("the file");
        const Reference wgs84(gdal().OSRNewSpatialReference(nullptr));
        gdal().OSRSetWellKnownGeogCS(wgs84.get(), "WGS84");
        gdal().OSRSetAxisMappingStrategy(wgs84.get(), OAMS_TRADITIONAL_GIS_ORDER);
        for (const VectorLayer& layer : layers)
            write_layer(dataset.get(), layer, wgs84.get());
        gdal().GDALFlushCache(dataset.get());
    }
    return file.bytes();
}

}  // namespace loamway
