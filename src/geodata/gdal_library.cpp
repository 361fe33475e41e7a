// SPDX-License-Identifier: Apache-2.0
// Loading GDAL. It brings some eighty libraries with it, whose start takes longer than a whole plan; so it is
// not linked but opened when a command first needs it.
#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_vsi.h>
#include <dlfcn.h>
#include <fmt/format.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include <string>

#include "gdal_functions.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr const char* library_name = LOAMWAY_GDAL_SONAME;  // what this program was compiled against

template <class Function>
void find(void* library, const char* name, Function& function) {
    void* const address = ::dlsym(library, name);
    if (address == nullptr)
        throw Error(ErrorKind::io, fmt::format("{} has no function {}", library_name, name),
                    "install the GDAL this program was built with");
    function = reinterpret_cast<Function>(address);
}

/// Nothing but the files named: no neighbours of a file, no side files, no network.
void restrict_reading(const GdalFunctions& f) {
    f.CPLSetConfigOption("GDAL_DISABLE_READDIR_ON_OPEN", "EMPTY_DIR");
    f.CPLSetConfigOption("GDAL_PAM_ENABLED", "NO");
    f.CPLSetConfigOption("GDAL_GEOREF_SOURCES", "INTERNAL");
    f.CPLSetConfigOption("CPL_CURL_ENABLE_VSIMEM", "NO");
    f.CPLSetConfigOption("GDAL_DRIVER_PATH", "disable");  // no plug-ins
    f.OSRSetPROJEnableNetwork(0);
    f.GDALSetCacheMax64(GIntBig{32} << 20);
}

GdalFunctions load() {
    void* const library = ::dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
    if (library == nullptr)
        throw Error(ErrorKind::io, fmt::format("the library GDAL cannot be loaded: {}", ::dlerror()),
                    fmt::format("install the package that holds {}", library_name));
    GdalFunctions f;
#define LOAMWAY_GDAL_FIND(name) find(library, #name, f.name);
    LOAMWAY_GDAL_FUNCTIONS(LOAMWAY_GDAL_FIND)
#undef LOAMWAY_GDAL_FIND
    restrict_reading(f);
    f.GDALAllRegister();
    return f;
}

}  // namespace

const GdalFunctions& gdal() {
    static const GdalFunctions functions = load();
    return functions;
}

QuietGdal::QuietGdal() {
    gdal().CPLPushErrorHandler(gdal().CPLQuietErrorHandler);
    gdal().CPLErrorReset();
}

QuietGdal::~QuietGdal() {
    gdal().CPLPopErrorHandler();
}

std::string QuietGdal::last_words() {
    const std::string words = gdal().CPLGetLastErrorMsg();
    return words.empty() ? "no reason given" : words;
}

}  // namespace loamway
