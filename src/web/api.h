// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_API_H
#define LOAMWAY_SRC_WEB_API_H

// What is asked under /api/1/: JSON in and out over the same desk, planner and reports as the commands. Keeps
// no state of its own between requests; corrections and the ledger are read anew for each. Safe to use from
// several threads at once.

#include <mutex>
#include <string>
#include <string_view>

#include "http.h"
#include "loamway/desk/shelf.h"
#include "loamway/region/region_stats.h"
#include "tile.h"

namespace loamway {

class Api {
public:
    /// The shelf must outlive it.
    explicit Api(const Shelf& shelf);

    /// Answers every path under /api/; an Error becomes its status and one line of JSON.
    void answer(const HttpRequest& request, Exchange& exchange);

private:
    struct Route;
    static const std::vector<Route>& routes();
    void dispatch(const HttpRequest& request, Exchange& exchange);

    // api_region.cpp: what there is
    void region(const HttpRequest& request, Exchange& exchange);
    void places(const HttpRequest& request, Exchange& exchange);
    void profiles(const HttpRequest& request, Exchange& exchange);
    void road(const HttpRequest& request, Exchange& exchange);
    void stop_places(const HttpRequest& request, Exchange& exchange);

    // api_picture.cpp: the region drawn by the server
    void map_picture(const HttpRequest& request, Exchange& exchange);

    // api_plan.cpp: moves, and what is handed over for them
    void plan(const HttpRequest& request, Exchange& exchange);
    void sheet(const HttpRequest& request, Exchange& exchange);
    void track(const HttpRequest& request, Exchange& exchange);
    void load(const HttpRequest& request, Exchange& exchange);
    void budget(const HttpRequest& request, Exchange& exchange);

    // api_local.cpp: corrections and the ledger
    void corrections(const HttpRequest& request, Exchange& exchange);
    void belts(const HttpRequest& request, Exchange& exchange);
    void moves(const HttpRequest& request, Exchange& exchange);

    // api_map.cpp: the map
    void tile(const HttpRequest& request, Exchange& exchange);

    const Shelf& m_shelf;
    RegionStats m_stats;
    TileMaker m_tiles;
};

}  // namespace loamway

#endif
