// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GEODATA_GDAL_FUNCTIONS_H
#define LOAMWAY_SRC_GEODATA_GDAL_FUNCTIONS_H

// The functions of GDAL that this part calls, as pointers filled when the library is first needed. Each is
// typed by its declaration in GDAL's own C headers, which a .cpp file includes before this header; so the
// compiler checks every call as if the library were linked. A new function is one more line of the list.

#define LOAMWAY_GDAL_FUNCTIONS(F)         \
    F(CPLSetConfigOption)                 \
    F(CPLPushErrorHandler)                \
    F(CPLPopErrorHandler)                 \
    F(CPLQuietErrorHandler)               \
    F(CPLErrorReset)                      \
    F(CPLGetLastErrorMsg)                 \
    F(CPLGetLastErrorType)                \
    F(GDALAllRegister)                    \
    F(GDALSetCacheMax64)                  \
    F(GDALOpenEx)                         \
    F(GDALClose)                          \
    F(GDALGetRasterCount)                 \
    F(GDALGetRasterXSize)                 \
    F(GDALGetRasterYSize)                 \
    F(GDALGetGeoTransform)                \
    F(GDALInvGeoTransform)                \
    F(GDALGetSpatialRef)                  \
    F(GDALGetRasterBand)                  \
    F(GDALGetRasterDataType)              \
    F(GDALDataTypeIsComplex)              \
    F(GDALGetBlockSize)                   \
    F(GDALGetRasterNoDataValue)           \
    F(GDALGetRasterScale)                 \
    F(GDALGetRasterOffset)                \
    F(GDALGetRasterUnitType)              \
    F(GDALGetRasterColorTable)            \
    F(GDALRasterIO)                       \
    F(OSRNewSpatialReference)             \
    F(OSRDestroySpatialReference)         \
    F(OSRClone)                           \
    F(OSRSetWellKnownGeogCS)              \
    F(OSRSetAxisMappingStrategy)          \
    F(OSRStripVertical)                   \
    F(OSRIsGeographic)                    \
    F(OSRIsProjected)                     \
    F(OSRSetPROJEnableNetwork)            \
    F(OCTNewCoordinateTransformation)     \
    F(OCTDestroyCoordinateTransformation) \
    F(GDALDatasetGetLayerCount)           \
    F(GDALDatasetGetLayer)                \
    F(OGR_L_GetNextFeature)               \
    F(OGR_L_GetSpatialRef)                \
    F(OGR_F_GetGeometryRef)               \
    F(OGR_F_GetFieldCount)                \
    F(OGR_F_GetFieldDefnRef)              \
    F(OGR_F_IsFieldSetAndNotNull)         \
    F(OGR_F_GetFieldAsString)             \
    F(OGR_Fld_GetNameRef)                 \
    F(OGR_G_GetGeometryType)              \
    F(OGR_G_GetGeometryCount)             \
    F(OGR_G_GetGeometryRef)               \
    F(OGR_G_GetPointCount)                \
    F(OGR_G_GetX)                         \
    F(OGR_G_GetY)                         \
    F(OCTTransformEx)                     \
    F(CPLSetThreadLocalConfigOption)      \
    F(VSIGetMemFileBuffer)                \
    F(VSIUnlink)                          \
    F(GDALGetDriverByName)                \
    F(GDALCreate)                         \
    F(GDALFlushCache)                     \
    F(GDALDatasetCreateLayer)             \
    F(OGR_Fld_Create)                     \
    F(OGR_Fld_Destroy)                    \
    F(OGR_Fld_SetSubType)                 \
    F(OGR_L_CreateField)                  \
    F(OGR_L_GetLayerDefn)                 \
    F(OGR_L_CreateFeature)                \
    F(OGR_F_Create)                       \
    F(OGR_F_Destroy)                      \
    F(OGR_F_SetFieldNull)                 \
    F(OGR_F_SetFieldString)               \
    F(OGR_F_SetFieldInteger)              \
    F(OGR_F_SetFieldInteger64)            \
    F(OGR_F_SetFieldDouble)               \
    F(OGR_F_SetFieldDateTime)             \
    F(OGR_F_SetGeometryDirectly)          \
    F(OGR_G_CreateGeometry)               \
    F(OGR_G_AddPoint_2D)                  \
    F(OGR_G_AddGeometryDirectly)

namespace loamway {

struct GdalFunctions {
#define LOAMWAY_GDAL_POINTER(name) decltype(&::name) name = nullptr;
    LOAMWAY_GDAL_FUNCTIONS(LOAMWAY_GDAL_POINTER)
#undef LOAMWAY_GDAL_POINTER
};

/// Loads the library on the first call. Thread-safe. An io Error in one line when it is missing or too old.
[[nodiscard]] const GdalFunctions& gdal();

/// While one lives, GDAL prints nothing on this thread; what it would have said is kept for the message.
class QuietGdal {
public:
    QuietGdal();
    QuietGdal(const QuietGdal&) = delete;
    QuietGdal& operator=(const QuietGdal&) = delete;
    ~QuietGdal();
    /// GDAL's last words, or "no reason given".
    [[nodiscard]] static std::string last_words();
};

}  // namespace loamway

#endif
