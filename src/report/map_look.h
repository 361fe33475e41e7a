// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_MAP_LOOK_H
#define LOAMWAY_SRC_REPORT_MAP_LOOK_H

// What a map's ground, roads and way are drawn with: on paper, on a screen by day, on a screen in a dark cab.

#include <array>

#include "loamway/report/canvas.h"
#include "sheet_style.h"

namespace loamway {

struct MapLook {
    Ink paper = white_ink, forest = shade::forest, built_up = shade::built_up, water = shade::water,
        water_line = shade::water_line, building = Ink::grey(0.72), railway = Ink::grey(0.3);
    /// By rank; where the surface is to be seen, by surface instead.
    std::array<Ink, 6> roads{Ink::grey(0.45), Ink::grey(0.50), Ink::grey(0.55),
                             Ink::grey(0.58), Ink::grey(0.62), Ink::grey(0.68)};
    bool by_surface = false;
    std::array<Ink, 3> surfaces{};
    Ink ink = shade::ink, name = Ink::grey(0.22);
    Ink way = shade::ink, way_edge = white_ink;  // and the way's core on gravel, on earth or a low-bed
    Ink gravel_core = shade::gravel, bare_core = white_ink;
    /// Letters' edges are white: a light ground's alone.
    double halo = 1;
};

inline constexpr MapLook paper_look{};

inline constexpr MapLook day_look = [] {
    MapLook look;
    look.paper = {0.985, 0.98, 0.965, 1};
    look.by_surface = true;
    look.surfaces = {Ink{0.34, 0.34, 0.38, 1}, Ink{0.78, 0.55, 0.18, 1}, Ink{0.52, 0.33, 0.17, 1}};
    return look;
}();

// Nothing on it is brighter than the way: eyes stay used to the dark.
inline constexpr MapLook night_look = [] {
    MapLook look;
    look.paper = {0.04, 0.035, 0.03, 1};
    look.forest = {0.06, 0.085, 0.05, 1};
    look.built_up = {0.125, 0.105, 0.09, 1};
    look.water = {0.04, 0.09, 0.14, 1};
    look.water_line = {0.14, 0.30, 0.44, 1};
    look.building = {0.22, 0.185, 0.15, 1};
    look.railway = {0.40, 0.36, 0.32, 1};
    look.by_surface = true;
    look.surfaces = {Ink{0.52, 0.50, 0.50, 1}, Ink{0.60, 0.45, 0.20, 1}, Ink{0.46, 0.30, 0.18, 1}};
    look.ink = {0.88, 0.64, 0.35, 1};
    look.name = {0.80, 0.68, 0.52, 1};
    look.way = {1, 0.78, 0.36, 1};
    look.way_edge = {0, 0, 0, 1};
    look.gravel_core = {0.50, 0.33, 0.10, 1};
    look.bare_core = {0.04, 0.035, 0.03, 1};
    look.halo = 0;
    return look;
}();

}  // namespace loamway

#endif
