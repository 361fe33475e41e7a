// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/road_surface.h"

#include "loamway/base/error.h"

namespace loamway {

std::optional<RoadSurface> road_surface_named(std::string_view name) {
    if (name == name_of(SurfaceClass::hard))
        return RoadSurface::asphalt;
    for (std::size_t i = 0; i < road_surface_count; ++i)
        if (road_surface_names[i] == name)
            return static_cast<RoadSurface>(i);
    return std::nullopt;
}

RoadSurface road_surface_of(SurfaceClass c) {
    switch (c) {
        case SurfaceClass::hard:
            return RoadSurface::asphalt;
        case SurfaceClass::gravel:
            return RoadSurface::gravel;
        case SurfaceClass::earth:
            return RoadSurface::earth;
    }
    throw Error(ErrorKind::internal, "a surface class without a ground");
}

SurfaceClass class_of(RoadSurface s) {
    switch (s) {
        case RoadSurface::asphalt:
        case RoadSurface::concrete:
            return SurfaceClass::hard;
        case RoadSurface::gravel:
            return SurfaceClass::gravel;
        case RoadSurface::earth:
        case RoadSurface::field:
            return SurfaceClass::earth;
    }
    throw Error(ErrorKind::internal, "a ground without a surface class");
}

}  // namespace loamway
